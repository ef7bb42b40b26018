from __future__ import annotations

import os
from pathlib import Path

import pytest

from pigmap.imagery.where import web_path
from pigmap.session.image_states import ImageStates


def test_a_file_is_told_once_and_only_when_it_rests(tmp_path: Path) -> None:
    path, states = tmp_path / "aerial.tif", ImageStates()
    path.write_bytes(b"old")
    states.note("a", path)
    assert states.changed() == {}
    assert states.changed() == {}
    path.write_bytes(b"half")
    assert states.changed() == {}
    path.write_bytes(b"half and more")
    assert states.changed() == {}
    (said,) = states.changed().values()
    assert said is not None
    assert str(said.message) == "aerial.tif was changed by another program while it was open."
    assert str(said.remedy) == "The map reads it anew; look whether it still lies right."
    assert states.changed() == {}


def test_another_file_of_the_same_size_and_time_is_another_file(tmp_path: Path) -> None:
    path, other, states = tmp_path / "aerial.tif", tmp_path / "other.tif", ImageStates()
    path.write_bytes(b"old")
    other.write_bytes(b"new")
    state = path.stat()
    os.utime(other, ns=(state.st_atime_ns, state.st_mtime_ns))
    states.note("a", path)
    other.replace(path)
    assert states.changed() == {}
    assert list(states.changed()) == ["a"]


def test_a_disk_that_gives_new_numbers_at_will_is_soon_left_in_peace(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path, states, number = tmp_path / "aerial.tif", ImageStates(), [0]
    path.write_bytes(b"same")
    real = Path.stat

    def stat(self: Path, **how: bool) -> os.stat_result:
        found = list(real(self, **how))
        number[0] += 1
        found[1] = number[0]
        return os.stat_result(found)

    states.note("a", path)
    monkeypatch.setattr(Path, "stat", stat)
    assert sum(len(states.changed()) for _ in range(20)) <= 2


def test_a_file_that_is_gone_is_not_told_and_one_that_comes_back_has_no_words(tmp_path: Path) -> None:
    path, states = tmp_path / "aerial.tif", ImageStates()
    states.note("a", path)
    states.note("web", web_path("https://maps.example/aerial.tif"))
    assert states.changed() == {}
    assert states.changed() == {}
    path.write_bytes(b"here")
    assert states.changed() == {}
    assert states.changed() == {"a": None}
    path.unlink()
    assert states.changed() == {}
    assert states.changed() == {}
