"""The contract of an output: a page in, a file out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Protocol

from pigmap.drawing.page import Page

TileReader = Callable[[str, tuple[float, float, float, float], tuple[int, int]], object]
"""Reads a piece of an image: its uid, west, south, east, north [m], and columns and rows wanted; returns an
array (rows, columns, 4) of red, green, blue and alpha, or None where nothing can be read."""


class Output(Protocol):
    """Writes a page to a file of one kind."""

    suffix: str
    """How the file's name ends: ``pdf``."""

    def write(self, page: Page, path: Path, *, images: TileReader) -> None:
        """Write the page; the file is complete or not there.

        Raises
        ------
        SheetError
            If the file cannot be written.
        """
        ...


class PagedOutput(Output, Protocol):
    """An output whose files hold several pages."""

    def write_all(self, pages: Sequence[Page], path: Path, *, images: TileReader) -> None:
        """Write pages of one size, in order; the file is complete or not there.

        Raises
        ------
        SheetError
            If the file cannot be written.
        """
        ...
