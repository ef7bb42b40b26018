from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from PySide6.QtGui import QImage, QPainter

from pigmap.drawing import ghost
from pigmap.drawing.clods import clods_in
from pigmap.drawing.key import swatch
from pigmap.drawing.layer import Cells, Label, Labels, Layer, Look, Marks, Outlines, Size, Stroke, Tiles
from pigmap.drawing.rings import rings_of
from pigmap.drawing.scene import map_layers
from pigmap.drawing.tinted import tinted_cells
from pigmap.drawing.tokens import REST_COLOURS, UNKNOWN, rgb
from pigmap.drawing.view import View
from pigmap.qt.fonts import load_fonts
from pigmap.qt.icons import NAMES, icon, icon_pixmap
from pigmap.qt.painter import paint
from pigmap.qt.signs import SIGNS, Brush, draw_sign
from tests.drawing.small_farm import FIFTY, TODAY, RestAndRooting, SmallState, paddock_at, photo, small_farm

pytestmark = pytest.mark.usefixtures("with_fonts")


@pytest.fixture
def with_fonts(qapp: object) -> None:
    load_fonts()


def _painted(layers: tuple[Layer, ...], view: View, density: float = 1.0, pressing: bool = False) -> np.ndarray:
    image = QImage(int(view.width * density), int(view.height * density), QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(density)
    image.fill(0xFFF1F3EF)
    painter = QPainter(image)
    paint(layers, painter, view, images=photo, pressing=pressing)
    painter.end()
    flat = np.frombuffer(image.constBits(), dtype=np.uint8)
    pixels: np.ndarray = flat.reshape(image.height(), -1, 4)[:, : image.width(), 2::-1].astype(int)
    return pixels


def _whole() -> View:
    bounds = shapely.total_bounds([field.outline for field in small_farm().fields.values()])
    return View.around((bounds[0], bounds[1], bounds[2], bounds[3]), 640, 400)


def _cells(clods: bool = True) -> Cells:
    state, tint = SmallState(), RestAndRooting()
    tint.clods = clods
    return tinted_cells(small_farm().fields["long"], state.ground.frame, state.ground.region_of, state.layers, tint)


def test_the_whole_map_is_painted_and_every_colour_of_rest_is_there() -> None:
    pixels = _painted((Tiles("x"), *map_layers(small_farm(), TODAY, [_cells()])), _whole())
    for colour in REST_COLOURS:
        assert (np.abs(pixels - rgb(colour)[:3]).max(axis=2) < 2).any(), colour


@pytest.mark.parametrize("look", ["name", "quiet"])
def test_names_on_dark_bare_ground_are_light_letters_in_a_dark_rim(look: Look) -> None:
    layer = Labels((Label(0, 0, "Long Field", "4.5 ha", look),))
    shares = []
    for dark in (False, True):
        image = QImage(240, 80, QImage.Format.Format_ARGB32)
        image.fill(0xFF808080)
        painter = QPainter(image)
        paint((layer,), painter, View(0, 0, 1.0, 240, 80), dark=dark)
        painter.end()
        grey = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(80, 240, 4)[..., 1].astype(int)
        shares.append(((grey > 200).sum(), (grey < 60).sum()))
    (rim, letters), (letters_on_dark, rim_on_dark) = shares
    assert min(letters, letters_on_dark) > 0
    assert rim > 1.3 * letters
    assert rim_on_dark > 1.3 * letters_on_dark


@pytest.mark.parametrize("rooted", [1, 2, 3, 4])
def test_what_was_seen_is_filled_and_what_is_computed_hollow(rooted: int) -> None:
    view = View(20.0, 20.0, 0.25, 160, 160)
    ink = {}
    for seen in (True, False):
        cells = swatch("#FFFFFF", rooted, seen=seen, wide=40, high=40)
        pixels = _painted((cells,), view, 8.0)
        spots = np.concatenate([clods.spots for clods in clods_in(cells, view).values()])
        inside = spots[((spots > 4) & (spots < 156)).all(axis=1)]
        column, row = np.floor(inside * 8.0).astype(int).T
        ink[seen] = 255 - pixels[row, column].mean()
    assert ink[True] > 200  # the middle of a clod
    assert ink[False] < 0.35 * ink[True]


def test_a_cell_lies_where_its_frame_says() -> None:
    cells = _cells(clods=False)
    middle = cells.frame.to_metres(np.array([[20.5, 70.5]]))[0]
    view = View(float(middle[0]), float(middle[1]), 0.1, 60, 60)
    colour = cells.colours[cells.codes[70, 20], :3].astype(int)
    assert np.abs(_painted((cells,), view)[30, 30] - colour).max() <= 1


def test_pieces_of_a_view_are_the_same_as_the_whole() -> None:
    layers = map_layers(small_farm(), TODAY, [_cells()])
    whole = _whole()
    full = _painted(layers, whole)
    west, _, _, north = whole.bounds
    piece = View(
        west + 400 * whole.metres_per_unit, north - 150 * whole.metres_per_unit, whole.metres_per_unit, 160, 100
    )
    part = _painted(layers, piece)
    different = np.abs(part - full[100:200, 320:480]).max(axis=2) > 40
    assert different.mean() < 0.02


@pytest.mark.parametrize("density", [1.0, 2.0])
@pytest.mark.parametrize("casing", ["", "#FFFFFF"])
def test_small_rings_kept_for_a_scale_look_as_those_drawn_for_one_view(
    density: float, casing: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    rng = np.random.default_rng(2)
    rings = [rng.uniform(-40, 40, 2) + rng.uniform(-9, 9, (corners, 2)) for corners in (3, 4, 5, 7) for _ in range(4)]
    starts = np.cumsum([0, *(len(ring) for ring in rings)]).astype(np.int64)
    stroke = Stroke("#2040A0", Size(1.6, 0.3), casing=casing, casing_width=Size(3.4, 0.6))
    layer = Outlines(np.concatenate(rings), starts, closed=True, strokes=(stroke,), fill="#FFE08080")
    view = View(7.3, -4.1, 0.21, 240.0, 180.0)
    kept = _painted((layer,), view, density)
    monkeypatch.setattr("pigmap.qt.painter_outlines._paint_small", lambda *_: False)
    drawn = _painted((layer,), view, density)
    assert (drawn != (0xEF, 0xF3, 0xF1)).any()
    assert (np.abs(kept - drawn).max(axis=2) > 24).mean() < 0.002


def test_signs_and_words_are_sharp_at_twice_the_density() -> None:
    layers = (Labels((Label(0, 0, "Long Field 8", "day 4 of 5", "plate"),)),)
    view = View(0, 0, 1.0, 200, 80)
    once, twice = _painted(layers, view), _painted(layers, view, 2.0)
    assert twice.shape == (160, 400, 3)
    dark_once, dark_twice = ((p.max(axis=2) < 100).sum() for p in (once, twice))
    assert 3.0 < dark_twice / dark_once < 6.0


def test_a_line_has_a_dark_core_in_a_white_casing() -> None:
    rings = rings_of([shapely.box(-50, -50, 50, 50)])
    net = Outlines(*rings, closed=True, strokes=(Stroke("#121A17", Size(2, 1), "#FFFFFF", Size(8, 2)),))
    across = _painted((net,), View(0, 0, 1.0, 160, 160))[80, 20:40]
    assert across.min() < 40
    assert (across.min(axis=1) == 255).sum() >= 4


def test_holes_of_a_hatched_area_stay_free() -> None:
    ring = shapely.box(0, 0, 100, 100).difference(shapely.box(30, 30, 70, 70))
    outline = Outlines(*rings_of([ring]), closed=True, fill="#FF0000", holes=True)
    pixels = _painted((outline,), View(50, 50, 1.0, 100, 100))
    assert pixels[10, 10].tolist() == [255, 0, 0]
    assert pixels[50, 50].tolist() == [241, 243, 239]


def test_a_band_lies_inside_its_outline() -> None:
    band = Outlines(
        *rings_of([shapely.box(20, 20, 80, 80)]), closed=True, strokes=(Stroke("#0000FF", Size(6, 1)),), inside=True
    )
    pixels = _painted((band,), View(50, 50, 1.0, 100, 100))
    blue = (pixels == (0, 0, 255)).all(axis=2)
    assert blue[50, 21:25].all()
    assert not blue[:, :19].any()
    assert not blue[50, 30:70].any()


def test_pressing_keeps_the_colour_of_a_cell_on_the_whole_and_shows_the_photo_in_it() -> None:
    middle = _cells().frame.to_metres(np.array([[20.0, 70.0]]))[0]
    view = View(float(middle[0]), float(middle[1]), 0.2, 80, 80)
    flat = _painted((Tiles("x"), _cells(clods=False)), view)
    relief = _painted((Tiles("x"), _cells(clods=False)), view, pressing=True)
    assert np.abs(flat.mean(axis=(0, 1)) - relief.mean(axis=(0, 1))).max() < 8
    assert relief.std(axis=(0, 1)).max() > flat.std(axis=(0, 1)).max() + 1


def test_both_ghosts_can_be_told_apart_without_colour() -> None:
    outline = paddock_at(0, 0)
    view = View.around((*outline.bounds,), 300, 300)
    fits = _painted(ghost.fitting(outline, FIFTY.bays_mm, ground_per_grid=0.9996), view)
    refused = _painted(ghost.refused(outline, (outline.centroid.x, outline.centroid.y)), view)
    assert (np.abs(fits[150, 150] - (241, 243, 239)).max()) == 0
    assert (refused[120:180, 120:180].mean(axis=2) < 180).mean() > 0.1


def test_an_outline_that_is_being_clicked_shows_from_its_first_corner() -> None:
    corners = np.array([[0.0, 0.0], [50.0, 0.0]])
    assert ghost.walked(np.empty((0, 2))) == ()
    assert len(ghost.walked(corners[:1], (10.0, 10.0))) == 2
    assert len(ghost.walked(corners, (10.0, 10.0))) == 4


@pytest.mark.parametrize("sign", SIGNS)
def test_every_sign_leaves_ink(sign: str) -> None:
    image = QImage(60, 60, QImage.Format.Format_RGB32)
    image.fill(0xFF808080)
    painter = QPainter(image)
    painter.translate(30, 30)
    draw_sign(painter, sign, Brush(24, "#121A17", "#FFFFFF", 2, 3))
    painter.end()
    flat = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(60, 60, 4)
    assert (np.abs(flat[..., :3].astype(int) - 128).max(axis=2) > 60).sum() > 20


@pytest.mark.parametrize("name", NAMES)
def test_every_icon_is_drawn_in_the_colour_that_is_asked_for(name: str) -> None:
    image = icon_pixmap(name, 24, "#B3211C", 2.0).toImage()
    colours = {
        image.pixelColor(x, y).name() for x in range(48) for y in range(48) if image.pixelColor(x, y).alpha() > 250
    }
    assert "#b3211c" in colours
    assert not icon(name, 24, "#121A17").isNull()


def test_nothing_is_painted_out_of_view() -> None:
    far = View(0.0, 0.0, 1.0, 100, 100)
    pixels = _painted(map_layers(small_farm(), TODAY, [_cells()])[1:], far)
    assert (pixels == (241, 243, 239)).all()


def test_marks_without_points_and_empty_labels_are_no_trouble() -> None:
    layers = (
        Marks(np.empty((0, 2)), "dot", Size(4, 1)),
        Labels(()),
        Outlines(np.empty((0, 2)), np.zeros(1, np.int64), closed=True),
    )
    assert (_painted(layers, View(0, 0, 1.0, 20, 20)) == (241, 243, 239)).all()


def test_the_sign_of_unknown_ground_is_light_on_dark_bare_ground() -> None:
    cells = _cells()
    layer = replace(cells, codes=np.where(cells.codes >= 0, np.uint8(UNKNOWN), cells.codes))
    view = _whole()
    light = []
    for dark in (False, True):
        image = QImage(640, 400, QImage.Format.Format_ARGB32)
        image.fill(0xFF10161A)
        painter = QPainter(image)
        paint((layer,), painter, view, dark=dark)
        painter.end()
        green = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(400, 640, 4)[..., 1]
        light.append((int((green > 225).sum()), int((green > 120).sum())))
    assert light[0][0] > 0
    assert light[1][0] == 0
    assert light[1][1] > 0
