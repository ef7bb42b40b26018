"""What the season strip shows: its rows for the room there is, drawn once and copied while only the day changes."""

from __future__ import annotations

from dataclasses import replace
from math import ceil

from PySide6.QtCore import QPoint, QRectF, QSize, Qt, QTimer
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import QWidget

from pigmap.builtin.panels.date_handle import draw_handle, draw_today, flag_box, today_box
from pigmap.builtin.panels.day_scale import DayScale
from pigmap.builtin.panels.play_button import PlayButton
from pigmap.builtin.panels.season_bars import draw_all
from pigmap.builtin.panels.season_complaint import complaint_high, draw_complaint
from pigmap.builtin.panels.season_drag import EndDrag
from pigmap.builtin.panels.season_ground import draw_ground, draw_head, head_high
from pigmap.builtin.panels.season_labels import draw_labels
from pigmap.builtin.panels.season_marks import draw_marks
from pigmap.builtin.panels.season_rows import Strip, bars
from pigmap.planning.coming import coming_of
from pigmap.planning.rule import Breach
from pigmap.qt.arrangement import VERY_LOW
from pigmap.qt.group_step import group_of
from pigmap.qt.paintwork import line_height, rule, write
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font, tokens
from pigmap.qt.whereabouts import book_of

ROW = {"narrow": 28, "small": 28, "usual": 36, "wide": 36}
PX_PER_DAY = {"narrow": 15.0, "small": 14.0, "usual": 15.0, "wide": 18.0}
TODAY_AT = 0.56
"""Where today lies at first, as a share of the strip's breadth."""
PLAYED_AT = 0.1
"""Where the day lies, as a share of the strip's breadth, when weeks that pass by come to the edge of it."""
PLAY_GAP = 5
"""Between the flag and the button that plays [px]."""
MOST_ROWS = 8
LABELS_NARROW = 46
RULES_AFTER_MS = 150
"""The plan is held against the rules once everything else is on the screen [ms]."""


class SeasonView(QWidget):
    """Draws the strip; the child that takes the pointer changes its state."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(parent)
        self.stage = stage
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setProperty("no_ring", True)
        self.setAccessibleName(stage.say("Season"))
        self._book = book_of(stage.session.farm, stage.today)
        self._scale: DayScale | None = None
        self._scrolled = False
        self._first_row = 0
        self._drag = ""
        self._end: EndDrag | None = None
        self._breaches: tuple[Breach, ...] = ()
        self._kept: QPixmap | None = None
        self._play = PlayButton(stage, self)
        self._later = QTimer(self, singleShot=True, interval=RULES_AFTER_MS)
        self._later.timeout.connect(self._ask_rules)
        stage.came_up.connect(self._later.start)
        stage.came_up.connect(self._redraw)
        stage.farm_changed.connect(self._renew)
        stage.day_changed.connect(self._show_day)
        stage.playback.changed.connect(self._fit)
        stage.picked_changed.connect(self._show_picked)
        stage.theme_changed.connect(self._redraw)
        stage.room_changed.connect(self._fit)
        self._renew()

    # What it shows

    def _renew(self) -> None:
        self._book = book_of(self.stage.session.farm, self.stage.today)
        if not self.stage.coming_up:
            self._later.start()
        self._describe()
        self.updateGeometry()
        self._redraw()

    def _ask_rules(self) -> None:
        from pigmap.builtin.panels.plan_breaches import planned_breaches  # rules wait for the first frame

        self._breaches = planned_breaches(self.stage)
        self.updateGeometry()
        self._redraw()

    def _redraw(self) -> None:
        self._kept = None
        self._lay_play()
        self.update()

    def _lay_play(self) -> None:
        """Lay the button beside the flag, on its other side near the right edge; there is none without a past."""
        strip, stage, size = self.strip, self.stage, self._play.sizeHint()
        flag = flag_box(strip, stage)
        right = round(flag.right()) + PLAY_GAP
        x = right if right + size.width() < strip.scale.right else round(flag.left()) - PLAY_GAP - size.width()
        self._play.setGeometry(x, round(flag.center().y() - size.height() / 2), size.width(), size.height())
        inside = strip.scale.left <= x and strip.scale.left <= strip.scale.middle_of(stage.day) <= strip.scale.right
        self._play.setVisible(inside and stage.playback.first_day < stage.today)

    def _show_day(self) -> None:
        scale = self.strip.scale.showing(self.stage.day)
        if scale != self._scale and self._drag != "handle":
            # Weeks that pass by fill the strip once in a while: it is drawn anew then, not with every week.
            playing = self.stage.playback.running
            self._scale = scale.placed(self.stage.day, PLAYED_AT) if playing else scale
            self._kept = None
        self._lay_play()
        self.update()

    def _show_picked(self) -> None:
        rows = [group.uid for group in self._book.groups(self.stage.day)]
        chosen = self._chosen()
        if chosen in rows and self.stage.room.name != "narrow":
            at, visible = rows.index(chosen), self.strip.visible
            self._first_row = min(max(self._first_row, at - visible + 1), at)
        self._describe()
        self._redraw()

    def _chosen(self) -> str:
        return group_of(self.stage.session.farm, self.stage.picked, self.stage.day, self.stage.today)

    def _fit(self) -> None:
        if not self._scrolled:
            self._scale = None
        self._redraw()

    def _describe(self) -> None:
        """Tell a screen reader what the picked group's row shows."""
        stays = self._book.stays(self._chosen())
        lines = [
            f"{getattr(self._book.paddock_of(stay), 'name', '')} {stay.in_on} {stay.out_on or ''} {stay.state}"
            for stay in stays[-12:]
        ]
        lines += [self.stage.words(each.words) for each in coming_of(self._book.farm, self._chosen())]
        self.setAccessibleDescription("; ".join(lines))

    @property
    def strip(self) -> Strip:
        """Where rows lie now."""
        room = self.stage.room
        left = LABELS_NARROW if room.name == "narrow" else room.column_px
        if self._scale is None or self._scale.right != self.width() or self._scale.left != left:
            self._scale = self._scale_for(left)
        groups = self._book.groups(self.stage.day)
        top, row = head_high(self.stage) + 2, self._row()
        if room.name == "narrow":
            chosen = [group for group in groups if group.uid == self._chosen()] or list(groups[:1])
            return Strip(self._scale, top, row, tuple(chosen), 1)
        visible = max(1, int((self.height() + 1 - top - row - self._complaint_high()) // row))  # a pixel is rounding
        first = min(self._first_row, max(0, len(groups) - visible))
        return Strip(self._scale, top, row, groups, visible, first)

    def _scale_for(self, left: int) -> DayScale:
        """Return the days for the room there is: as someone scrolled them, else with today in its place."""
        kept = self._scale
        broad = kept.px_per_day if kept is not None and self._scrolled else PX_PER_DAY[self.stage.room.name]
        made = DayScale(0.0, broad, left, max(self.width(), left + 1))
        made = replace(made, first=kept.first) if kept and self._scrolled else made.placed(self.stage.today, TODAY_AT)
        return made.showing(self.stage.day)

    def _row(self) -> float:
        return round(
            max(ROW[self.stage.room.name] * self.stage.text_scale, line_height(font("strong", self.stage)) + 8)
        )

    def sizeHint(self) -> QSize:
        """Return the height for all rows, up to eight."""
        narrow = self.stage.room.name == "narrow"
        rows = 1 if narrow else min(max(len(self._book.groups(self.stage.day)), 1), MOST_ROWS)
        foot = self._complaint_high()
        if not narrow and self.window().height() >= VERY_LOW:
            foot = max(foot, line_height(font("second", self.stage)) + 8)  # it does not grow with the first breach
        return QSize(600, ceil(head_high(self.stage) + 2 + (rows + 1) * self._row() + foot))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Draw anew."""
        self._redraw()

    # Drawing

    def paintEvent(self, event: QPaintEvent) -> None:
        """Copy what does not change with the day, then draw today, the handle and the labels."""
        strip = self.strip
        density = self.devicePixelRatioF()
        if self._kept is None or self._kept.devicePixelRatio() != density:
            self._kept = self._draw_kept(strip, density)
            if self._later.isActive():
                self._later.start()  # counted from the drawing, not from the making of the window
        with QPainter(self) as painter:
            painter.drawPixmap(QPoint(0, 0), self._kept)
            painter.setClipRect(QRectF(strip.scale.left, 0, strip.scale.right - strip.scale.left, self.height()))
            beside = flag_box(strip, self.stage)
            if self._play.isVisibleTo(self):
                beside = beside.united(QRectF(self._play.geometry()))
            today = today_box(strip, self.stage, beside, strip.foot if self._complaint() else self.height())
            draw_head(painter, strip, self.stage, (beside, today))
            draw_today(painter, strip, self.stage, today)
            if self._end is not None:
                self._end.draw(painter, strip, self.stage)
            draw_handle(painter, strip, self.stage)
            painter.setClipping(False)
            draw_labels(painter, self._book, strip, self.stage, self._chosen())
            theme = tokens(self.stage)
            painter.fillRect(QRectF(strip.scale.left - 1, 0, 1, self.height()), QColor(theme.line))
            rule(painter, 0, self.width(), 0, theme.line)

    def _draw_kept(self, strip: Strip, density: float) -> QPixmap:
        kept = QPixmap(round(self.width() * density), round(self.height() * density))
        kept.setDevicePixelRatio(density)
        kept.fill(QColor(tokens(self.stage).paper))
        with QPainter(kept) as painter:
            painter.setClipRect(QRectF(strip.scale.left, 0, strip.scale.right - strip.scale.left, self.height()))
            draw_ground(painter, strip, self.stage, self.height())
            shown = list(bars(self._book, strip, self.stage.today))
            draw_all(painter, shown, self._book, strip, self.stage, {breach.uid for breach in self._breaches})
            draw_marks(painter, self._book.farm, strip, self.stage)
            draw_complaint(painter, self.stage, self._complaint(), strip, self.height())
            if not self._book.farm.stays:
                box = QRectF(strip.scale.left + 16, strip.top, strip.scale.right - strip.scale.left, strip.row)
                words = self.stage.say("Place a paddock to begin.")
                write(painter, box, words, font("body", self.stage), tokens(self.stage).ink2)
        return kept

    def _complaint(self) -> Breach | None:
        """Return what is wrong with the plan first; nothing in a narrow window, where it has no room."""
        return self._breaches[0] if self._breaches and self.stage.room.name != "narrow" else None

    def _complaint_high(self) -> float:
        """Return the height that it takes below the rows [px]."""
        return complaint_high(self.stage, self._complaint(), self.width() - self.stage.room.column_px)
