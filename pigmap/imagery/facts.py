"""What is known of an aerial image once it has passed."""

from __future__ import annotations

from pathlib import Path

from pigmap.records.frozen import dataclass
from pigmap.text import Text

Affine6 = tuple[float, float, float, float, float, float]


@dataclass(frozen=True, slots=True)
class Bands:
    """Which bands of a file are shown as what, counted from 1."""

    colours: tuple[int, ...]
    """Red, green and blue; or one band of grey, or of numbers of a palette."""
    alpha: int | None = None
    palette: bool = False
    stretched: bool = False
    """Whether its values are no bytes and are stretched between the darkest and the brightest."""
    named: bool = True
    """Whether it is said which band is which colour."""
    count: int = 0
    """How many bands the file has."""
    darkest: float | None = None
    """Value that is shown black where a person said so."""
    brightest: float | None = None


@dataclass(frozen=True, slots=True)
class ImageFacts:
    """An image that can lie under the map: where it lies and how it is shown."""

    path: Path
    columns: int
    rows: int
    crs: str
    """Well-known text of its own coordinate system."""
    transform: Affine6
    """From (column, row) to its own coordinates: east = a·column + b·row + c, north = d·column + e·row + f."""
    bounds: tuple[float, float, float, float]
    """West, south, east and north in its own coordinates."""
    cell_m: float
    """Longer side of a pixel at the middle, on the ground [m]."""
    bands: Bands
    notes: tuple[Text, ...] = ()
    """What was assumed, for the person who links it."""
    opens: str = ""
    """What the reader opens in place of a file that does not tell where it lies: a description of it that does."""
    pins: str = ""
    """The pins that place it, as they are kept in the farm; empty where the file tells its own place."""
    look: str = ""
    """How a person wants it shown, as part of a key; empty where it is shown by what its file says."""

    @property
    def also(self) -> str:
        """What its picture depends on besides the file."""
        return "\n".join(part for part in (self.pins, self.look) if part)

    @property
    def north_up(self) -> bool:
        """Whether its rows run straight east and its columns straight south."""
        a, b, _, d, e, _ = self.transform
        return b == 0 and d == 0 and a > 0 and e < 0
