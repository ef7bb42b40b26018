"""Images on the web, by a server on this computer: read by parts, or refused in words; nobody waits for long."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from time import perf_counter

import numpy as np
import pytest

from pigmap.errors import RasterError
from pigmap.imagery.overview import drop_outdated, make_overview, overview
from pigmap.imagery.source import ImageSource, open_source
from pigmap.imagery.unread import TileLaterError
from pigmap.imagery.vet import vet
from pigmap.imagery.where import called, is_address, web_address, web_path
from pigmap.records import Projection
from tests.imagery.conftest import NORTH, WEST, told_colours
from tests.imagery.web_server import Server, serving

MakeImage = Callable[..., Path]
OWN = "Ask its owner for an address that is open to you; some hold for a few days only."
DOWNLOAD = "Download it, and choose the file."


@pytest.fixture
def bands() -> np.ndarray[tuple[int, ...], np.dtype[np.uint8]]:
    noise = np.random.default_rng(2).integers(0, 60, (3, 1100, 1300), dtype=np.uint8)
    return told_colours(1100, 1300) // 2 + noise


@pytest.fixture
def server(make_image: MakeImage, bands: np.ndarray, monkeypatch: pytest.MonkeyPatch) -> Iterator[Server]:
    for module in ("web_file", "web"):
        monkeypatch.setattr(f"pigmap.imagery.{module}.WAIT_S", 1)
    with serving(make_image(bands, tiled=True, compress="deflate")) as made:
        yield made


@pytest.mark.parametrize(
    "address",
    [
        "https://maps.example/2025/north field.tif",
        "http://127.0.0.1:8000/aerial.tif?key=a1&as=cog",
        "https://user@maps.example/aerial.tif",
    ],
)
def test_a_path_stands_for_an_address(address: str) -> None:
    assert is_address(address)
    assert web_address(web_path(address)) == address
    assert not web_address(Path("farm/https/aerial.tif"))


def test_what_an_address_asks_for_is_never_shown() -> None:
    assert called(web_path("https://maps.example/aerial.tif?key=secret/a")) == "aerial.tif"


def test_an_image_is_read_by_parts(server: Server, bands: np.ndarray, projection: Projection) -> None:
    with open_source(web_path(server.address()), projection) as source:
        got = source.read((WEST + 10, NORTH - 60, WEST + 60, NORTH - 20), (100, 80), smooth=False)
        tile = source.tile(0, 1, 1)
        assert not source.troubles
    assert (got[..., :3] == np.moveaxis(bands[:, 40:120, 20:120], 0, -1)).all()
    assert (tile[..., :3] == np.moveaxis(bands[:, 512:1024, 512:1024], 0, -1)).all()


REFUSED = [
    ("404", "{host} has no aerial.tif at this address (its answer: 404).",
     "Look whether the address is whole, or ask who gave it to you."),
    ("403", "{host} does not let you read aerial.tif (its answer: 403).", OWN),
    ("401", "{host} does not let you read aerial.tif (its answer: 401).", OWN),
    ("503", "{host} cannot hand out aerial.tif now (its answer: 503).",
     "Try again later, or download it, and choose the file."),
    ("whole", "{host} hands out aerial.tif only as a whole, not by parts.", DOWNLOAD),
    ("page", "The address leads to a page of {host}, not to an image.",
     "Open the page, and copy the address of the image itself."),
    ("silent", "{host} does not answer within 1 s.",
     "Look whether the computer is on line and try again, or download the image and choose the file."),
    ("stalls", "The connection to {host} broke off while aerial.tif was being read.",
     "Try again, or download it, and choose the file."),
    ("breaks off", "The connection to {host} broke off while aerial.tif was being read.",
     "Try again, or download it, and choose the file."),
]  # fmt: skip


@pytest.mark.parametrize(("manner", "message", "remedy"), REFUSED, ids=[row[0] for row in REFUSED])
def test_what_a_server_does_not_hand_out_is_refused_with_a_remedy(
    server: Server, manner: str, message: str, remedy: str
) -> None:
    server.manner = manner
    begun = perf_counter()
    with pytest.raises(RasterError) as caught:
        vet(web_path(server.address()))
    assert (str(caught.value.message), str(caught.value.remedy)) == (message.format(host=server.host), remedy)
    assert perf_counter() - begun < 10


def test_a_file_of_0_bytes_and_one_that_is_no_image_are_refused(server: Server) -> None:
    server.content = b""
    with pytest.raises(RasterError, match="is empty"):
        vet(web_path(server.address()))
    server.content = b"move the sows on Monday\n" * 40
    with pytest.raises(RasterError) as caught:
        vet(web_path(server.address("other/aerial.tif")))
    assert str(caught.value.message) == "aerial.tif is not an image that can be read here."


def test_a_zip_on_the_web_and_a_server_that_is_not_there_are_refused(server: Server) -> None:
    with pytest.raises(RasterError) as caught:
        vet(web_path(server.address("all.zip")))
    assert str(caught.value.message) == "all.zip is a zip file on the web, which cannot be read there."
    assert str(caught.value.remedy) == DOWNLOAD
    server.beside["flight"] = b"PK\x03\x04" + bytes(100)
    with pytest.raises(RasterError) as caught:
        vet(web_path(server.address("flight")))
    assert str(caught.value.message) == "flight is a zip file on the web, which cannot be read there."
    with pytest.raises(RasterError) as caught:
        vet(web_path("http://127.0.0.1:9/aerial.tif"))  # nobody listens at that port
    assert str(caught.value.message) == "127.0.0.1:9 cannot be reached."
    assert str(caught.value.remedy) == ("Look whether the address is right and the computer is on line, and try again.")


@pytest.mark.parametrize("manner", ["stalls", "breaks off", "503"])
def test_tiles_come_later_where_the_connection_fails_and_the_server_is_left_alone_meanwhile(
    server: Server, projection: Projection, manner: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    told: list[str] = []
    with open_source(web_path(server.address()), projection) as source:
        source.told = lambda why: told.append(str(why.message))
        whole = source.tile(0, 0, 0)
        server.manner = manner
        begun = perf_counter()
        with pytest.raises(TileLaterError):
            source.tile(0, 2, 1)
        assert perf_counter() - begun < 10
        asked = server.asked
        with pytest.raises(TileLaterError):  # at once: the server is not asked again so soon
            source.tile(0, 2, 0)
        assert server.asked == asked
        assert told == [f"{server.host} does not answer: of aerial.tif the map shows what came so far."]
        server.manner = "well"
        server.let_go.set()
        monkeypatch.setattr(source, "_rests_until", 0.0)
        assert source.tile(0, 2, 1)[..., 3].max() == 255
        assert (source.tile(0, 0, 0) == whole).all()


def test_closing_does_not_wait_for_a_server(server: Server, projection: Projection) -> None:
    import threading

    source: ImageSource = open_source(web_path(server.address()), projection)
    server.manner = "stalls"
    reader = threading.Thread(target=lambda: source.read(source.bounds, (300, 300)))
    reader.start()
    while not any(handle._lock.locked() for handle in source._handles):
        pass
    begun = perf_counter()
    source.close()
    assert perf_counter() - begun < 0.5
    server.let_go.set()
    reader.join(10)
    assert not reader.is_alive()


def test_its_small_picture_is_kept_for_days_off_line(server: Server, projection: Projection, tmp_path: Path) -> None:
    path = web_path(server.address())
    with open_source(path, projection) as source:
        made = make_overview(source, projection, tmp_path / "kept")
    server.manner = "503"
    found = overview(path, projection, tmp_path / "kept")
    assert found == made
    assert made.picture.is_file()


def test_the_small_picture_of_another_image_at_the_same_address_goes(
    server: Server, projection: Projection, tmp_path: Path
) -> None:
    path, folder = web_path(server.address()), tmp_path / "kept"
    with open_source(path, projection) as source:
        make_overview(source, projection, folder)
        drop_outdated(path, projection, folder, "")
    assert overview(path, projection, folder) is not None
    server.tag = "second"
    with open_source(path, projection):
        drop_outdated(path, projection, folder, "")
    assert overview(path, projection, folder) is None


def test_a_small_picture_with_holes_is_not_kept(server: Server, projection: Projection, tmp_path: Path) -> None:
    path = web_path(server.address())
    with open_source(path, projection) as source:
        server.manner = "503"
        with pytest.raises(ConnectionError):
            make_overview(source, projection, tmp_path / "kept")
    assert overview(path, projection, tmp_path / "kept") is None
