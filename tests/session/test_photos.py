"""Photos are made upright and small enough, and find their paddock and their daily check."""

from __future__ import annotations

import hashlib
import io
import shutil
import sqlite3
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from pigmap.document.edits import change_setting, record_check, record_stay
from pigmap.errors import RecordError
from pigmap.geometry.degrees import degrees_at
from pigmap.geometry.projection import projection_for
from pigmap.records import Group, Paddock, Photo, add
from pigmap.session import Session
from pigmap.session.joining.copy import FarmCopy
from pigmap.session.photo_file import MOST_PX, SMALL_PX, read_photo
from pigmap.session.photos import Belongs, folder_beside, small_of, take_photos, whole_of
from pigmap.store import opening
from pigmap.store.connection import connect
from pigmap.store.health import findings
from tests.store.made import SQUARE, edit

DAY = date(2026, 5, 1)
HERE = projection_for("EPSG:32632", (9.0, 50.0))
_ORIENTATION, _TAKEN, _EXIF, _GPS = 0x0112, 0x9003, 0x8769, 0x8825


def photo(
    path: Path,
    size: tuple[int, int] = (640, 480),
    *,
    turned: int = 1,
    taken: str = "",
    place: tuple[float, float] | None = None,
) -> Path:
    """Write a photo that is red on its left half, with what a camera tells."""
    pixels = np.zeros((size[1], size[0], 3), dtype=np.uint8)
    pixels[:, : size[0] // 2] = (220, 20, 20)
    exif = Image.Exif()
    exif[_ORIENTATION] = turned
    if taken:
        exif.get_ifd(_EXIF)[_TAKEN] = taken
    if place:
        latitude, longitude = (_sexagesimal(abs(each)) for each in place)
        exif.get_ifd(_GPS).update(
            {1: "N" if place[0] > 0 else "S", 2: latitude, 3: "E" if place[1] > 0 else "W", 4: longitude}
        )
    Image.fromarray(pixels).save(path, exif=exif)
    return path


def _sexagesimal(degrees: float) -> tuple[float, float, float]:
    whole = int(degrees)
    minutes = int((degrees - whole) * 60)
    return float(whole), float(minutes), round(((degrees - whole) * 60 - minutes) * 60, 4)


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    """Return a farm with a paddock in which sows stand, and a daily check of the day."""
    with Session.create(tmp_path / "farm.gpkg", HERE, "Farm") as made:
        paddock = Paddock(uid="there", name="Long 1", outline=SQUARE)
        made.do(edit("Begin", add(Group(uid="sows", name="Sows")), add(paddock))).result()
        made.do(record_stay("sows", "there", DAY - timedelta(days=2))).result()
        made.do(record_check("there", DAY, uid="seen", fence_kv=5.5)).result()
        yield made


def test_a_large_photo_is_kept_at_two_thousand_pixels_and_small_beside_it(tmp_path: Path) -> None:
    read = read_photo(photo(tmp_path / "a.jpg", (4000, 3000)))
    assert (read.width_px, read.height_px) == (MOST_PX, MOST_PX * 3 // 4)
    assert Image.open(io.BytesIO(read.picture.data)).size == (read.width_px, read.height_px)
    assert max(Image.open(io.BytesIO(read.picture.small)).size) == SMALL_PX
    assert read.picture.sha256 == hashlib.sha256(read.picture.data).hexdigest()


def test_a_photo_taken_on_its_side_is_turned_upright(tmp_path: Path) -> None:
    upright = Image.open(io.BytesIO(read_photo(photo(tmp_path / "a.jpg", (640, 480), turned=6)).picture.data))
    assert upright.size == (480, 640)
    # Turned a quarter to the right, what was left lies on top.
    assert np.asarray(upright)[40, 240, 0] > 150
    assert np.asarray(upright)[600, 240, 0] < 60


@pytest.mark.parametrize("place", [(50.25, 9.5), (-33.75, 151.125), (40.5, -75.25)])
def test_the_day_and_the_place_come_from_the_camera(tmp_path: Path, place: tuple[float, float]) -> None:
    read = read_photo(photo(tmp_path / "a.jpg", taken="2026:05:03 07:15:00", place=place))
    assert read.taken_on == date(2026, 5, 3)
    assert read.place == pytest.approx(place, abs=1e-6)


def test_what_a_camera_tells_wrongly_is_not_known(tmp_path: Path) -> None:
    read = read_photo(photo(tmp_path / "a.jpg", taken="0000:00:00 00:00:00"))
    assert (read.taken_on, read.place) == (None, None)
    assert read_photo(photo(tmp_path / "b.png")).taken_on is None


@pytest.mark.parametrize(
    ("name", "content", "message", "remedy"),
    [
        ("gone.jpg", None, "There is no file gone.jpg.", "Look where it is, and name it there."),
        (
            "empty.jpg",
            b"",
            "empty.jpg is no photo that can be read.",
            "Give a JPEG, PNG, WebP or TIFF; most phones can save one.",
        ),
        (
            "words.jpg",
            b"no photo",
            "words.jpg is no photo that can be read.",
            "Give a JPEG, PNG, WebP or TIFF; most phones can save one.",
        ),
    ],
)
def test_what_is_no_photo_is_refused_in_words(
    tmp_path: Path, name: str, content: bytes | None, message: str, remedy: str
) -> None:
    if content is not None:
        (tmp_path / name).write_bytes(content)
    with pytest.raises(RecordError) as refused:
        read_photo(tmp_path / name)
    assert (str(refused.value.message), str(refused.value.remedy)) == (message, remedy)


def test_a_photo_cut_short_is_refused_in_words(tmp_path: Path) -> None:
    path = photo(tmp_path / "a.jpg", (1200, 900))
    path.write_bytes(path.read_bytes()[:4000])
    with pytest.raises(RecordError, match=r"a\.jpg is no photo that can be read"):
        read_photo(path)


def test_a_photo_finds_the_paddock_it_was_taken_in_and_the_check_of_that_day(session: Session, tmp_path: Path) -> None:
    place = degrees_at(HERE, SQUARE.centroid)
    assert place is not None
    taken = take_photos(session, [photo(tmp_path / "a.jpg", taken="2026:05:01 07:00:00", place=place)], DAY)
    (kept,) = session.farm.photos.values()
    assert taken.photos == (kept,)
    assert (kept.paddock_uid, kept.check_uid, kept.taken_on) == ("there", "seen", DAY)
    assert kept.point is not None
    assert kept.point.distance(SQUARE.centroid) < 0.5
    assert findings(session.path) == []
    session.undo().result()
    assert not session.farm.photos


def test_what_somebody_says_goes_before_what_the_camera_tells(session: Session, tmp_path: Path) -> None:
    to = Belongs("there", "seen", DAY)
    take_photos(session, [photo(tmp_path / "a.jpg", taken="2020:01:01 00:00:00", place=(0.5, 0.5))], DAY, to)
    (kept,) = session.farm.photos.values()
    assert (kept.paddock_uid, kept.check_uid, kept.taken_on) == ("there", "seen", DAY)


def test_the_same_photo_twice_is_kept_once_and_what_is_no_photo_is_told(session: Session, tmp_path: Path) -> None:
    path = photo(tmp_path / "a.jpg")
    taken = take_photos(session, [path, tmp_path / "gone.jpg"], DAY)
    assert [str(why.message) for why in taken.left_out] == ["There is no file gone.jpg."]
    take_photos(session, [path], DAY)
    assert len(session.farm.photos) == 1


def test_the_pictures_come_back_whole_and_small(session: Session, tmp_path: Path) -> None:
    take_photos(session, [photo(tmp_path / "a.jpg", (1000, 750))], DAY)
    (kept,) = session.farm.photos.values()
    whole = whole_of(session, kept)
    assert whole is not None
    assert Image.open(io.BytesIO(whole)).size == (1000, 750)
    assert Image.open(io.BytesIO(small_of(session, [kept])[kept.uid])).size == (320, 240)
    lost = Photo(sha256="not there", width_px=1, height_px=1)
    assert whole_of(session, lost) is None
    assert small_of(session, [lost]) == {}


def test_photos_can_lie_beside_the_farm_file(session: Session, tmp_path: Path) -> None:
    session.do(change_setting("photos beside", True)).result()
    size = session.path.stat().st_size
    take_photos(session, [photo(tmp_path / "a.jpg", (2000, 1500))], DAY)
    (kept,) = session.farm.photos.values()
    lies = folder_beside(session.path) / kept.file_name
    assert folder_beside(session.path).name == "farm photos"
    assert whole_of(session, kept) == lies.read_bytes()
    assert session.path.stat().st_size - size < lies.stat().st_size + 40_000
    assert small_of(session, [kept])[kept.uid]
    lies.unlink()
    assert whole_of(session, kept) is None


def test_pictures_come_with_a_copy_that_is_joined(session: Session, tmp_path: Path) -> None:
    copy = tmp_path / "copy.gpkg"
    shutil.copy(session.path, copy)
    with Session.open(copy) as apart:
        take_photos(apart, [photo(tmp_path / "a.jpg")], DAY)
    session.join(FarmCopy(copy)).result()
    assert FarmCopy(copy).bring_pictures(session.path) == 1
    (kept,) = session.farm.photos.values()
    assert whole_of(session, kept) is not None
    assert FarmCopy(copy).bring_pictures(session.path) == 0


def test_opening_a_farm_of_some_size_reads_no_picture(
    session: Session, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    take_photos(session, [photo(tmp_path / "a.jpg")], DAY)
    path, read = session.path, set[str | None]()
    session.close()

    def note(_what: int, table: str | None, *_: object) -> int:
        read.add(table)
        return sqlite3.SQLITE_OK

    def watched(path: Path, *, read_only: bool = False) -> sqlite3.Connection:
        db = connect(path, read_only=read_only)
        db.set_authorizer(note)
        return db

    monkeypatch.setattr(opening, "connect", watched)
    monkeypatch.setattr(opening, "SMALL_BYTES", 0)  # larger ones are not looked through before they are opened
    with Session.open(path) as again:
        assert len(again.farm.photos) == 1
    assert {"photos", "pigmap_changes"} <= read
    assert "pigmap_pictures" not in read
