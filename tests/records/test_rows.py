from __future__ import annotations

from collections.abc import Mapping
from random import Random
from types import MappingProxyType

import pytest

from pigmap.records import rows
from pigmap.records.rows import ChangedRows


@pytest.mark.parametrize("looked", [0.0, 0.2, 1.0])
def test_they_are_as_a_dictionary_would_be(looked: float, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rows, "MOST_OVER", 20)
    chance = Random(3)
    plain = {str(number): number for number in range(30)}
    changed: Mapping[str, int] = MappingProxyType(dict(plain))
    for _ in range(300):
        changes = [
            (str(chance.randrange(60)), chance.choice((None, chance.randrange(1000))))
            for _ in range(chance.randint(1, 5))
        ]
        for uid, row in changes:
            if row is None:
                plain.pop(uid, None)
            else:
                plain[uid] = row
        before = changed
        was = dict(before) if chance.random() < looked else None
        changed = ChangedRows.after(before, changes)
        assert was is None or was == before
        for number in range(60):
            assert changed.get(str(number)) == plain.get(str(number))
            assert (str(number) in changed) == (str(number) in plain)
        if chance.random() < looked:
            assert list(changed.items()) == list(plain.items())
    assert (changed, len(changed), list(changed)) == (plain, len(plain), list(plain))
    assert changed == MappingProxyType(plain)
    assert list(reversed(changed)) == list(reversed(plain))  # type: ignore[arg-type]
    assert repr(changed) == repr(plain)


def test_a_row_that_comes_back_comes_last() -> None:
    first = ChangedRows.after(MappingProxyType({"a": 1, "b": 2}), [("a", None)])
    assert "a" not in first
    with pytest.raises(KeyError):
        first["a"]
    assert list(ChangedRows.after(first, [("a", 3)]).items()) == [("b", 2), ("a", 3)]


def test_nobody_changes_them() -> None:
    changed = ChangedRows.after(MappingProxyType({"a": 1}), [("b", 2)])
    with pytest.raises(TypeError):
        changed["a"] = 2  # type: ignore[index]
    copy = changed.copy()
    copy["a"] = 5
    assert changed["a"] == 1
    assert {"c": 3} | changed == {"c": 3, "a": 1, "b": 2}
    assert changed | {"c": 3} == {"a": 1, "b": 2, "c": 3}
