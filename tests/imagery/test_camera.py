from __future__ import annotations

from pathlib import Path

import pytest

from pigmap.imagery.camera import is_from_camera, tells_of_camera
from pigmap.session.pictures import look_at
from tests.imagery.camera_photo import SCANNER, photo


def test_a_photo_tells_of_its_camera(tmp_path: Path) -> None:
    assert is_from_camera(photo(tmp_path / "field.jpg"))
    assert look_at(tmp_path / "field.jpg").from_camera


def test_a_photo_that_only_names_its_camera_tells_of_it(tmp_path: Path) -> None:
    assert is_from_camera(photo(tmp_path / "field.jpg", shot=()))


def test_a_scan_is_none_of_a_camera(tmp_path: Path) -> None:
    assert not is_from_camera(photo(tmp_path / "map.jpg", SCANNER, ()))
    print_scanner = ((0xA300, 7, 1, b"\x02"),)
    assert not is_from_camera(photo(tmp_path / "print.jpg", shot=print_scanner))


def test_a_picture_that_tells_nothing_is_none_of_a_camera(tmp_path: Path) -> None:
    assert not is_from_camera(photo(tmp_path / "plain.jpg", (), ()))
    assert not look_at(tmp_path / "plain.jpg").from_camera
    assert not is_from_camera(tmp_path / "gone.jpg")


@pytest.mark.parametrize("name", ["EXIF_GPSLatitude", "EXIF_ExposureTime", "EXIF_FNumber", "EXIF_FocalLength"])
def test_each_trace_of_a_shot_is_enough(name: str) -> None:
    assert tells_of_camera({name: "(4)"})
    assert not tells_of_camera({name: " "})
