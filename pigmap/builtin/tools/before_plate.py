"""The plate of the history brush: what was there, or what was done, when, and what it is put on with."""

from __future__ import annotations

from itertools import pairwise

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from pigmap.builtin.tools.before_typed import BeforeTyped, When, before_of, last_season
from pigmap.builtin.tools.work_rows import WorkRows
from pigmap.document.edits import Before, GroundWork
from pigmap.drawing.tokens import ROOTING_WORDS
from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.kept_keys import KeptKeysLine
from pigmap.qt.map_plate import MapPlate
from pigmap.qt.over_map import MARGIN, TOP_ROOM
from pigmap.qt.paintwork import SHADOW
from pigmap.qt.stage import Stage
from pigmap.qt.theme import Role, font, tokens
from pigmap.records import GroundJobKind
from pigmap.records.season import Season
from pigmap.records.told_words import HOW_HARD
from pigmap.text import Quantity, Text

WIDE_PX = 288
PAD = 12 + SHADOW
BAR = 10
"""Breadth of the bar that scrolls the plate where the map is low [px]."""
WIDTHS_M = (5.0, 10.0, 20.0, 40.0)
USUAL_WIDTH = 2
KINDS: tuple[tuple[GroundJobKind | None, str], ...] = (
    (GroundJobKind.USED_BEFORE, "Pigs were there (U)"),
    (GroundJobKind.NEVER_USED, "Never used (N)"),
    (GroundJobKind.UNKNOWN, "Not known (K)"),
    (None, "Work was done (J)"),
)
"""What may be told of; None is work, which has kinds of its own."""
_WHEN: tuple[tuple[When, Text], ...] = (
    *((season, Text(f"about {season.value}")) for season in Season),
    ("year", Text("about the year")),
    ("day", Text("on the day")),
)


_HARD = tuple(
    Text("{hard}: {share} rooted", {"hard": words, "share": ROOTING_WORDS[score]}) if score in (1, 3) else words
    for score, words in enumerate(HOW_HARD)
)
"""How the ground was left, by the rooting score of a daily check: lightly and hard with the share they stand for."""


class BeforePlate(MapPlate):
    """Lies over the map's right edge, where cards lie, while the history brush has the pointer."""

    whole_asked = Signal()
    """All of the field that is picked is meant."""
    changed = Signal()
    """Something else is chosen."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent)
        self._over = parent
        self._labels: list[tuple[QLabel, Role]] = []
        self._scroll = QScrollArea(self)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._inside = QWidget()
        self._scroll.setWidget(self._inside)
        self.kind: GroundJobKind | None = GroundJobKind.USED_BEFORE
        self.kinds = [WordButton(stage, stage.say(words), "switch", self) for _, words in KINDS]
        self.when = self._box("When pigs were there", [stage.words(words) for _, words in _WHEN])
        self.typed = KeptKeysLine(self)
        self.hard = self._box("How the ground was left", self._hard_words())
        self.width_box = self._box("What it is put on with", self._width_words())
        self.work = WorkRows(stage, self)
        self.whole = WordButton(stage, "", "plain", self)
        self._begin_with()
        self._lay_out()
        for (kind, _), button in zip(KINDS, self.kinds, strict=True):
            button.clicked.connect(lambda _=False, kind=kind: self.choose(kind))
        for line in (self.typed, self.work.day, self.work.until, self.work.nitrogen):
            line.returnPressed.connect(self._leave)
        self.work.what.currentIndexChanged.connect(self._fit)
        self.when.currentIndexChanged.connect(self._show_when)
        self.width_box.currentIndexChanged.connect(self.changed)
        self.whole.clicked.connect(self.whole_asked)
        stage.theme_changed.connect(self._dress)
        parent.installEventFilter(self)
        self.setAccessibleName(stage.say("What was before"))
        self.choose(self.kind)

    def _begin_with(self) -> None:
        season, year = last_season(self.stage.today, south=self._south)
        self.when.setCurrentIndex(list(Season).index(season))
        self.typed.setText(str(year))
        self.typed.setMaxLength(10)
        self.hard.setCurrentIndex(2)
        self.width_box.setCurrentIndex(USUAL_WIDTH)
        self._show_when()

    @property
    def _south(self) -> bool:
        return self.stage.session.farm.projection.lies_south

    def _box(self, called: str, words: list[str]) -> ChoiceBox:
        box = ChoiceBox(self.stage, self)
        box.setAccessibleName(self.stage.say(called))
        box.addItems(words)
        return box

    def _hard_words(self) -> list[str]:
        return [*(self.stage.words(words) for words in _HARD), self.stage.say("nobody knows how hard")]

    def _width_words(self) -> list[str]:
        stage = self.stage
        wide = [stage.say("brush, {breadth} wide", breadth=Quantity(each, "m")) for each in WIDTHS_M]
        return [*wide, stage.say("outline, corner by corner")]

    def _lay_out(self) -> None:
        stage = self.stage
        rows = QVBoxLayout(self._inside)
        rows.setContentsMargins(0, 0, 0, 0)
        rows.setSpacing(6)
        self._title = self._say(rows, stage.say("What was before"), "heading")
        for button in self.kinds:
            rows.addWidget(button)
        self._used = QWidget(self._inside)
        used = QVBoxLayout(self._used)
        used.setContentsMargins(0, 2, 0, 0)
        used.setSpacing(6)
        when = QHBoxLayout()
        when.setSpacing(6)
        when.addWidget(self.when, 3)
        when.addWidget(self.typed, 2)
        used.addLayout(when)
        self._say(used, stage.say("They left it"), "second")
        used.addWidget(self.hard)
        rows.addWidget(self._used)
        rows.addWidget(self.work)
        self._say(rows, stage.say("Put on with"), "second")
        rows.addWidget(self.width_box)
        rows.addWidget(self.whole)
        self._hint = self._say(rows, "", "second")
        self._dress()

    def _say(self, rows: QVBoxLayout, words: str, role: Role) -> QLabel:
        label = QLabel(words, self._inside)
        label.setWordWrap(True)
        self._labels.append((label, role))
        rows.addWidget(label)
        return label

    def _dress(self) -> None:
        stage, theme = self.stage, tokens(self.stage)
        for label, role in self._labels:
            label.setFont(font(role, stage))
            label.setStyleSheet(f"color: {theme.ink if role == 'heading' else theme.ink2}; background: transparent;")
        for widget in (self.when, self.typed, self.hard, self.width_box):
            widget.setFont(font("body", stage))
        self.work.dress()
        self._fit()

    # What is chosen

    def choose(self, kind: GroundJobKind | None) -> None:
        """Choose what was there; None is work that was done."""
        self.kind = kind
        for (each, _), button in zip(KINDS, self.kinds, strict=True):
            button.setChecked(each is kind)
        self._used.setVisible(kind is GroundJobKind.USED_BEFORE)
        self.work.setVisible(kind is None)
        self._title.setText(self.stage.say("What was done") if kind is None else self.stage.say("What was before"))
        self._fit()
        self.changed.emit()

    def offer_field(self, name: str) -> None:
        """Offer all of a field by its name; nothing where none is picked."""
        stage = self.stage
        self.whole.setText(stage.say("All of {field} (Enter)", field=name))
        self.whole.setAccessibleName(stage.say("Tell it of all of {field}", field=name))
        self.whole.setVisible(bool(name))
        if self.outlines:
            hint = stage.say("Click corner by corner, Enter closes. A figure or T types a corner. Esc ends.")
        else:
            hint = stage.say(
                "Click a field for all of it, drag over a part; Space and drag move the map. T types corners. Esc ends."
            )
        self._hint.setText(hint)
        self._fit()

    @property
    def outlines(self) -> bool:
        """Whether a part is drawn corner by corner."""
        return self.width_box.currentIndex() >= len(WIDTHS_M)

    @property
    def wide_m(self) -> float:
        """Breadth of the brush on the ground [m]."""
        return WIDTHS_M[min(self.width_box.currentIndex(), len(WIDTHS_M) - 1)]

    def choose_width(self, number: int) -> None:
        """Choose what it is put on with: a breadth, or after the last of them the outline."""
        self.width_box.setCurrentIndex(max(0, min(number, len(WIDTHS_M))))

    def told(self) -> Before | GroundWork:
        """Return what is chosen.

        Raises
        ------
        EditError
            If the year, a day or the nitrogen that was typed cannot be.
        """
        if self.kind is None:
            return self.work.work()
        score = self.hard.currentIndex()
        when = _WHEN[self.when.currentIndex()][0]
        given = BeforeTyped(self.kind, when, self.typed.text(), score if score < len(HOW_HARD) else None)
        return before_of(given, self.stage.today, south=self._south)

    def _show_when(self) -> None:
        """Ask for what goes with the words before it: a year, or a day."""
        stage, is_day = self.stage, _WHEN[self.when.currentIndex()][0] == "day"
        self.typed.setPlaceholderText("2024-10-16" if is_day else "2024")
        self.typed.setAccessibleName(stage.say("Which day" if is_day else "Which year"))

    def point_at_year(self) -> None:
        """Give the keys to what was typed, to be put right."""
        line = self.work.day if self.kind is None else self.typed
        self._scroll.ensureWidgetVisible(line)
        line.setFocus(Qt.FocusReason.OtherFocusReason)
        line.selectAll()

    def follow_in_tab_order(self) -> None:
        """Let the Tab key come here from the map, and go through it as it is read."""
        stops: tuple[QWidget, ...] = (self._over, *self.kinds, self.when, self.typed, self.hard)
        stops += (*self.work.stops(), self.width_box, self.whole)
        for before, after in pairwise(stops):
            QWidget.setTabOrder(before, after)

    def _leave(self) -> None:
        self._over.setFocus(Qt.FocusReason.OtherFocusReason)

    # Its room

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Stay at the right edge of the map."""
        if event.type() == QEvent.Type.Resize:
            self._fit()
        return False

    def _fit(self) -> None:
        wide = min(round(WIDE_PX * self.stage.text_scale) + 2 * SHADOW, max(200, self._over.width() - 2 * MARGIN))
        self.setFixedWidth(wide)
        layout = self._inside.layout()
        if layout is None:
            return
        layout.invalidate()
        inner = wide - 2 * PAD
        needed = layout.heightForWidth(inner) if layout.hasHeightForWidth() else layout.sizeHint().height()
        high = min(needed + 2 * PAD, self._over.height() - 2 * MARGIN)
        top = TOP_ROOM if high + TOP_ROOM + MARGIN <= self._over.height() else MARGIN
        self.setGeometry(self._over.width() - wide - MARGIN, top, wide, high)
        self._scroll.setGeometry(PAD, PAD, inner + BAR, high - 2 * PAD)
        self._inside.resize(inner, max(needed, high - 2 * PAD))
