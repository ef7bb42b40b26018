"""The plate while a group's standing paddock is clicked: whose it is, since when, and what it takes so far."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from itertools import pairwise

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from pigmap.drawing.words import day_words
from pigmap.fence.walked import Walked, nets_words
from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.map_plate import MapPlate
from pigmap.qt.net_counts import NetCounts
from pigmap.qt.over_map import TOOL_PLATE
from pigmap.qt.paintwork import SHADOW
from pigmap.qt.stage import Stage
from pigmap.qt.theme import Role, font, tokens
from pigmap.qt.whereabouts import book_of
from pigmap.text import Quantity, Text

WIDE_PX = 300
MARGIN_PX = 12
PAD = 14
DAYS_BACK = 60
"""So many days back a paddock can be said to have stood."""


class StandPlate(MapPlate):
    """Lies over the map's upper left corner.

    Parameters
    ----------
    chosen
        Called with the uid of the group that was chosen.
    bring
        Called when the corners are to come from a file of the phone.
    counted
        Called when someone said how many nets stand.
    """

    def __init__(
        self,
        stage: Stage,
        parent: QWidget,
        chosen: Callable[[str], None],
        bring: Callable[[], None],
        counted: Callable[[], None] = lambda: None,
    ) -> None:
        super().__init__(stage, parent)
        self._over = parent
        self.setAccessibleName(stage.say("Where they stand"))
        self._group = ChoiceBox(stage, self)
        self._group.setAccessibleName(stage.say("Which group stands there"))
        self._since = ChoiceBox(stage, self)
        self._since.setAccessibleName(stage.say("Since when"))
        self._phone = WordButton(stage, stage.say("Corners from a phone"), "link", self)
        self._phone.clicked.connect(bring)
        self._hint = self._words("second", "ink2")
        self._figures = self._words("strong", "ink")
        self._notes = self._words("second", "warn")
        self._asked = self._words("second", "ink2")
        self.nets = NetCounts(stage, self)
        self.nets.show_counts({})
        self.nets.counted.connect(counted)
        self._fill()
        self._lay()
        self._group.activated.connect(lambda at: chosen(str(self._group.itemData(at))))

    def _words(self, role: Role, colour: str, words: str = "") -> QLabel:
        label = QLabel(words, self, wordWrap=True)
        label.setFont(font(role, self.stage))
        theme = tokens(self.stage)
        ground = f"background: {theme.warnbg}; padding: 8px; border-radius: 6px;" if colour == "warn" else ""
        label.setStyleSheet(f"color: {getattr(theme, colour)}; {ground}")
        return label

    def _fill(self) -> None:
        stage = self.stage
        for group in book_of(stage.session.farm, stage.today).groups(stage.today):
            self._group.addItem(group.name, group.uid)
        for back in range(DAYS_BACK + 1):
            day = stage.today - timedelta(days=back)
            words = day_words(day, "short", language=stage.language)
            if back < 2:
                near = stage.say("today") if not back else stage.say("yesterday")
                words = stage.say("{near}, {day}", near=near, day=words)
            self._since.addItem(words, day)
        self._since.setCurrentIndex(max(0, min((stage.today - stage.day).days, DAYS_BACK)))
        for box in (self._group, self._since):
            box.setFont(font("body", stage))

    def _lay(self) -> None:
        rows = QVBoxLayout(self)
        rows.setContentsMargins(*(SHADOW + PAD,) * 4)
        rows.setSpacing(8)
        rows.addWidget(self._words("heading", "ink", self.stage.say("Where do they stand?")))
        asked = QGridLayout()
        asked.setHorizontalSpacing(10)
        asked.setVerticalSpacing(8)
        asked.setColumnStretch(1, 1)
        for at, (words, box) in enumerate(((Text("Group"), self._group), (Text("Since"), self._since))):
            asked.addWidget(self._words("second", "ink2", self.stage.words(words)), at, 0)
            asked.addWidget(box, at, 1)
        rows.addLayout(asked)
        for part in (self._hint, self._figures, self._asked, self.nets, self._notes):
            rows.addWidget(part)
        rows.addWidget(self._phone, alignment=Qt.AlignmentFlag.AlignLeft)
        self.setFixedWidth(round(WIDE_PX * self.stage.text_scale) + 2 * SHADOW)
        self.move(MARGIN_PX - SHADOW, MARGIN_PX - SHADOW)
        self.setProperty(TOOL_PLATE, True)
        stops = [stop for each in self.nets.steppers.values() for stop in each.stops]
        for before, after in pairwise((self._over, self._group, self._since, *stops, self._phone)):
            QWidget.setTabOrder(before, after)
        self.show_found(0, None)

    @property
    def since(self) -> date:
        """The day the group came in."""
        day = self._since.currentData()
        return day if isinstance(day, date) else self.stage.today

    def show_group(self, uid: str) -> None:
        """Show whose paddock is clicked."""
        self._group.setCurrentIndex(self._group.findData(uid))

    def show_found(self, corners: int, found: Walked | None, *, counted: bool = False) -> None:
        """Show what the corners make so far.

        Parameters
        ----------
        corners
            How many are set.
        found
            What they enclose, if anything.
        counted
            Whether a person said which nets stand.
        """
        stage = self.stage
        self._hint.setText(self._what_next(corners))
        self._figures.setVisible(found is not None)
        notes = (*found.over, *found.notes) if found is not None else ()
        self._notes.setVisible(bool(notes))
        for part in (self._asked, self.nets):
            part.setVisible(found is not None and bool(self.nets.steppers))
        if found is not None:
            area = found.outline.area * stage.session.farm.projection.ground_per_grid**2
            round_m, area_m2 = Quantity(found.open_m, "m", 0), Quantity(area, "m²")
            counts = nets_words(found.counts)
            self._figures.setText(
                stage.say("Nets {nets} for {round}; {area}", nets=counts, round=round_m, area=area_m2)
            )
            guess = stage.say("The nets are guessed from its sides. Which ones stand there?")
            self._asked.setText(stage.say("The nets as you counted them:") if counted else guess)
            if not counted:
                self.nets.show_counts({kind.uid: count for kind, count in found.counts})
            self._notes.setText("\n".join(stage.words(note) for note in notes))
        spoken = (self._hint, self._figures, self._asked, self._notes)
        self.setAccessibleDescription(" ".join(label.text() for label in spoken if not label.isHidden()))
        self._fit()

    def _what_next(self, corners: int) -> str:
        if not self._group.count():
            return self.stage.say("Add a group first; then show where it stands.")
        if corners < 3:
            return self.stage.say("Click its corners on the map, one after the other, crooked as they are.")
        return self.stage.say("The first corner again or Enter closes it. Backspace takes one back.")

    def _fit(self) -> None:
        rows = self.layout()
        if rows is not None:
            rows.invalidate()
        self.adjustSize()
        self.updateGeometry()  # key and message keep off it
