"""The plot of a field's ground over time: green share, stays, daily checks and rest, the past and the plan."""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen, QPixmap, QResizeEvent
from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.course_drawing import draw_course, draw_waiting
from pigmap.builtin.panels.course_scale import MOST_LANES, Scale, span_of, stays_on
from pigmap.drawing.tokens import REST_FROM_DAY
from pigmap.drawing.words import day_words
from pigmap.ground.course import Course, cover_range, days_between, weight_of
from pigmap.ground.state import GroundState
from pigmap.qt.paintwork import Left, Right, breadth, line_height, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens
from pigmap.records import Check, Farm, Field, Lasting
from pigmap.session.ground_courses import GroundCourses
from pigmap.text import Quantity, Text

GREEN_HIGH, REST_HIGH, LANE_HIGH = 76.0, 30.0, 6.0
"""Heights of the plot of the green share, of that of rest and of a lane of stays, at text size 100 % [px]."""
ALL = Text("{share}", {"share": Quantity(1.0, "1")})


class Plotted(NamedTuple):
    """What of a farm is drawn: it stands until the farm, the field or the day of today is another."""

    farm: Farm
    field: Field
    today: date
    stays: list[Lasting]
    checks: list[Check]


class FieldCourse(QWidget):
    """Draws the course of one field; a click or a drag shows the farm on the day under it."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self._courses = GroundCourses(stage.session.post, self._arrived, REST_FROM_DAY)
        self._plotted: Plotted | None = None
        self._course: Course | None = None
        self._kept: QPixmap | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        stage.theme_changed.connect(self._redraw)

    # What it shows

    def show_field(self, field: Field) -> None:
        """Show a field as the farm is now, on the day that is shown."""
        farm, today, before = self.stage.session.farm, self.stage.today, self._plotted
        if before is None or before.farm is not farm or before.field is not field or before.today != today:
            stays = stays_on(farm, field, today)
            grounds = {each.stay.paddock_uid for each in stays}
            checks = [
                each
                for each in farm.checks.values()
                if each.rooting_score is not None and each.paddock_uid in grounds and each.checked_on <= today
            ]
            self._plotted = Plotted(farm, field, today, stays, checks)
            self._redraw()
        self._ask()
        self._describe()
        self.update()

    @property
    def course(self) -> Course | None:
        """The course that is drawn; None while it is looked up."""
        return self._course

    def settle(self) -> None:
        """Wait until the course is there."""
        self._courses.settle()

    def close_down(self) -> None:
        """Stop what is looked up."""
        self._courses.close()

    def _state(self) -> GroundState | None:
        plotted, stage = self._plotted, self.stage
        return stage.session.ground.state(plotted.field.uid, stage.day, stage.today) if plotted is not None else None

    def _ask(self) -> None:
        state, plotted = self._state(), self._plotted
        course = None
        if state is not None and plotted is not None:
            first, last = span_of(state.ground.first_day, plotted.stays, plotted.today)
            course = self._courses.course(state.ground, days_between(first, last))
        if course is not self._course:
            self._course = course
            self._redraw()

    def _arrived(self) -> None:
        if self._plotted is not None:
            self._ask()
            self._describe()

    def _redraw(self) -> None:
        self._kept = None
        self.update()

    def _describe(self) -> None:
        """Say for a screen reader what the plot shows."""
        plotted, course, stage = self._plotted, self._course, self.stage
        if plotted is None:
            return
        words = [stage.say("Green share and rest of {field}", field=plotted.field.name), self.readout()]
        if course is not None and len(course.days):
            lowest = int(course.mean.argmin())
            words.append(
                stage.say(
                    "least green: {share} on {day}",
                    share=Quantity(float(course.mean[lowest]), "1"),
                    day=date.fromordinal(int(course.days[lowest])),
                )
            )
        words.append(stage.words(Text("{count} stay", plural="{count} stays", count=len(plotted.stays))))
        words.append(stage.words(Text("{count} daily check", plural="{count} daily checks", count=len(plotted.checks))))
        self.setAccessibleName(", ".join(each for each in words if each))
        self.setAccessibleDescription(stage.say("Left and Right step the day that is shown, with Shift a week."))

    def readout(self) -> str:
        """Return the green share of the day that is shown, in words."""
        state, stage = self._state(), self.stage
        if state is None:
            return stage.say("being computed")
        mean, barest, greenest = cover_range(state.layers["cover"], weight_of(state.ground))
        return stage.say(
            "{day}: {mean} ({barest} to {greenest})",
            day=day_words(stage.day, "short", language=stage.language),
            mean=Quantity(mean, "1"),
            barest=Quantity(barest, "1"),
            greenest=Quantity(greenest, "1"),
        )

    # The day

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Show the day under the pointer."""
        self._show_day_at(event.position().x())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Show the day under the pointer while it is dragged."""
        if event.buttons() & Qt.MouseButton.LeftButton:
            self._show_day_at(event.position().x())

    def _show_day_at(self, x: float) -> None:
        scale = self._scale()
        if scale is not None:
            self.stage.show_day(scale.day_at(x))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Step the day: what the card scrolls in would take these keys."""
        way = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
        if way is None:
            super().keyPressEvent(event)
            return
        days = 7 if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else 1
        self.stage.show_day(self.stage.day + timedelta(days=way * days))

    # Its room

    def heightForWidth(self, width: int) -> int:
        """Return the height at a breadth."""
        return round(self._bottom())

    def sizeHint(self) -> QSize:
        """Return the room it takes where nobody says how broad it is."""
        return QSize(300, self.heightForWidth(300))

    def _left(self) -> float:
        """Return where the plot begins, beside the words for all of the ground."""
        return breadth(self.stage.words(ALL), font("tick", self.stage)) + 6.0

    def _line(self) -> float:
        return line_height(font("tick", self.stage))

    def lanes(self) -> int:
        """Return how many groups have a lane for their stays."""
        groups = {each.stay.group_uid for each in self._plotted.stays} if self._plotted is not None else set()
        return min(max(len(groups), 1), MOST_LANES)

    def boxes(self) -> tuple[QRectF, QRectF, QRectF]:
        """Return where green share, stays and rest are drawn."""
        scale = self.stage.text_scale
        left = self._left()
        wide = self.width() - left
        green = QRectF(left, self._line() + 8, wide, GREEN_HIGH * scale)
        lanes = QRectF(left, green.bottom() + 4, wide, self.lanes() * (LANE_HIGH * scale + 2))
        return green, lanes, QRectF(left, lanes.bottom() + 3, wide, REST_HIGH * scale)

    def _bottom(self) -> float:
        return self.boxes()[2].bottom() + self._line() + 2

    def _scale(self) -> Scale | None:
        course = self._course
        if course is None or not len(course.days):
            return None
        ends = (date.fromordinal(int(course.days[at])) for at in (0, -1))
        return Scale(self._left(), self.width() - 1.0, *ends)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Draw anew for another breadth."""
        self._kept = None

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the plot, kept as long as nothing in it changed, and the day that is shown over it."""
        stage, theme = self.stage, tokens(self.stage)
        with QPainter(self) as painter:
            face = font("tick", stage)
            head = QRectF(0, 2, self.width(), self._line())
            used = write(painter, head, stage.say("Green and rest"), font("tick", stage, weight=700), theme.ink, Left)
            write(painter, head.adjusted(used + 8, 0, 0, 0), self.readout(), face, theme.ink2, Right)
            scale = self._scale()
            if scale is None:
                draw_waiting(painter, self.boxes(), stage)
            else:
                density = self.devicePixelRatioF()
                if self._kept is None or self._kept.devicePixelRatio() != density:
                    self._kept = self._drawn(scale, density)
                painter.drawPixmap(0, 0, self._kept)
                self._draw_day(painter, scale)

    def _drawn(self, scale: Scale, density: float) -> QPixmap:
        kept = QPixmap(round(self.width() * density), round(self.height() * density))
        kept.setDevicePixelRatio(density)
        kept.fill(Qt.GlobalColor.transparent)
        with QPainter(kept) as painter:
            painter.setRenderHint(QPainter.RenderHint.Antialiasing)
            if self._course is not None and self._plotted is not None:
                draw_course(painter, self.stage, self._course, self._plotted, scale, self.boxes())
        return kept

    def _draw_day(self, painter: QPainter, scale: Scale) -> None:
        """Draw a line through the day that is shown, as the date handle has it."""
        stage, theme = self.stage, tokens(self.stage)
        if stage.day == stage.today or not scale.first <= stage.day <= scale.last:
            return
        green, _, rest = self.boxes()
        x = scale.x_of(stage.day.toordinal())
        for colour, width in ((theme.plate, 4.0), (theme.plan, 2.0)):
            painter.setPen(QPen(QColor(colour), width))
            painter.drawLine(QPointF(x, green.top()), QPointF(x, rest.bottom()))
