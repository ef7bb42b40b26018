from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from pigmap.store.rights import takes_files, takes_writing


def test_trying_leaves_nothing_behind_and_changes_nothing(tmp_path: Path) -> None:
    file = tmp_path / "farm.gpkg"
    file.write_bytes(b"as it was")
    assert takes_writing(file)
    assert takes_files(tmp_path)
    assert [each.name for each in tmp_path.iterdir()] == ["farm.gpkg"]
    assert file.read_bytes() == b"as it was"


@pytest.mark.parametrize(("why", "taken"), [(errno.EACCES, False), (errno.EROFS, False), (errno.ENOSPC, True)])
def test_only_missing_rights_count_as_read_only_whatever_the_system_says_when_asked(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, why: int, taken: bool
) -> None:
    def refuse(*_: object, **__: object) -> int:
        raise OSError(why, os.strerror(why))

    file = tmp_path / "farm.gpkg"
    file.touch()
    monkeypatch.setattr(os, "access", lambda *_, **__: True)
    monkeypatch.setattr(os, "open", refuse)
    monkeypatch.setattr(Path, "open", refuse)
    assert takes_files(tmp_path) is taken
    assert takes_writing(file) is taken
