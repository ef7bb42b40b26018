"""What this farm has taught: how fast its ground is worn and comes back, by its own daily checks, and to use that."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QScrollArea, QVBoxLayout, QWidget

from pigmap.builtin.panels.aside import AsidePlate
from pigmap.builtin.panels.form_parts import Words
from pigmap.builtin.panels.learned_plot import LearnedPlot
from pigmap.document.edits import PACE, keep_pace, use_printed_pace
from pigmap.ground.fitting import Learned, Number, learned
from pigmap.qt.buttons import WordButton
from pigmap.qt.following import tell
from pigmap.qt.stage import Stage
from pigmap.records import Farm
from pigmap.session.ground_worker import GroundWorker
from pigmap.text import Quantity

TARGET = 44
FAR = 3.0
"""Numbers that are more times the printed one, or less than one part of so many, are doubted. Own choice."""
SAME = 0.005
"""Numbers that differ by a smaller share are the same."""


class LearnedPlate(AsidePlate):
    """Computed on a thread of its own when it opens, and anew where the farm changed meanwhile."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("What this farm has taught"))
        post = stage.session.post
        self._worker: GroundWorker[Learned] | None = GroundWorker(post, self._take) if post is not None else None
        self._version = 0
        self._asked: tuple[Farm, date] | None = None
        self.learned: Learned | None = None
        self._scroll = QScrollArea(self)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setWidgetResizable(True)
        inside = QWidget()
        self._scroll.setWidget(inside)
        rows = QVBoxLayout(inside)
        rows.setContentsMargins(0, 0, 8, 0)
        rows.setSpacing(8)
        self.column.addWidget(self._scroll)
        self.said = Words(stage, "strong", inside)
        self.in_use = Words(stage, "body", inside)
        self.pace = Words(stage, "body", inside)
        self.off = Words(stage, "body", inside)
        self.far = Words(stage, "second", inside, colour="warn")
        self.plot = LearnedPlot(stage, inside)
        self.use = WordButton(stage, stage.say("Use what this farm shows"), parent=inside)
        self.printed = WordButton(stage, stage.say("Use the numbers from print"), parent=inside)
        self.note = Words(
            stage,
            "second",
            inside,
            stage.say("Scores come in quarters and eyes differ: figures stay rough, and your eyes come first."),
            "ink2",
        )
        for part in (
            self.said,
            self.in_use,
            self.pace,
            self.far,
            self.off,
            self.plot,
            self.note,
            self.use,
            self.printed,
        ):
            rows.addWidget(part)
        for button in (self.use, self.printed):
            button.setFixedHeight(round(TARGET * stage.text_scale))
        rows.addStretch(1)
        self.use.clicked.connect(self._use)
        self.printed.clicked.connect(self._use_printed)
        stage.farm_changed.connect(self._follow)

    def close_down(self) -> None:
        """Stop what is computed."""
        if self._worker is not None:
            self._worker.close()

    def settle(self) -> None:
        """Wait until what was asked for is there."""
        if self._worker is not None:
            self._worker.settle()

    def _follow(self) -> None:
        if not self.isHidden():
            self.renew()

    # What was learned

    def renew(self) -> None:
        """Ask for what the checks teach now; what is shown stays until it is there."""
        farm, today = self.stage.session.farm, self.stage.today
        if self._asked is None or self._asked[0] is not farm or self._asked[1] != today:
            self._asked = farm, today
            self._version += 1
            if self._worker is None:
                self.learned = learned(farm, today)
            else:
                self._worker.forget(_ONE)
                self._worker.want(_ONE, self._version, lambda stop: learned(farm, today))
        self._write()

    def _take(self, _: str, version: int, found: Learned) -> None:
        if version == self._version:
            self.learned = found
            self._write()
            self.fit()

    def _write(self) -> None:
        stage, found = self.stage, self.learned
        if found is None:
            self.said.say(stage.say("Computed from your daily checks: a moment."))
        else:
            self.said.say(stage.words(found.words))
        self.in_use.say(self._in_use_words())
        self.pace.say(self._pace_words())
        self.off.say(self._off_words())
        self.far.say(self._far_words())
        self.plot.show_learned(found)
        self.plot.setVisible(found is not None and bool(found.rows))
        may = not stage.session.read_only
        had_keys = self.use.hasFocus() or self.printed.hasFocus()
        self.use.setVisible(may and found is not None and found.is_fitted and not self._uses_it())
        self.printed.setVisible(may and bool(self._own()))
        if had_keys:
            left = next((each for each in (self.use, self.printed) if not each.isHidden()), self.close_button)
            left.setFocus(Qt.FocusReason.OtherFocusReason)
        self._scroll.setMinimumHeight(self._inner_high())

    def _inner_high(self) -> int:
        """Return the height that all of it takes, as far as the map has it."""
        inside = self._scroll.widget()
        layout = inside.layout() if inside is not None else None
        if layout is None:
            return 0
        layout.invalidate()
        wanted = layout.heightForWidth(max(self.width() - 60, 200)) + 8
        parent = self.parentWidget()
        return min(wanted, max((parent.height() if parent is not None else wanted) - 140, 120))

    def _own(self) -> dict[str, float]:
        """Return the numbers that the farm uses in place of those from print."""
        farm = self.stage.session.farm
        told = {key: farm.setting(key) for key in PACE}
        return {key: float(value) for key, value in told.items() if isinstance(value, (int, float))}

    def _fitted(self) -> dict[str, float]:
        """Return the numbers that are used once they are kept, by the settings that take them."""
        found = self.learned
        if found is None:
            return {}
        wood = (found.wood,) if found.wood.log_se is not None else ()
        return {key: number.value for key, number in zip(PACE, (found.loss, found.regrowth, *wood), strict=False)}

    def _uses_it(self) -> bool:
        own, fitted = self._own(), self._fitted()
        return own.keys() == fitted.keys() and all(abs(own[key] / fitted[key] - 1) < SAME for key in own)

    # In words

    def _in_use_words(self) -> str:
        stage = self.stage
        if not self._own():
            return stage.say("In use: the numbers from print.")
        if self.learned is not None and self._uses_it():
            return stage.say("In use: what this farm shows.")
        return stage.say("In use: numbers of this farm, from earlier or typed.")

    def _pace_words(self) -> str:
        found, stage = self.learned, self.stage
        if found is None or not found.is_fitted:
            return ""
        lines = [
            (stage.say("Pigs wear the green {times} times as fast as printed", times=_times(found.loss)), found.loss),
            (stage.say("It comes back {times} times as fast as printed", times=_times(found.regrowth)), found.regrowth),
            (
                stage.say("Under trees pigs wear it {times} times as fast as printed", times=_times(found.wood)),
                found.wood,
            ),
        ]
        return "\n".join(self._give_or_take(said, number) for said, number in lines if number.log_se is not None)

    def _give_or_take(self, said: str, number: Number) -> str:
        spread = Quantity(number.log_se or 0.0, "1")
        return self.stage.say("{said}, give or take {spread}.", said=said, spread=spread)

    def _far_words(self) -> str:
        """Say where a number is so far from print that the scores are to be looked at first."""
        found = self.learned
        numbers = (found.loss, found.regrowth, found.wood) if found is not None else ()
        far = any(each.log_se is not None and not 1 / FAR < each.value / each.printed < FAR for each in numbers)
        if not far:
            return ""
        return self.stage.say(
            "That is far from print. Look first whether scores are of whole paddocks, and of those that rest as well."
        )

    def _off_words(self) -> str:
        found, stage = self.learned, self.stage
        if found is None or not found.rows:
            return ""
        printed = Quantity(found.rms_before, "1")
        if found.rms is None:
            return stage.say("The numbers from print are off by {printed} of the ground.", printed=printed)
        return stage.say(
            "Off by {off} of the ground; the numbers from print by {printed}.",
            off=Quantity(found.rms, "1"),
            printed=printed,
        )

    # What can be done

    def _use(self) -> None:
        found = self.learned
        if found is None:
            return
        wood = found.wood.value if found.wood.log_se is not None else None
        edit = keep_pace(loss=found.loss.value, regrowth=found.regrowth.value, wood=wood)
        tell(self.stage, self.stage.session.do(edit), edit.label)

    def _use_printed(self) -> None:
        edit = use_printed_pace()
        tell(self.stage, self.stage.session.do(edit), edit.label)


def _times(number: Number) -> str:
    """Return how many times the printed number it is, with two figures."""
    return f"{number.value / number.printed:.2g}"


_ONE = "learned"
"""One farm is learned from at a time."""


class _Panel:
    name = "learned"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return LearnedPlate(stage, parent)


panel = _Panel()
