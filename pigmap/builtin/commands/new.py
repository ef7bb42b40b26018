"""The command ``new``: makes a farm from outlines, images, heights and weather."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from pigmap.cli.places import told_place
from pigmap.cli.printing import Row, add_json, print_rows, say
from pigmap.document.edits import add_weather, link_image
from pigmap.document.incoming import IncomingLayer
from pigmap.drawing.words import render
from pigmap.errors import OutlineError, UsageError
from pigmap.geometry.coordinates import LON_LAT
from pigmap.geometry.projection import Bounds, is_metric, is_utm, moved_bounds, projection_for
from pigmap.imagery.facts import ImageFacts
from pigmap.imagery.terrain import TerrainFacts, vet_terrain
from pigmap.imagery.where import called
from pigmap.plugins import Registry
from pigmap.records import Projection
from pigmap.records.frozen import dataclass
from pigmap.session import Session
from pigmap.session.brought import format_for
from pigmap.session.brought_images import BroughtImages, bring_images, name_of
from pigmap.session.brought_terrain import said_of_terrain, terrain_linked
from pigmap.session.images import image_link, images_of
from pigmap.session.intake import Taken, area_of, bounds_of, far_apart, fields_added, middle_of, take_outlines
from pigmap.session.taking_in.reading import layers_in
from pigmap.store.opening import refuse_taken
from pigmap.text import Text
from pigmap.weather.daily_file import DailyFile, read_daily_file

COLUMNS = ("file", "row", "name", "result", "area", "words")


@dataclass(frozen=True, slots=True)
class Brought:
    """What was brought, read and vetted; no farm is made of it yet."""

    layer: IncomingLayer | None
    layer_crs: str
    images: BroughtImages
    weather: DailyFile | None
    terrain: TerrainFacts | None
    file: str = ""
    """What the file of the outlines is called."""
    other_layers: tuple[str, ...] = ()
    """Layers of that file that hold something and are not taken."""


class NewCommand:
    """Makes a farm; images stay where they are and are linked."""

    api = 1
    name = "new"
    summary = "makes a farm from outlines, images and weather"

    def options(self, parser: argparse.ArgumentParser) -> None:
        """Declare the farm and what it is made from."""
        parser.add_argument("farm", metavar="FARM", type=Path, help="the farm file to make, ending in .gpkg")
        parser.add_argument("--fields", metavar="FILE", type=Path, help="outlines in any usual format, also zipped")
        parser.add_argument(
            "--layer", metavar="NAME", default="", help="which layer; the first with areas if not given"
        )
        images = "an aerial image, a zip of some, or an address on the web; may be repeated"
        parser.add_argument("--image", metavar="FILE", type=Path, action="append", default=[], help=images)
        parser.add_argument("--terrain", metavar="FILE", type=Path, help="an image of heights, for slope")
        parser.add_argument(
            "--weather", metavar="FILE", type=Path, help="a table with date, rain [mm], tmin and tmax [°C]"
        )
        parser.add_argument("--crs", metavar="EPSG:N", default="", help="the farm's metric projection")
        parser.add_argument("--at", metavar="LAT,LON", default="", help="where the farm is, if nothing else says so")
        parser.add_argument(
            "--name", metavar="NAME", default="", help="what the farm is called; its file's name if not given"
        )
        add_json(parser)

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        """Make it."""
        _need_new(given.farm)
        brought = _brought(given, registry)
        projection = _projection(given, brought)
        taken = take_outlines(brought.layer, brought.layer_crs, projection) if brought.layer else ()
        _need_fields(given, taken)
        name = " ".join((given.name or "").split()) or given.farm.stem  # a name is one line everywhere
        with Session.create(given.farm, projection, name, registry=registry) as session:
            _put_in(session, given, brought, taken)
            rows = [*_field_rows(given, taken, projection), *_file_rows(given, session, brought)]
            if rows or given.json:
                print_rows(COLUMNS, rows, as_json=given.json)
            for words in _remarks(session, brought, taken):
                sys.stderr.write(f"{render(words)}\n")
            if not given.json:
                say(_made(session))
        return 0


def _need_new(farm: Path) -> None:
    """Refuse a name that is no farm file's or is taken, before anything is read."""
    if farm.suffix.lower() != ".gpkg":
        raise UsageError(
            "{file} does not end in .gpkg, so it is no name for a farm file.",
            remedy="Name it {file}.gpkg.",
            file=farm.name,
        )
    refuse_taken(farm)


def _brought(given: argparse.Namespace, registry: Registry) -> Brought:
    layer, layer_crs = None, ""
    if given.fields is not None:
        layer = format_for(given.fields, registry).read(given.fields, given.layer)
        layer_crs = layer.crs or given.crs
        if not layer_crs:
            raise OutlineError(
                "{file} does not say in which coordinate system its outlines are.",
                remedy="Put its .prj file beside it, or name the system with --crs EPSG:N.",
                file=given.fields.name,
            )
    return Brought(
        layer=layer,
        layer_crs=layer_crs,
        file=given.fields.name if given.fields is not None else "",
        other_layers=_others(given, registry, layer) if layer is not None and not given.layer else (),
        images=_images(given.image),
        weather=read_daily_file(given.weather) if given.weather is not None else None,
        terrain=vet_terrain(given.terrain) if given.terrain is not None else None,
    )


def _others(given: argparse.Namespace, registry: Registry, layer: IncomingLayer) -> tuple[str, ...]:
    """Return the layers of the file that hold something and are not taken."""
    form = format_for(given.fields, registry)
    names = [name for name in layers_in(form, given.fields) if name != layer.name]
    return tuple(name for name in names if form.read(given.fields, name).rows)


def _images(paths: Sequence[Path]) -> BroughtImages:
    """Return the images; of a zip with several those that can lie under the map, while a file that cannot ends it."""
    brought = bring_images(paths)
    own = {path.name for path in paths}
    for why in brought.left_out:
        if why.message.values.get("name") in own:
            raise why
    return brought


def _projection(given: argparse.Namespace, brought: Brought) -> Projection:
    """Return the farm's flat coordinates: as asked, else an image's, else the UTM zone of the outlines."""
    at: Sequence[float] | None = told_place(given.at) if given.at else None
    if brought.layer is not None and (middle := middle_of(brought.layer, brought.layer_crs)):
        at = middle
    if at is None and brought.images.taken:
        at = _middle(moved_bounds(brought.images.taken[0].bounds, brought.images.taken[0].crs, LON_LAT))
    if at is None and given.fields is not None:
        raise OutlineError(
            "No row of {file} lies anywhere on earth.",
            remedy="Give outlines with corners, or another layer of the file with --layer NAME.",
            file=given.fields.name,
        )
    if at is None:
        raise UsageError(
            "Nothing says where {farm} is.",
            remedy="Give its fields or an image, or its place as a phone shows it: --at 47.03,-99.18.",
            farm=given.farm.stem,
        )
    if given.crs:
        return projection_for(given.crs, at)
    own = [facts.crs for facts in brought.images.taken if _near(facts, at)]
    if brought.layer is not None and is_utm(brought.layer_crs):
        own.append(brought.layer_crs)
    return projection_for(next((crs for crs in own if is_metric(crs, at)), ""), at)


def _middle(bounds: Bounds) -> tuple[float, float]:
    return (bounds[0] + bounds[2]) / 2, (bounds[1] + bounds[3]) / 2


def _near(facts: ImageFacts, at: Sequence[float]) -> bool:
    """Whether an image lies within a degree of the farm: what is farther off does not measure it well."""
    west, south, east, north = moved_bounds(facts.bounds, facts.crs, LON_LAT)
    return west - 1 <= at[0] <= east + 1 and south - 1 <= at[1] <= north + 1


def _need_fields(given: argparse.Namespace, taken: Sequence[Taken]) -> None:
    """Refuse a file of which nothing can be used, with the reason of its first rows."""
    if given.fields is None or any(each.vetted is not None for each in taken):
        return
    for each in taken[:5]:
        sys.stderr.write(f"{' '.join(render(words) for words in each.words)}\n")
    raise OutlineError(
        "None of the rows of {file} can be a field ({count} looked at); no farm was made.",
        remedy="Give a file, or with --layer NAME a layer, that holds areas.",
        file=given.fields.name,
        count=len(taken),
    )


def _put_in(session: Session, given: argparse.Namespace, brought: Brought, taken: Sequence[Taken]) -> None:
    if taken:
        session.do(fields_added(taken, given.fields.name)).result()
    for facts in brought.images.taken:
        link = image_link(session.path, facts.path)
        session.do(link_image(name_of(facts), link)).result()
    if brought.weather is not None:
        session.do(add_weather(brought.weather.days)).result()
    if brought.terrain is not None:
        session.do(terrain_linked(brought.terrain, session.path)).result()
    images = images_of(session)
    for uid in session.farm.images:
        images.overview(uid, make=True)


def _field_rows(given: argparse.Namespace, taken: Sequence[Taken], projection: Projection) -> Iterator[Row]:
    for each in taken:
        area = area_of(each, projection)
        yield {
            "file": given.fields.name,
            "row": each.row,
            "name": each.name,
            "result": each.result,
            "area": Text("{area}", {"area": area}) if area is not None else None,
            "words": _joined(each.words),
        }


def _file_rows(given: argparse.Namespace, session: Session, brought: Brought) -> Iterator[Row]:
    for facts in brought.images.taken:
        yield {"file": called(facts.path), "name": name_of(facts), "result": "linked", "words": _joined(facts.notes)}
    for why in brought.images.left_out:
        words = Text("{what} {remedy}", {"what": why.message, "remedy": why.remedy})
        yield {"file": str(why.message.values.get("name", "")), "result": "refused", "words": words}
    if brought.weather is not None:
        days = brought.weather.days
        words = Text(
            "{count} day, {first}.",
            {"first": days[0].day, "last": days[-1].day},
            plural="{count} days, {first} to {last}.",
            count=len(days),
        )
        yield {"file": given.weather.name, "result": "taken", "words": _joined((words, *brought.weather.notes))}
        for left_out in brought.weather.left_out:
            yield {"file": given.weather.name, "result": "refused", "words": left_out}
    if brought.terrain is not None:
        said = tuple(said_of_terrain(brought.terrain, session.farm))
        yield {"file": given.terrain.name, "name": given.terrain.stem, "result": "linked", "words": _joined(said)}


def _joined(words: Sequence[Text]) -> Text | None:
    kept = [each for each in words if each]
    if not kept:
        return None
    return Text(" ".join(f"{{w{n}}}" for n in range(len(kept))), {f"w{n}": each for n, each in enumerate(kept)})


def _remarks(session: Session, brought: Brought, taken: Sequence[Taken]) -> Iterator[Text]:
    """Yield what concerns no single row: layers left aside, fields far apart, images away from them or unread."""
    if brought.layer is not None and brought.other_layers:
        words = "Out of {file} the layer {layer} is taken; it also has: {others}. --layer NAME takes another."
        values = {"file": brought.file, "layer": brought.layer.name, "others": ", ".join(brought.other_layers)}
        yield Text(words, values)
    yield from far_apart(taken, session.farm.projection)
    fields, images = bounds_of(taken), images_of(session)
    yield from images.troubles()
    for uid, image in session.farm.images.items():
        found = images.overview(uid)
        if fields is not None and found is not None and not _touch(fields, found.bounds):
            yield Text(
                "The image {name} shows none of the fields. Look whether it is the right one.", {"name": image.name}
            )
    images.close()


def _touch(one: Bounds, other: Bounds) -> bool:
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]


def _made(session: Session) -> Text:
    farm = session.farm
    return Text(
        "{path} is made, in {crs}: fields {fields}, images {images}, days of weather {days}.",
        {
            "path": str(session.path),
            "crs": farm.projection.name,
            "fields": len(farm.fields),
            "images": len(farm.images),
            "days": len(farm.weather_days),
        },
    )


command = NewCommand()
