"""The key of the map as data: steps of the ramp across, how rooted down, and what the clods mean."""

from __future__ import annotations

import numpy as np

from pigmap.drawing.layer import Cells
from pigmap.drawing.tint import Tint
from pigmap.drawing.tinted import colour_table
from pigmap.drawing.tokens import REST_FROM_DAY, ROOTING_WORDS, UNKNOWN, rgb
from pigmap.geometry.frame import CellFrame
from pigmap.records.frozen import dataclass
from pigmap.text import Text


@dataclass(frozen=True, slots=True, eq=False)
class Key:
    """What the key says."""

    title: Text
    across: Text
    """What the columns are: days of rest."""
    columns: tuple[Text, ...]
    colours: tuple[str, ...]
    rows: tuple[Text, ...]
    """How rooted, in words; empty where the tint has no clods."""
    notes: tuple[Text, ...]
    mark_at_step: int | None = None
    """Step at whose lower edge a blue mark lies."""


DAYS_OF_REST = Text("days of rest")
_REST = ("rest", "rest-and-rooting")
KEY_GROUND = "#F1F3EF"
"""Ground under the clods of the key where a tint has no colours of its own."""
SEEN, COMPUTED = Text("seen"), Text("computed")


def key_of(tint: Tint) -> Key:
    """Return the key of a tint."""
    steps = tint.key()
    rest = tint.name in _REST
    if _only_clods(tint):
        return Key(tint.title, Text(""), (Text(""),), (KEY_GROUND,), ROOTING_WORDS, ())
    columns = tuple(Text("{days}", {"days": day}) for day in REST_FROM_DAY) if rest else tuple(s.words for s in steps)
    notes = (Text("Palest has rested longest."),) if rest else tuple(getattr(tint, "notes", ()))
    return Key(
        tint.title,
        DAYS_OF_REST if rest else getattr(tint, "across", Text("")),
        columns,
        tuple(step.colour for step in steps),
        ROOTING_WORDS if tint.clods else (),
        notes,
        getattr(tint, "mark_at_step", None),
    )


def _only_clods(tint: Tint) -> bool:
    """Whether a tint colours nothing: its steps are the classes of rooting themselves."""
    return tint.clods and tuple(step.words for step in tint.key()) == ROOTING_WORDS


def key_field(
    tint: Tint, *, columns: int = 6, rows: int = 5, wide: float = 20.0, high: float = 16.0, clods: bool | None = None
) -> Cells:
    """Return the key's table as tinted ground, so that it is drawn by the very code that draws the ground.

    Parameters
    ----------
    tint
        Whose steps run across.
    columns, rows
        Steps and classes of rooting shown.
    wide, high
        One field of the table in device units; the table's lower left corner is at (0, 0), one metre is one unit.
    clods
        Whether clods are drawn; by default as the tint does.
    """
    fine = 4  # cells are square, fields of the key need not be
    across, down = round(columns * wide * fine), round(rows * high * fine)
    frame = CellFrame(0.0, 0.0, 0.0, 1 / fine, down, across)
    column = np.minimum(np.arange(across) // round(wide * fine), columns - 1).astype(np.uint8)
    row = (rows - 1 - np.minimum(np.arange(down) // round(high * fine), rows - 1)).astype(np.uint8)
    codes = np.broadcast_to(column, (down, across)).copy()
    rooted = np.broadcast_to(row[:, None], (down, across)).copy()
    drawn = tint.clods if clods is None else clods
    seen = np.ones_like(rooted, dtype=np.bool_)
    colours = colour_table(tint).copy()  # the table is shared
    if _only_clods(tint):
        colours[0] = rgb(KEY_GROUND)
    return Cells("", frame, codes, colours, rooted if drawn else None, seen)


NEVER_USED, NOT_KNOWN = Text("never used"), Text("not known")
"""What bare ground means, and what ground with question marks strewn over it does."""


def shows_unknown(tint: Tint) -> bool:
    """Whether a tint tells ground that was never used from ground that nobody knows: one that shows anything does."""
    return bool(tint.key())


def unknown_swatch(wide: float, high: float) -> Cells:
    """Return one little field of unknown ground with a mark in its middle, which lies at (0, 0)."""
    fine = 4
    rows, columns = max(1, round(high * fine)), max(1, round(wide * fine))
    frame = CellFrame(-wide / 2, -high / 2, 0.0, 1 / fine, rows, columns)
    return Cells("", frame, np.full((rows, columns), UNKNOWN, np.uint8), np.zeros((256, 4), dtype=np.uint8))


def swatch(colour: str, rooted: int, *, seen: bool, wide: float, high: float) -> Cells:
    """Return one little field of one colour, rooted so far, its clods filled or hollow."""
    frame = CellFrame(0.0, 0.0, 0.0, 1.0, max(1, round(high)), max(1, round(wide)))
    shape = (frame.rows, frame.columns)
    table = np.zeros((256, 4), dtype=np.uint8)
    table[0] = (*(int(colour[at : at + 2], 16) for at in (1, 3, 5)), 255)
    return Cells(
        "", frame, np.zeros(shape, np.uint8), table, np.full(shape, rooted, np.uint8), np.full(shape, seen, np.bool_)
    )
