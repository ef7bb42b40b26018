from __future__ import annotations

import os
from pathlib import Path

from pigmap.imagery.sidecar_place import Place, bytes_in, clear, kept_in, looked_at, make_room


def filled(folder: Path) -> list[Path]:
    """Return four packs of 1000 bytes, the first looked at longest ago; beside them lie files of somebody else."""
    folder.mkdir()
    paths = [folder / (32 * name[0] + name[1:]) for name in ("d.kept", "b.part", "c.kept", "a.kept")]
    (folder / "film.part").write_bytes(bytes(5000))
    for number, path in enumerate(paths):
        path.write_bytes(bytes(1000))
        os.utime(path, (1000 + number, 1000 + number))
    (folder / "notes.txt").write_text("not ours")
    return paths


def test_what_was_not_looked_at_for_longest_goes_first(tmp_path: Path) -> None:
    paths = filled(tmp_path / "kept")
    looked_at(paths[0])
    assert [each.path for each in kept_in(tmp_path / "kept")] == [*paths[1:], paths[0]]
    assert make_room(Place(tmp_path / "kept", 3500), wanted=1500)
    assert [path.exists() for path in paths] == [True, False, False, True]
    assert (tmp_path / "kept" / "notes.txt").exists()
    assert (tmp_path / "kept" / "film.part").exists()


def test_nothing_goes_while_there_is_room_and_what_is_in_work_stays(tmp_path: Path) -> None:
    paths = filled(tmp_path / "kept")
    assert make_room(Place(tmp_path / "kept", 4000))
    assert all(path.exists() for path in paths)
    assert not make_room(Place(tmp_path / "kept", 500), spare=(paths[1],))
    assert [path.exists() for path in paths] == [False, True, False, False]


def test_clearing_leaves_what_is_in_work(tmp_path: Path) -> None:
    paths = filled(tmp_path / "kept")
    assert bytes_in(tmp_path / "kept") == 4000
    assert clear(tmp_path / "kept") == 3000
    assert [path.exists() for path in paths] == [False, True, False, False]


def test_a_folder_that_is_not_there_holds_nothing(tmp_path: Path) -> None:
    assert bytes_in(tmp_path / "none") == 0
    assert clear(tmp_path / "none") == 0
    assert make_room(Place(tmp_path / "none", 10), wanted=5)
