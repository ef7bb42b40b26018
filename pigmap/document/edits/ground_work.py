"""What people did to ground, as a keeper tells it: sown, harrowed, hay, other stock, manure; on a field or a part."""

from __future__ import annotations

from datetime import date
from functools import partial

import shapely

from pigmap.document.edits.told_ground import told_of_field, told_of_part
from pigmap.errors import EditError
from pigmap.records import Edit, GroundJob, GroundJobKind
from pigmap.records.frozen import dataclass
from pigmap.records.told_words import work_words
from pigmap.text import Text


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundWork:
    """Work on a piece of ground.

    Parameters
    ----------
    kind
        Seeded, harrowed, hay, other stock or manure.
    happened_on
        The day, or the first of several.
    until_on
        Last day of what takes several; after sowing, the last day on which no pigs are to come.
    n_kg_ha
        Nitrogen that manure brought [kg/ha].
    """

    kind: GroundJobKind
    happened_on: date
    until_on: date | None = None
    n_kg_ha: float | None = None
    note: str = ""

    def __post_init__(self) -> None:
        if self.kind.tells_what_was:
            raise EditError(
                "{kind} tells what was before: it is no work on the ground.",
                remedy="Choose one of: seeded, harrowed, hay, other stock, manure.",
                kind=Text(self.kind.value.capitalize()),
            )
        if self.until_on is not None and self.until_on < self.happened_on:
            raise EditError(
                "{until} comes before {day}, the day of the work.",
                remedy="Give a last day that is not before it, or none.",
                until=self.until_on,
                day=self.happened_on,
            )

    def on(self, shape: shapely.MultiPolygon, uid: str) -> GroundJob:
        """Return the record of it; nitrogen belongs to manure alone."""
        return GroundJob(
            uid=uid,
            kind=self.kind,
            shape=shape,
            happened_on=self.happened_on,
            until_on=self.until_on,
            n_kg_ha=self.n_kg_ha if self.kind is GroundJobKind.MANURE else None,
            note=self.note,
        )


def tell_work(shape: shapely.Polygon | shapely.MultiPolygon, work: GroundWork, *, uid: str = "") -> Edit:
    """Return the edit that says what was done to a piece of ground; what lies outside all fields is left out.

    Raises
    ------
    EditError
        When it is done, if the piece touches no field.
    """
    return told_of_part(shape, work.on, partial(_label, work), uid)


def tell_work_of_field(field_uid: str, work: GroundWork, *, name: str = "", uid: str = "") -> Edit:
    """Return the edit that says what was done to a whole field, as it is drawn now.

    `name` is what the edit calls the field, where the caller knows it.

    Raises
    ------
    EditError
        When it is done, if the field is gone.
    """
    return told_of_field(field_uid, work.on, partial(_label, work), name, uid)


def _label(work: GroundWork, where: str | Text) -> Text:
    return Text("Told of {where}: {told}.", {"where": where, "told": work_words(work)})
