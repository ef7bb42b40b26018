"""What was before the records begin, as a keeper tells it: on a whole field, or brushed on a part."""

from __future__ import annotations

from datetime import date
from functools import partial

import shapely

from pigmap.document.edits.told_ground import told_of_field, told_of_part
from pigmap.errors import EditError
from pigmap.records import Edit, GroundJob, GroundJobKind
from pigmap.records.frozen import dataclass
from pigmap.records.told_words import told_words
from pigmap.text import Text


@dataclass(frozen=True, slots=True, kw_only=True)
class Before:
    """What is told of a piece of ground.

    Parameters
    ----------
    kind
        Used before, never used or unknown.
    happened_on, within_days
        When pigs were there, and how far off that may be [d]; `about_season` and `about_year` of
        `pigmap.records.season` make both of what people say.
    rooting_score
        How the ground was left: 0 hardly, 1 a quarter, 2 half, 3 most, 4 all of it rooted; None where nobody knows.
    """

    kind: GroundJobKind
    happened_on: date | None = None
    within_days: int | None = None
    rooting_score: int | None = None
    note: str = ""

    def __post_init__(self) -> None:
        if not self.kind.tells_what_was:
            raise EditError(
                "{kind} is work on the ground: it does not tell what was before.",
                remedy="Choose one of: used before, never used, unknown.",
                kind=Text(self.kind.value.capitalize()),
            )
        if self.kind is GroundJobKind.USED_BEFORE and self.happened_on is None:
            raise EditError(
                "Nobody said when pigs were there.",
                remedy="Say about when, such as autumn 2024; or say that what was before is not known.",
            )

    def on(self, shape: shapely.MultiPolygon, uid: str) -> GroundJob:
        """Return the record of it; when and how hard belong to a use alone."""
        used = self.kind is GroundJobKind.USED_BEFORE
        return GroundJob(
            uid=uid,
            kind=self.kind,
            shape=shape,
            happened_on=self.happened_on if used else None,
            within_days=self.within_days if used else None,
            rooting_score=self.rooting_score if used else None,
            note=self.note,
        )


def tell_before(
    shape: shapely.Polygon | shapely.MultiPolygon, before: Before, *, uid: str = "", south: bool = False
) -> Edit:
    """Return the edit that says what was before on a piece of ground; it lies over what was told earlier.

    What lies outside all fields is left out. `south` says whether the farm lies south of the equator.

    Raises
    ------
    EditError
        When it is done, if the piece touches no field.
    """
    return told_of_part(shape, before.on, partial(_label, before, south=south), uid)


def tell_before_of_field(field_uid: str, before: Before, *, name: str = "", uid: str = "", south: bool = False) -> Edit:
    """Return the edit that says what was before on a whole field, as it is drawn now.

    `name` is what the edit calls the field, where the caller knows it; `south` whether the farm lies south of the
    equator, where autumn begins with March.

    Raises
    ------
    EditError
        When it is done, if the field is gone.
    """
    return told_of_field(field_uid, before.on, partial(_label, before, south=south), name, uid)


def _label(before: Before, where: str | Text, *, south: bool) -> Text:
    """Return what was told, with when and how hard: that is what a person looks for among what was done."""
    return Text("Told of {where}: {told}.", {"where": where, "told": told_words(before, south=south)})
