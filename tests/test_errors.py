from __future__ import annotations

import pickle
import re

import pytest

from pigmap import errors
from pigmap.errors import (
    DisplayError,
    EditError,
    OutlineError,
    PigmapError,
    PlanError,
    PluginError,
    RasterError,
    RecordError,
    SheetError,
    StoreError,
    UsageError,
)
from pigmap.text import Text

CHILDREN = [
    RecordError,
    EditError,
    OutlineError,
    RasterError,
    StoreError,
    SheetError,
    PlanError,
    DisplayError,
    PluginError,
    UsageError,
]


def test_the_tree_is_the_one_that_its_picture_shows() -> None:
    pictured = re.findall(r"[├└]── (\w+)", errors.__doc__ or "")
    assert pictured == [kind.__name__ for kind in CHILDREN]
    assert PigmapError.__subclasses__() == CHILDREN


@pytest.mark.parametrize("kind", CHILDREN, ids=lambda kind: kind.__name__)
def test_every_error_says_message_and_remedy_over_the_same_values(kind: type[PigmapError]) -> None:
    error = kind("{file} is of {year}.", remedy="Open {file} anew.", file="a.gpkg", year=2026)
    assert str(error) == "a.gpkg is of 2026. Open a.gpkg anew."
    assert (str(error.message), str(error.remedy)) == ("a.gpkg is of 2026.", "Open a.gpkg anew.")


@pytest.mark.parametrize("kind", CHILDREN, ids=lambda kind: kind.__name__)
def test_every_error_crosses_to_another_process_whole(kind: type[PigmapError]) -> None:
    error = kind("{file} is gone.", remedy="Look for {file}.", file="a.gpkg")
    back = pickle.loads(pickle.dumps(error))
    assert type(back) is kind
    assert (back.message, back.remedy) == (error.message, error.remedy)


def test_texts_serve_as_message_and_remedy() -> None:
    error = PlanError(Text("{count} net short.", count=1), remedy=Text("Buy one."))
    assert str(error) == "1 net short. Buy one."


def test_an_error_without_a_remedy_ends_with_its_message() -> None:
    assert str(PlanError("Nothing fits.")) == "Nothing fits."
    assert not PlanError("Nothing fits.").remedy


@pytest.mark.parametrize(
    ("kind", "builtin"), [(RecordError, ValueError), (OutlineError, ValueError), (StoreError, OSError)]
)
def test_some_are_also_what_python_calls_them(kind: type[PigmapError], builtin: type[Exception]) -> None:
    assert issubclass(kind, builtin)
