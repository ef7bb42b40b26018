from __future__ import annotations

from datetime import date

import pytest

from pigmap.document.edits import add_field, add_group
from pigmap.session.finding import find
from tests.document.example_farm import done, example

TODAY = date(2026, 11, 25)


def names(words: str) -> list[str]:
    farm = done(
        example(),
        add_field("Große Wiese", example().fields["field"].outline, uid="wiese"),
        add_group("Field sows", uid="more"),
    )
    return [each.name or str(each.day) for each in find(farm, words, TODAY)]


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("long", ["Long Field", "Long Field 1"]),
        ("GROSSE", ["Große Wiese"]),
        ("wiese", ["Große Wiese"]),
        ("field", ["Field sows", "Long Field", "Long Field 1"]),
        ("  long   field 1", ["Long Field 1"]),
        ("14 Oct", ["2026-10-14"]),
        ("3 January", ["2027-01-03"]),
        ("14 october 2024", ["2024-10-14"]),
        ("2025-02-28", ["2025-02-28"]),
        ("31 feb", []),
        ("nowhere", []),
        ("", []),
    ],
)
def test_what_is_meant_is_found_and_what_begins_so_comes_first(words: str, found: list[str]) -> None:
    assert names(words) == found
