"""Sheets of a spreadsheet as tables: the first row of each names the columns."""

from __future__ import annotations

import warnings
from pathlib import Path
from typing import Any

import numpy as np

from pigmap.builtin.formats.vector_files import need_outline_file
from pigmap.errors import OutlineError
from pigmap.geometry.native import own_data

SUFFIXES = (".xlsx", ".ods")


def sheet_names(path: Path) -> tuple[str, ...]:
    """Return the names of the sheets that have rows.

    Raises
    ------
    OutlineError
        If it is no spreadsheet.
    """
    need_outline_file(path)
    _first_row_names()
    import pyogrio
    from pyogrio.errors import DataSourceError

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            return tuple(str(name) for name, _ in pyogrio.list_layers(path))
    except (DataSourceError, UnicodeDecodeError) as why:
        raise _unread(path) from why


def sheet(path: Path, name: str) -> dict[str, list[Any]]:
    """Return the columns of a sheet by their names, in order; days as they are written.

    Raises
    ------
    OutlineError
        If it cannot be read.
    """
    _first_row_names()
    from pyogrio.errors import DataLayerError, DataSourceError, FeatureError
    from pyogrio.raw import read

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            told, _, _, values = read(path, layer=name, datetime_as_string=True)
    except (DataSourceError, DataLayerError, FeatureError, ValueError) as why:
        raise _unread(path) from why
    return {
        str(field): [_plain(value) for value in column] for field, column in zip(told["fields"], values, strict=True)
    }


def _first_row_names() -> None:
    """Have the library take the first row as names: where all is words it would take it as a row."""
    own_data()
    import pyogrio

    pyogrio.set_gdal_config_options({"OGR_XLSX_HEADERS": "FORCE", "OGR_ODS_HEADERS": "FORCE"})


def _plain(value: Any) -> Any:
    if isinstance(value, np.generic):
        value = value.item()
    return None if isinstance(value, float) and value != value else value  # only not-a-number differs from itself


def _unread(path: Path) -> OutlineError:
    return OutlineError(
        "{file} cannot be read as a spreadsheet.", remedy="Save the sheet as a text file (CSV).", file=path.name
    )
