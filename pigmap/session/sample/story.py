"""The sample farm as the edits that people would have made, in the order in which they made them."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from itertools import groupby

from pigmap.records import Edit, Farm, Image, Record, RowChange, Setting, add
from pigmap.session.sample.animals import group_events, groups
from pigmap.session.sample.before import ground_jobs
from pigmap.session.sample.books import books
from pigmap.session.sample.energizers import energizers, readings
from pigmap.session.sample.ground import fields, paddocks, purposes, surroundings
from pigmap.session.sample.history import checks, stays
from pigmap.session.sample.ids import uid
from pigmap.session.sample.lattice import ALL_SQUARES
from pigmap.session.sample.nets import net_kinds, net_uses, nets
from pigmap.session.sample.site import Site, projection
from pigmap.session.sample.timeline import Visit, visits
from pigmap.session.sample.weather import weather_days
from pigmap.text import Text

FARM_NAME = "Ridge Farm"
NOTE = (
    "An invented farm to try things on, written by pigmap itself. "
    "No such place, pigs, weights, readings or weather exist."
)
IMAGE_FILE = "aerial.tif"


def story(site: Site, today: date) -> Iterator[Edit]:
    """Yield the edits that make the sample farm of a day; the name of the farm is not among them."""
    walked = visits(today)
    begun = [visit for visit in walked if visit.in_on <= today]
    coming = [visit for visit in walked if visit.in_on > today]
    yield _adds(Text("Image linked."), [*_settings(), _image()])
    yield _adds(Text("Fields drawn."), [*fields(site), *purposes()])
    yield _adds(Text("What was before told."), ground_jobs(site, fields(site), today))
    yield _adds(Text("Keep-outs, ways and places drawn."), surroundings(site))
    yield _adds(Text("Net stock counted."), [*net_kinds(), *nets(today)])
    yield _adds(Text("Groups added."), groups())
    yield _adds(Text("Energizers told of."), [*energizers(today), *readings(today)])
    yield _adds(Text("Paddocks laid out."), paddocks(site, ALL_SQUARES))
    yield _adds(Text("Weights written up."), group_events(today))
    yield _adds(Text("Books written up."), books(today))
    yield _adds(Text("Weather taken in."), weather_days(today))
    yield from _seasons(site, begun, walked, today)
    yield _adds(Text("Next weeks planned."), stays(site, coming, today))


def sample_farm(today: date) -> Farm:
    """Return the sample farm without any file: the same rows that `write_sample` writes."""
    site = Site(projection())
    name = Setting(uid=uid("setting", "farm name"), key="farm name", value_json=json.dumps(FARM_NAME))
    farm = Farm(document_uid=uid("document"), projection=site.projection).after([add(name)])
    for edit in story(site, today):
        farm = farm.after(edit(farm))
    return farm


def _seasons(site: Site, begun: Sequence[Visit], walked: Sequence[Visit], today: date) -> Iterator[Edit]:
    uses = list(net_uses(site, walked, today))
    for (year, season), kept in groupby(begun, key=lambda visit: _season(visit.in_on)):
        part = list(kept)
        set_here = [use for use in uses if _season(use.set_on) == (year, season)]
        label = Text("{season} written up.", {"season": Text(season, {"year": str(year)})})
        yield _adds(label, [*stays(site, part, today), *set_here, *checks(site, part, today)])


def _season(day: date) -> tuple[int, str]:
    names = ("Winter {year}", "Spring {year}", "Summer {year}", "Autumn {year}")
    return day.year + (day.month == 12), names[day.month % 12 // 3]


def _settings() -> Iterator[Setting]:
    for key, value in (("note", NOTE), ("sample", True), ("units", "metric")):
        yield Setting(uid=uid("setting", key), key=key, value_json=json.dumps(value))


def _image() -> Image:
    return Image(uid=uid("image"), name="Aerial image", link=IMAGE_FILE, note="Invented, drawn by pigmap.")


def _adds(label: Text, rows: Iterable[Record]) -> Edit:
    kept = list(rows)

    def changes(farm: Farm) -> Sequence[RowChange]:
        return [add(row) for row in kept]

    return Edit(label, changes, can_undo=False)
