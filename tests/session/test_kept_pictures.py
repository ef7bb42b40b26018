from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from pigmap.errors import StoreError
from pigmap.paths import cache_folder, data_folder
from pigmap.session.kept_pictures import SUBFOLDER, clear_kept, keep_at_most, keep_in, kept_now, use_memory
from pigmap.session.personal import Personal, load_personal, save_personal


def some(folder: Path, *sizes: int) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    for number, size in enumerate(sizes):
        (folder / f"{number:032x}.kept").write_bytes(bytes(size))


def test_they_lie_among_what_can_be_made_again_unless_another_folder_is_chosen(tmp_path: Path) -> None:
    usual = cache_folder() / "kept"
    assert kept_now() == (usual, 0, 0)
    some(usual, 3000, 4000)
    assert kept_now() == (usual, 7000, 2)
    assert keep_in(tmp_path / "disk") == 7000
    assert kept_now() == (tmp_path / "disk" / SUBFOLDER, 0, 0)
    assert list(usual.iterdir()) == []
    assert keep_in(tmp_path / "disk" / SUBFOLDER) == 0  # the folder itself, chosen again
    assert kept_now().folder == tmp_path / "disk" / SUBFOLDER
    assert keep_in(None) == 0
    assert kept_now().folder == usual


def test_less_room_lets_go_of_some_at_once() -> None:
    save_personal(replace(Personal(), kept_mb=300))
    some(cache_folder() / "kept", 200_000_000, 90_000_000)
    keep_at_most(250)
    assert load_personal().kept_mb == 250
    assert kept_now().bytes <= 250_000_000
    assert clear_kept() > 0
    assert kept_now().images == 0


def test_a_folder_that_takes_nothing_is_said_with_what_to_do_and_nothing_changes(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(StoreError) as why:
        keep_in(tmp_path / "file")
    assert f"Nothing can be written to {tmp_path / 'file' / SUBFOLDER}: Not a directory." in str(why.value)
    assert "Choose a folder of your own, on a disk of this computer; pictures are kept where they were." in str(
        why.value
    )
    assert kept_now().folder == cache_folder() / "kept"


def test_a_choice_that_cannot_be_saved_is_said() -> None:
    data_folder().parent.mkdir(parents=True, exist_ok=True)
    data_folder().write_text("a file where the folder belongs")
    with pytest.raises(StoreError) as why:
        use_memory(512)
    assert "This choice could not be saved on this computer." in str(why.value)
    assert "Look whether its disk is full; until then all stays as it was." in str(why.value)
    assert load_personal().tiles_mb == 256


@pytest.mark.parametrize(("name", "value"), [("tiles_mb", 5), ("tiles_mb", True), ("kept_mb", "much"), ("kept_mb", -1)])
def test_amounts_that_cannot_be_count_as_not_chosen(name: str, value: object) -> None:
    save_personal(replace(Personal(), **{name: value}))  # type: ignore[arg-type]
    assert load_personal() == Personal()
