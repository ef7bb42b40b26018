"""The manual: contents at the left, or above where there is little room, and the page at a breadth that reads well."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import QRect, Qt, QUrl, Signal
from PySide6.QtGui import (
    QColor,
    QHideEvent,
    QImage,
    QKeyEvent,
    QPainter,
    QResizeEvent,
    QShowEvent,
    QTextCursor,
    QTextDocument,
)
from PySide6.QtWidgets import QBoxLayout, QComboBox, QHBoxLayout, QListWidget, QTextBrowser, QWidget

from pigmap.builtin.panels.aside import PAD, AsidePlate
from pigmap.builtin.panels.manual_look import dress
from pigmap.builtin.panels.manual_pages import Page, page_for, pages
from pigmap.paths import resource
from pigmap.qt.buttons import WordButton
from pigmap.qt.paintwork import breadth
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens

LETTERS = 66
"""Letters of a line: so many read well."""
LETTER_TO_N = 0.87
"""Breadth of a letter of running text, spaces included, to that of an n."""
LEAST_OF_PAGE = 0.8
"""Share of its breadth that a page keeps beside the contents; below, the contents lie above it."""
MAP_LEAST, MAP_WITH_CONTENTS = 480, 800
"""The map keeps so much breadth beside the help, and so much where the contents stand there, too [px]."""
BETWEEN = 16
"""Between contents and page [px]."""
CONTENTS_LEAST = 200
"""Least breadth of the contents at a text size of 100 % [px]."""
DENSITY = 2.0
"""Pixels of a picture to one of the page."""


class PageView(QTextBrowser):
    """Shows one page; a link to another is handed on, a picture is as broad as it was made, or as the page."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self._wide = 600
        self.setOpenLinks(False)
        self.setFrameShape(QTextBrowser.Shape.NoFrame)
        self.setAccessibleName(stage.say("Page of the manual"))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    def show_page(self, page: Page, wide: int) -> None:
        """Show a page from its head, laid out for a breadth [px]."""
        self._wide = wide
        self.setStyleSheet(f"QTextBrowser {{ background: {tokens(self.stage).plate}; border: none; }}")
        self.document().clear()
        self.document().setDefaultFont(font("body", self.stage))
        self.document().setDocumentMargin(4)
        self.document().setMarkdown(page.words, QTextDocument.MarkdownFeature.MarkdownDialectGitHub)
        dress(self.document(), self.stage)
        self.moveCursor(QTextCursor.MoveOperation.Start)  # the page goes to where its cursor is once it has the keys
        self.verticalScrollBar().setValue(0)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave steps back and forward to the manual."""
        if event.modifiers() & Qt.KeyboardModifier.AltModifier:
            event.ignore()
        else:
            super().keyPressEvent(event)

    def loadResource(self, kind: int, name: QUrl | str) -> Any:
        """Return a picture of the manual, sharp on the screen."""
        asked = name.toString() if isinstance(name, QUrl) else name
        try:
            image = QImage(str(resource("manual", asked)))
        except FileNotFoundError:
            return None
        room = self._wide - 24
        wide = min(image.width() / DENSITY, room)
        ratio = self.devicePixelRatioF()
        if wide * ratio < image.width():
            image = image.scaledToWidth(round(wide * ratio), Qt.TransformationMode.SmoothTransformation)
        image.setDevicePixelRatio(image.width() / wide)
        return image


class Manual(AsidePlate):
    """Opens on the page that fits the verb that runs, or what is picked; the map beside it stays at hand."""

    room_asked = Signal()
    """It came or went: the window lays out anew."""
    slides = False

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("Help"))
        self._map = getattr(parent, "map", parent)
        self.pages = pages(stage)
        self._at = 0
        self._page_wide = 600
        self._read_to: int | None = None
        """How far the page was scrolled when the manual was closed last."""
        self._past: list[int] = []
        self._coming: list[int] = []
        titles = [page.title for page in self.pages]
        self.contents = QListWidget(self)
        self.contents.setFont(font("body", stage))
        self.contents.setWordWrap(True)
        self.contents.setAccessibleName(stage.say("Contents"))
        self.contents.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.contents.addItems(titles)
        self.short_contents = QComboBox(self)
        self.short_contents.setFont(font("body", stage))
        self.short_contents.setAccessibleName(stage.say("Contents"))
        self.short_contents.addItems(titles)
        self.view = PageView(stage, self)
        self.back = WordButton(stage, stage.say("Back"), "plain", self)
        self.on = WordButton(stage, stage.say("Forward"), "plain", self)
        self._lay()
        self.contents.currentRowChanged.connect(self._choose)
        self.short_contents.activated.connect(self._choose)
        self.view.anchorClicked.connect(self._follow)
        self.back.clicked.connect(lambda: self._step(self._past, self._coming))
        self.on.clicked.connect(lambda: self._step(self._coming, self._past))
        stage.theme_changed.connect(self._show)

    def _lay(self) -> None:
        self._body = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._body.setSpacing(BETWEEN)
        self._body.addWidget(self.contents)
        self._body.addWidget(self.short_contents)
        self._body.addWidget(self.view, 1)
        steps = QHBoxLayout()
        steps.addWidget(self.back)
        steps.addWidget(self.on)
        steps.addStretch(1)
        self.column.addLayout(self._body, 1)
        self.column.addLayout(steps)

    @property
    def page(self) -> str:
        """Name of the page that is shown."""
        return self.pages[self._at].name

    def first(self) -> QWidget:
        """Return the page, which the arrow keys move."""
        return self.view

    def open_plate(self) -> None:
        """Come up with the page that fits; who goes by the first page comes back to where it was left."""
        goes_on = self._read_to is not None and self._at == 0
        if not goes_on:
            self.go_to(page_for(self.stage))
        super().open_plate()
        self.view.verticalScrollBar().setValue(self._read_to or 0 if goes_on else 0)

    def put_away(self) -> None:
        """Go, and remember how far was read."""
        self._read_to = self.view.verticalScrollBar().value()
        super().put_away()

    def go_to(self, name: str) -> None:
        """Show a page by its name."""
        self._choose(next((at for at, page in enumerate(self.pages) if page.name == name), 0))

    def fit(self) -> None:
        """Leave it to the window where it lies: beside the map, or over it."""

    def wide_beside(self, room: int) -> int:
        """Return how broad it is beside a map that has so much room with it; 0 where it would leave too little."""
        page, scale = self._reads_well(), self.stage.text_scale
        side = round(CONTENTS_LEAST * scale) + BETWEEN
        if room - page - side - 2 * PAD >= MAP_WITH_CONTENTS:
            return page + side + 2 * PAD
        most = room - MAP_LEAST - 2 * PAD
        return min(page, most) + 2 * PAD if most >= LEAST_OF_PAGE * page else 0

    def _reads_well(self) -> int:
        return round(breadth("n" * LETTERS, font("body", self.stage)) * LETTER_TO_N) + 24

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay the contents at the left where a page that reads well has room beside them, else above it."""
        super().resizeEvent(event)
        side, room, page = round(CONTENTS_LEAST * self.stage.text_scale), self.width() - 2 * PAD, self._reads_well()
        beside = room >= side + BETWEEN + LEAST_OF_PAGE * page
        self.contents.setVisible(beside)
        self.contents.setFixedWidth(side)
        self.short_contents.setVisible(not beside)
        self._body.setDirection(QBoxLayout.Direction.LeftToRight if beside else QBoxLayout.Direction.TopToBottom)
        self._page_wide = min(page, room - (side + BETWEEN if beside else 0))
        for each in (self.view, self.short_contents):
            each.setMaximumWidth(self._page_wide)
        self.column.activate()
        read = self.view.verticalScrollBar().value()
        self._show()
        self.view.verticalScrollBar().setValue(read)

    def showEvent(self, event: QShowEvent) -> None:
        """Have the window make room."""
        super().showEvent(event)
        self.room_asked.emit()

    def hideEvent(self, event: QHideEvent) -> None:
        """Give the room back to the map."""
        super().hideEvent(event)
        self.room_asked.emit()

    def _draw_ground(self, painter: QPainter) -> None:
        """Draw a plain edge: it lies beside the map, not on it."""
        theme = tokens(self.stage)
        painter.fillRect(self.rect(), QColor(theme.plate))
        painter.fillRect(QRect(0, 0, 1, self.height()), QColor(theme.line))

    def _choose(self, at: int) -> None:
        if at != self._at:
            self._past.append(self._at)
            self._coming.clear()
            self._at = at
        self._show()

    def _step(self, out: list[int], into: list[int]) -> None:
        if out:
            into.append(self._at)
            self._at = out.pop()
            self._show()

    def _follow(self, link: QUrl) -> None:
        self.go_to(link.path().removesuffix(".md"))

    def _show(self) -> None:
        for each in (self.contents, self.short_contents):
            each.blockSignals(True)
        self.contents.setCurrentRow(self._at)
        self.short_contents.setCurrentIndex(self._at)
        for each in (self.contents, self.short_contents):
            each.blockSignals(False)
        self.back.setEnabled(bool(self._past))
        self.on.setEnabled(bool(self._coming))
        self.view.show_page(self.pages[self._at], self._page_wide)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go back and forward with Alt and an arrow; F1 again closes."""
        alt = event.modifiers() & Qt.KeyboardModifier.AltModifier
        if alt and event.key() == Qt.Key.Key_Left:
            self._step(self._past, self._coming)
        elif alt and event.key() == Qt.Key.Key_Right:
            self._step(self._coming, self._past)
        elif event.key() == Qt.Key.Key_F1:
            self.put_away()
        else:
            super().keyPressEvent(event)


class _Panel:
    name = "manual"
    place = "beside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return Manual(stage, parent)


panel = _Panel()
