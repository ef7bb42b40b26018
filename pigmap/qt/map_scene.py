"""What the map shows of a stage: its layers, made anew when the farm, the ground, the day or the look changes."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

import shapely
from PySide6.QtCore import QObject, QTimer, Signal
from shapely.geometry.base import BaseGeometry

from pigmap.drawing.layer import Cells
from pigmap.drawing.scene import empty_ground, map_layers
from pigmap.drawing.tint import Tint, asks_for
from pigmap.errors import PigmapError, PluginError
from pigmap.imagery.look import Look, look_of
from pigmap.imagery.unread import TileLaterError
from pigmap.imagery.where import web_address
from pigmap.qt import moved_images
from pigmap.qt.field_tint import field_cells
from pigmap.qt.figures import Figures
from pigmap.qt.following import sentence
from pigmap.qt.ground_view import Bounds, GroundView
from pigmap.qt.growing import Growing
from pigmap.qt.kept_off import KeptOff
from pigmap.qt.moved_images import DEED, moved_image
from pigmap.qt.photo import Photo, TileSource
from pigmap.qt.small_picture import decoding
from pigmap.records import ChangeSet, Record
from pigmap.session.images import FarmImages
from pigmap.session.personal import load_personal

LINES_LATER_MS = 40
"""Lines and words follow the colours of another day so much later, so that dragging the date stays smooth [ms]."""
AT_ONCE_CELLS = 150_000
"""Up to so many cells clods change together with the colours."""
MARGIN_M = 20.0
"""Ground shown round a farm that has no extent of its own."""


class MapScene(QObject):
    """Keeps a map in step with its stage.

    A change of day recolours the ground at once; lines and words follow a moment later. Another tint leaves them.
    """

    unread = Signal(object)
    """An image has moved or cannot be shown; sent by the thread that found out, with the `PigmapError`."""
    _met = Signal(str, object)
    """Something is wrong with an open image: its uid, and the `PigmapError`."""

    def __init__(self, canvas: GroundView) -> None:
        super().__init__(canvas)
        self.canvas = canvas
        self.stage = canvas.stage
        self.images = FarmImages(self.stage.session)
        self.growing = Growing(canvas, self.images)
        self._cells: dict[str, Cells] = {}
        self._figures = Figures(self.stage)
        self._late_clods = False
        self._kept_off = KeptOff(self.stage)
        self._unkept: set[str] = set()
        self._said: set[str] = set()
        self._linked: list[tuple[str, str, str, Look]] = []
        self._later = QTimer(self, singleShot=True)
        self._later.timeout.connect(self.show_all)
        self._colours = QTimer(self, singleShot=True)
        self._colours.timeout.connect(self._show_colours)
        self._connect()
        self._fit_memory()
        canvas.whole = self.extent()
        canvas.show_whole()
        canvas.wait_for(self.settle)
        self._link_photos()
        self._tint_all()
        self.show_all()

    def _connect(self) -> None:
        stage = self.stage
        stage.farm_changed.connect(self._farm_changed)
        stage.ground_changed.connect(self._ground_changed)
        stage.day_changed.connect(self._recolour)
        stage.tint_changed.connect(self._show_other_way)
        stage.picked_changed.connect(self._soon)
        stage.verb_changed.connect(self._verb_changed)
        stage.theme_changed.connect(self._soon)
        self.unread.connect(self._say_unread)
        self._met.connect(self._hear)
        self.images.told = self._met.emit
        self.growing.refused.connect(self._say_unkept)
        self.growing.changed.connect(self._show_changed)
        self.growing.grew.connect(stage.picture_grew)
        stage.kept_changed.connect(self._fit_memory)
        stage.playback.shown = self._is_shown

    @property
    def complete(self) -> bool:
        """Whether the ground of every field is computed and shown."""
        if self._colours.isActive():
            return False
        return self._tint() is None or self._cells.keys() >= self.stage.session.farm.fields.keys()

    def _is_shown(self) -> bool:
        """Whether colours, lines and words of the day are all there."""
        return not (self._later.isActive() or self._colours.isActive()) and self.canvas.complete

    def extent(self) -> Bounds:
        """Return the ground of all fields, else of all images that are known: west, south, east, north [m]."""
        farm = self.stage.session.farm
        shapes: list[BaseGeometry] = [field.outline for field in farm.fields.values()]
        shapes += [paddock.outline for paddock in farm.paddocks.values()]
        if shapes:
            west, south, east, north = (float(bound) for bound in shapely.total_bounds(shapes))
            return west - MARGIN_M, south - MARGIN_M, east + MARGIN_M, north + MARGIN_M
        known = [found.bounds for uid in farm.images if (found := self.images.overview(uid)) is not None]
        return known[0] if known else empty_ground(farm)

    def settle(self) -> None:
        """Wait until the ground of every field is computed, and show it."""
        self.stage.session.ground.settle()
        self._tint_all()
        self.stage.session.seen.settle()
        self._tint_all()
        self.show_all()
        self.canvas.picture.spoil("lines")  # painted at a stretch: pieces differ by a shade from the whole

    def show_all(self) -> None:
        """Make all layers anew."""
        stage = self.stage
        self._later.stop()
        self._colours.stop()
        if self._late_clods:
            self._late_clods = False
            self._tint_all()
        self.canvas.show_layers(
            map_layers(
                stage.session.farm,
                stage.day,
                list(self._cells.values()),
                picked=stage.picked,
                theme=stage.theme,
                language=stage.language,
                system=stage.units,
                today=stage.today,
                figures=self._figures.labels(self._tint()),
                kept_off=self._kept_off.shapes(),
            ),
            apart=stage.playback.running,
        )

    def _verb_changed(self) -> None:
        """Show what pigs are kept off with the verbs that heed it, and not with others."""
        if self._kept_off.differs():
            self._soon()

    def _soon(self) -> None:
        self._later.start(0)

    def _recolour(self) -> None:
        """Show the colours of another day at once; lines and words follow, and while days are played come with them."""
        self.canvas.fading.stop()
        if self.stage.playback.running:
            self._tint_all()
            self.show_all()
            self.canvas.show_now()
            return
        self._show_colours_first()
        if not self._later.isActive():
            self._later.start(LINES_LATER_MS)

    def _show_other_way(self) -> None:
        """Show the ground in other colours, which fade in; lines and words are the same, but for figures."""
        coloured, bore = bool(self._cells), self._figures.borne
        self.canvas.fading.keep()
        self._show_colours_first()
        self.canvas.fading.begin()
        bears = bore or self._figures.of(self._tint()) or self._kept_off.differs()
        if (self._late_clods or bears or coloured != bool(self._cells)) and not self._later.isActive():
            self._later.start(LINES_LATER_MS)

    def _show_colours_first(self) -> None:
        """Show the colours at once; on a large farm clods follow with the lines, so that a drag stays smooth."""
        self._late_clods = sum(cells.codes.size for cells in self._cells.values()) > AT_ONCE_CELLS
        self._tint_all(clods=not self._late_clods)
        self.canvas.show_cells(list(self._cells.values()))

    def _ground_changed(self, field_uid: str) -> None:
        self._tint_field(field_uid)
        if self._figures.borne:
            self._soon()
        if not self._colours.isActive():
            self._colours.start(0)  # the ground of several fields often comes together

    def _show_colours(self) -> None:
        self.canvas.show_cells(list(self._cells.values()))

    def _farm_changed(self, changes: ChangeSet) -> None:
        if any(changes.of("images", "settings")):
            self._link_photos()
        if any(changes.of("fields")):
            self.canvas.whole = self.extent()
        if any(changes.of("fields", "terrains")):
            self._tint_all()
        self.show_all()
        touched = [shape for row in changes.rows for side in (row.before, row.after) for shape in _shapes(side)]
        if touched:
            west, south, east, north = shapely.total_bounds(touched).tolist()
            self.canvas.show_at_once((west, south, east, north))

    def _tint_all(self, *, clods: bool = True) -> None:
        farm = self.stage.session.farm
        for gone in set(self._cells) - set(farm.fields):
            del self._cells[gone]
        for uid in farm.fields:
            self._tint_field(uid, clods=clods)

    def _tint_field(self, uid: str, *, clods: bool = True) -> None:
        """Colour one field; what it showed stays while its ground is computed."""
        stage = self.stage
        field, tint = stage.session.farm.fields.get(uid), self._tint()
        if field is None or tint is None:
            self._cells.pop(uid, None)
            return
        state = stage.session.seen.state(uid, stage.day, stage.today, asks_for(tint))
        if state is not None:
            computed = stage.day > stage.today
            self._cells[uid] = field_cells(field, state, tint, computed=computed, clods=clods)

    def _tint(self) -> Tint | None:
        try:
            tint: Tint = self.stage.session.registry.load("tints", self.stage.tint)
        except PluginError:
            return None
        return tint

    def _link_photos(self) -> None:
        """Have every image shown: its small picture at once, its tiles from a worker."""
        farm = self.stage.session.farm
        where = farm.projection.definition  # pins are in metres of the farm: they stay wherever it lies on earth
        linked = [(image.uid, image.link, image.pins or where, look_of(image)) for image in farm.images.values()]
        if linked == self._linked:
            return
        before = {uid: (uid, *how) for uid, *how in self._linked}
        self._linked = linked
        self.canvas.show_photos({uid: self._linked_photo(uid) for uid, *_ in linked})
        for each in linked:
            if before.get(each[0], each) != each:  # shown elsewhere, or in other colours: no tile of it serves
                self.canvas.show_anew(each[0])

    def _linked_photo(self, uid: str) -> Photo:
        photo, found = Photo(partial(self._source, uid)), self.images.overview(uid)
        if found is not None:
            photo.overview, photo.overview_bounds = decoding(found.picture), found.bounds
        return photo

    def _source(self, image_uid: str) -> TileSource:
        """Open an image; a worker does."""
        try:
            return self.growing.open(image_uid)
        except PigmapError as why:
            if not web_address(self.images.path(image_uid)):
                self.unread.emit(why)
                raise
            if str(why) not in self._said:
                self._said.add(str(why))
                self.unread.emit(why)
            raise TileLaterError from why

    def _hear(self, image_uid: str, why: object) -> None:
        """Say what is wrong with an open image; one that changed on the web is read anew.

        Of a file that changed it is said once it rests.
        """
        stale = self.images.is_stale(image_uid)
        if stale and not web_address(self.images.path(image_uid)):
            return
        self._say_unread(why)
        if stale:
            self._show_changed(image_uid, None)

    def _show_changed(self, image_uid: str, why: object) -> None:
        """Show an image in whose place another file stands now: no tile of the old one serves."""
        if image_uid not in self.stage.session.farm.images:
            return
        self._say_unread(why)
        self.canvas.show_photos({**self.canvas.picture.photo.photos, image_uid: self._linked_photo(image_uid)})
        self.canvas.show_anew(image_uid)

    def _say_unread(self, why: object) -> None:
        if isinstance(why, PigmapError):
            away = moved_image(self.stage) is not None
            self.stage.notice(sentence(why), "refused" if away else "care", DEED if away else "")

    def _fit_memory(self) -> None:
        """Keep as much of the images in memory as the person chose."""
        self.canvas.picture.photo.cache.fit(load_personal().tiles_mb * 1024 * 1024)

    def _say_unkept(self, why: object) -> None:
        """Say once for each folder and reason why tiles cannot be kept: the map shows the image all the same."""
        if isinstance(why, PigmapError) and str(why) not in self._unkept:
            self._unkept.add(str(why))
            self.stage.notice(sentence(why), "care")

    def close(self) -> None:
        """Let the images go."""
        self.stage.playback.shown = lambda: True
        moved_images.close_down(self.stage)
        self.growing.close()
        self.images.close()


def _shapes(row: Record | None) -> Iterator[BaseGeometry]:
    """Yield the shapes that a row has on the map."""
    for name in ("outline", "ground", "shape", "line", "point"):
        shape = getattr(row, name, None)
        if isinstance(shape, BaseGeometry):
            yield shape
