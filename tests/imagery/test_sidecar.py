from __future__ import annotations

import errno
import os
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from rasterio.errors import RasterioIOError

from pigmap.errors import PigmapError
from pigmap.geometry.projection import projection_for
from pigmap.imagery.pyramid import Spot
from pigmap.imagery.sidecar import Growing, begin, grow, kept_tiles, slow_form
from pigmap.imagery.sidecar_need import FileForm, form_of
from pigmap.imagery.sidecar_order import tile_count
from pigmap.imagery.sidecar_pack import DamagedError, GrowingPack
from pigmap.imagery.sidecar_place import Place
from pigmap.imagery.sidecar_source import NotYetError
from pigmap.imagery.source import ImageSource, open_source
from pigmap.records import Projection

MakeImage = Callable[..., Path]


def grass(rows: int, columns: int) -> NDArray[np.uint8]:
    """Return a picture that changes slowly, so that a JPEG keeps it nearly as it is."""
    down, across = np.mgrid[0:rows, 0:columns].astype(np.float64)
    waves = [np.sin(across / (90 + 20 * n) + n) + np.cos(down / (70 + 15 * n)) for n in range(3)]
    return np.asarray([120 + 50 * wave for wave in waves]).astype(np.uint8)


@pytest.fixture
def place(tmp_path: Path) -> Place:
    return Place(tmp_path / "kept", 1_000_000_000)


@pytest.fixture
def slow(make_image: MakeImage) -> Path:
    return make_image(grass(1300, 1700), compress="lzw", blockysize=1)


@pytest.fixture
def source(slow: Path, projection: Projection) -> Iterator[ImageSource]:
    with open_source(slow, projection) as opened:
        yield opened


def begun(source: ImageSource, projection: Projection, place: Place) -> Growing:
    growing = begin(source, projection, place, form_of(source.facts, warped=source.warped))
    assert growing is not None
    return growing


def made(source: ImageSource, projection: Projection, place: Place) -> bytes:
    growing = begun(source, projection, place)
    assert grow(growing)
    growing.tiles.close()
    return place.whole(growing.key).read_bytes()


def after(count: int) -> Callable[[], bool]:
    """Return what says stop at its so-manieth question."""
    asked = iter(range(count))
    return lambda: next(asked, None) is None


def test_tiles_are_the_image_and_each_level_is_the_mean_of_the_one_below(
    source: ImageSource, projection: Projection, place: Place
) -> None:
    made(source, projection, place)
    kept = kept_tiles(source.facts.path, projection, place)
    assert kept is not None
    assert (kept.bounds, kept.pyramid, kept.levels) == (source.bounds, source.pyramid, 3)
    straight = grass(1300, 1700)
    for level in range(3):
        whole = np.zeros((3, -(-1300 // 2**level), -(-1700 // 2**level)))
        for spot in kept.pyramid.tiles(kept.bounds, level):
            tile = kept.tile(*spot)
            assert tile.shape == (512, 512, 4)
            top, left = spot.row * 512, spot.column * 512
            part = whole[:, top : top + 512, left : left + 512]
            part[:] = np.moveaxis(tile[: part.shape[1], : part.shape[2], 2::-1], -1, 0)
            assert (tile[: part.shape[1], : part.shape[2], 3] == 255).all()
            assert not tile[part.shape[1] :].any()
            assert not tile[:, part.shape[2] :].any()
        step = 2**level
        rows, columns = 1300 // step, 1700 // step
        mean = straight[:, : rows * step, : columns * step].reshape(3, rows, step, columns, step).mean(axis=(2, 4))
        assert np.abs(whole[:, :rows, :columns] - mean).mean() < 2.0
        assert np.abs(whole[:, :rows, :columns] - mean).max() < 14
    kept.close()


def test_what_is_stopped_anywhere_and_gone_on_with_becomes_the_same_pack(
    source: ImageSource, projection: Projection, place: Place, tmp_path: Path
) -> None:
    whole = made(source, projection, Place(tmp_path / "at once", 10**9))
    rng = np.random.default_rng(8)
    for stops in range(40):  # noqa: B007
        growing = begun(source, projection, place)
        done = grow(growing, stop=after(int(rng.integers(1, 14))))
        growing.tiles.close()
        if done:
            break
    assert 3 <= stops < 39
    assert place.whole(growing.key).read_bytes() == whole


@pytest.mark.parametrize("cut", [1, 20, 23, 1000, 40_000])
def test_what_was_killed_in_the_middle_of_a_tile_is_gone_on_with(
    source: ImageSource, projection: Projection, place: Place, tmp_path: Path, cut: int
) -> None:
    whole = made(source, projection, Place(tmp_path / "at once", 10**9))
    growing = begun(source, projection, place)
    assert not grow(growing, stop=after(14))
    growing.tiles.close()
    part = place.growing(growing.key)
    torn = part.read_bytes()[:-cut]
    part.write_bytes(torn)
    again = begun(source, projection, place)
    assert 0 < len(again.pack.records) < tile_count(source.pyramid)
    again.tiles.close()
    part.write_bytes(torn + b"\0" * 3000)  # a disk that was switched off leaves zeros behind
    assert made(source, projection, place) == whole


def test_a_flipped_bit_in_what_was_there_is_made_anew(
    source: ImageSource, projection: Projection, place: Place, tmp_path: Path
) -> None:
    whole = made(source, projection, Place(tmp_path / "at once", 10**9))
    growing = begun(source, projection, place)
    grow(growing, stop=after(14))
    growing.tiles.close()
    part = place.growing(growing.key)
    bits = bytearray(part.read_bytes())
    bits[len(bits) // 2] ^= 4
    part.write_bytes(bits)
    assert made(source, projection, place) == whole


def test_it_stops_within_a_moment(make_image: MakeImage, projection: Projection, place: Place) -> None:
    path = make_image(np.tile(grass(1024, 2048), (1, 2, 2)), compress="lzw", blockysize=1)
    asked: list[float] = []

    def stop() -> bool:
        asked.append(time.thread_time())
        return False

    with open_source(path, projection) as source:
        growing = begun(source, projection, place)
        assert grow(growing, stop=stop)
        growing.tiles.close()
    longest = float(np.diff(asked).max())
    assert longest < 0.25  # 50 ms is the aim, which the benchmark measures; a machine under tests is slower


def test_while_it_grows_tiles_come_from_it_or_from_the_image_where_that_is_quick(
    source: ImageSource, projection: Projection, place: Place
) -> None:
    growing = begun(source, projection, place)
    growing.tiles._quick = lambda level: level == 0
    assert growing.tiles.tile(0, 0, 0)[100, 200].tolist() == [
        *source.read(source.bounds, (1700, 1300))[100, 200, 2::-1],
        255,
    ]
    with pytest.raises(NotYetError):
        growing.tiles.tile(2, 0, 0)
    rows: list[tuple[Spot, float]] = []
    assert grow(growing, told=lambda spot, share: rows.append((spot, share)))
    assert [spot.level for spot, _ in rows] == [0, 0, 1, 0, 1, 2]
    assert [share for _, share in rows] == sorted(share for _, share in rows)
    assert rows[-1][1] == 1.0
    assert growing.tiles.tile(2, 0, 0)[:300, :400, 3].min() == 255  # also once its file has its lasting name
    growing.tiles.close()


def test_transparent_parts_are_kept_without_loss(make_image: MakeImage, projection: Projection, place: Place) -> None:
    bands = grass(1100, 1100)
    bands[:, :, :600] = 7
    bands[:, 20:30, 20:30] = 99
    with open_source(make_image(bands, nodata=7), projection) as source:
        made(source, projection, place)
        kept = kept_tiles(source.facts.path, projection, place)
        assert kept is not None
        straight = source.read(source.bounds, (1100, 1100))
        for column in (0, 1):
            tile, piece = kept.tile(0, column, 0), straight[:512, column * 512 : column * 512 + 512]
            assert (tile[..., [2, 1, 0, 3]] == piece).all()
        assert kept.tile(0, 0, 1).max() == 0
        assert kept.pack.records[Spot(0, 0, 1)].length == 0
        kept.close()


def test_half_transparent_colours_are_multiplied_as_a_screen_wants_them(
    make_image: MakeImage, projection: Projection, place: Place
) -> None:
    bands = np.concatenate([grass(1100, 1100), np.full((1, 1100, 1100), 128, dtype=np.uint8)])
    from rasterio.enums import ColorInterp

    told = (ColorInterp.red, ColorInterp.green, ColorInterp.blue, ColorInterp.alpha)
    with open_source(make_image(bands, colorinterp=told), projection) as source:
        made(source, projection, place)
        kept = kept_tiles(source.facts.path, projection, place)
        assert kept is not None
        blue, green, red, alpha = kept.tile(0, 0, 0)[300, 400].tolist()
        assert alpha == 128
        assert [red, green, blue] == [round(int(value) * 128 / 255) for value in bands[:3, 300, 400]]
        assert (kept.tile(1, 0, 0)[100, 100, :3] <= 128).all()
        kept.close()


def test_a_warped_image_is_blended(make_image: MakeImage, place: Place) -> None:
    elsewhere = projection_for("EPSG:32633", (9.0, 50.0))
    board = np.kron(np.indices((650, 650)).sum(axis=0) % 2, np.ones((2, 2)))
    path = make_image(np.repeat((board * 255).astype(np.uint8)[None], 3, axis=0))
    with open_source(path, elsewhere) as source:
        made(source, elsewhere, place)
        kept = kept_tiles(path, elsewhere, place)
        assert kept is not None
        live, tile = source.tile(0, 1, 1), kept.tile(0, 1, 1)
        kept.close()
    inside = live[..., 3] == 255
    assert np.isin(live[inside][:, 0], (0, 255)).all()
    assert ((tile[inside][:, 0] > 60) & (tile[inside][:, 0] < 195)).mean() > 0.2


def test_another_time_of_the_image_another_projection_or_other_pins_have_none_yet(
    source: ImageSource, projection: Projection, place: Place
) -> None:
    made(source, projection, place)
    path = source.facts.path
    kept = kept_tiles(path, projection, place)
    assert kept is not None
    kept.close()
    assert kept_tiles(path, projection_for("EPSG:32633", (9.0, 50.0)), place) is None
    assert kept_tiles(path, projection, place, "pinned") is None
    os.utime(path, ns=(1, 1))
    assert kept_tiles(path, projection, place) is None
    path.unlink()
    assert kept_tiles(path, projection, place) is None


def test_an_image_that_changes_meanwhile_keeps_nothing(
    source: ImageSource, projection: Projection, place: Place
) -> None:
    growing = begun(source, projection, place)
    assert not grow(growing, told=lambda *_: os.utime(source.facts.path, ns=(1, 1)))
    assert list(place.folder.iterdir()) == []


def test_a_disk_that_fills_is_said_in_words_and_given_its_room_back(
    source: ImageSource, projection: Projection, place: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    growing = begun(source, projection, place)
    write = growing.pack._write

    def full(content: bytes) -> None:
        if growing.pack.taken > 100_000:
            raise OSError(errno.ENOSPC, "No space left on device")
        write(content)

    monkeypatch.setattr(growing.pack, "_write", full)
    with pytest.raises(PigmapError) as why:
        grow(growing)
    assert "is too full for the pictures kept of aerial.tif" in str(why.value)
    assert "Make room, or choose another folder" in str(why.value)
    assert list(place.folder.iterdir()) == []
    assert growing.tiles.tile(0, 0, 0)[5, 5, 3] == 255  # the map goes on with the image itself


def test_a_disk_too_full_from_the_start_is_said_before_anything_is_written(
    source: ImageSource, projection: Projection, place: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    import shutil

    monkeypatch.setattr(shutil, "disk_usage", lambda _: shutil._ntuple_diskusage(10**9, 10**9 - 1000, 1000))
    with pytest.raises(PigmapError, match=r"is too full .* Make room"):
        begun(source, projection, place)
    assert not place.folder.exists()


def test_a_folder_that_takes_nothing_is_said_with_what_to_do(
    source: ImageSource, projection: Projection, tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(PigmapError) as why:
        begun(source, projection, Place(tmp_path / "file" / "kept", 10**9))
    assert "cannot be written to" in str(why.value)
    assert "Choose another folder under More, Kept pictures" in str(why.value)


def test_more_than_may_be_kept_is_said_with_both_amounts(
    source: ImageSource, projection: Projection, tmp_path: Path
) -> None:
    with pytest.raises(PigmapError) as why:
        begun(source, projection, Place(tmp_path / "kept", 1_000_000))
    assert "aerial.tif would take 1 MB; kept pictures may take 1 MB" in str(why.value)
    assert "Let kept pictures take more under More, Kept pictures" in str(why.value)


def test_two_programs_do_not_make_the_same_tiles(source: ImageSource, projection: Projection, place: Place) -> None:
    first = begun(source, projection, place)
    assert begin(source, projection, place, first.form) is None
    assert grow(first)
    first.tiles.close()


def test_what_is_damaged_later_goes_and_says_so(source: ImageSource, projection: Projection, place: Place) -> None:
    made(source, projection, place)
    kept = kept_tiles(source.facts.path, projection, place)
    assert kept is not None
    file = next(place.folder.iterdir())
    bits = bytearray(file.read_bytes())
    record = kept.pack.records[Spot(0, 1, 1)]
    bits[record.at + 50] ^= 1
    file.write_bytes(bits)
    assert kept.tile(0, 1, 1).max() == 0
    assert [str(said) for said in kept.troubles] == ["Kept pictures of aerial.tif were damaged; they are made again."]
    assert kept.tile(0, 0, 1)[5, 5, 3] == 255
    kept.close()
    assert kept_tiles(source.facts.path, projection, place) is None


@pytest.mark.parametrize(
    "harm", [lambda whole: whole[:-5], lambda whole: b"", lambda whole: b"X" + whole[1:], lambda whole: whole[:40]]
)
def test_a_pack_that_is_not_whole_counts_as_none_and_goes(
    source: ImageSource, projection: Projection, place: Place, harm: Callable[[bytes], bytes]
) -> None:
    whole = made(source, projection, place)
    file = next(place.folder.iterdir())
    file.write_bytes(harm(whole))
    assert kept_tiles(source.facts.path, projection, place) is None
    assert not file.exists()


def test_an_image_of_flat_colours_is_kept_without_loss(
    make_image: MakeImage, projection: Projection, place: Place
) -> None:
    numbers = ((np.indices((1100, 1100)).sum(axis=0) // 9) % 3).astype(np.uint8)[None]
    table = {0: (200, 10, 10, 255), 1: (10, 200, 10, 255), 2: (10, 10, 200, 255)}
    with open_source(make_image(numbers, colormap=table), projection) as source:
        made(source, projection, place)
        kept = kept_tiles(source.facts.path, projection, place)
        assert kept is not None
        assert (kept.tile(0, 1, 1)[..., [2, 1, 0, 3]] == source.tile(0, 1, 1)).all()
        kept.close()


def test_which_images_are_slow(make_image: MakeImage, projection: Projection) -> None:
    picture = np.zeros((3, 2000, 2600), dtype=np.uint8)

    def form(**how: Any) -> FileForm | None:
        with open_source(make_image(picture, name="tried.tif", **how), projection) as source:
            return slow_form(source)

    assert form() is None  # rows that are not compressed are read where they lie
    assert form(compress="lzw", blockysize=1) is not None
    assert form(compress="deflate", tiled=True, blockxsize=256, blockysize=256) is None
    assert form(crs="EPSG:32633") is not None


def test_one_that_grows_has_a_size_that_can_be_told(source: ImageSource, projection: Projection, place: Place) -> None:
    growing = begun(source, projection, place)
    grow(growing, stop=after(20))
    assert isinstance(growing.pack, GrowingPack)
    assert growing.pack.taken == place.growing(growing.key).stat().st_size
    growing.tiles.close()


@pytest.mark.parametrize("elsewhere", [False, True])
def test_of_an_image_that_cannot_be_read_everywhere_no_tiles_are_kept(
    slow: Path, projection: Projection, place: Place, elsewhere: bool
) -> None:
    torn = slow.read_bytes()
    slow.write_bytes(torn[: len(torn) * 2 // 3])
    onto = projection_for("EPSG:32633", (9.0, 50.0)) if elsewhere else projection
    with open_source(slow, onto) as source:
        growing = begun(source, onto, place)
        with pytest.raises(PigmapError) as why:
            grow(growing)
        assert str(why.value) == (
            "Parts of aerial.tif cannot be read, so no pictures are kept of it. It stays slow to look at. "
            "Fetch or copy the image again."
        )
        assert list(place.folder.iterdir()) == []


@pytest.mark.parametrize(
    ("fault", "said"),
    [
        (
            MemoryError(),
            "There is too little memory to cut aerial.tif into small pictures. The image stays slow to look",
        ),
        (
            DamagedError("1"),
            "gave back other bytes than were written to it, for the pictures kept of aerial.tif. Have this",
        ),
        (RasterioIOError("gone"), "Parts of aerial.tif cannot be read, so no pictures are kept of it. It stays slow"),
        (
            OSError(errno.EIO, "Input/output error"),
            "cannot be written to {folder}: Input/output error. The image stays",
        ),
    ],
)
def test_whatever_ends_it_is_said_in_words_and_leaves_nothing_behind(
    source: ImageSource,
    projection: Projection,
    place: Place,
    monkeypatch: pytest.MonkeyPatch,
    fault: Exception,
    said: str,
) -> None:
    def fail(*_: object, **__: object) -> bool:
        raise fault

    monkeypatch.setattr("pigmap.imagery.sidecar.build", fail)
    with pytest.raises(PigmapError) as why:
        grow(begun(source, projection, place))
    assert said.format(folder=place.folder) in str(why.value)
    assert list(place.folder.iterdir()) == []
