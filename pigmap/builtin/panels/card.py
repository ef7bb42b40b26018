"""The card of what is picked: its figures, what they rest on, cautions, and what can be done with it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QScrollArea, QWidget

from pigmap.builtin.panels.card_body import LEFT, RIGHT, CardBody
from pigmap.builtin.panels.card_deeds import GAP, CardDeeds
from pigmap.builtin.panels.card_facts import CardFacts
from pigmap.builtin.panels.card_field import CardField, typed_day
from pigmap.builtin.panels.card_pictures import CardPictures
from pigmap.builtin.panels.close_button import CloseButton
from pigmap.builtin.panels.day_deeds import DAY_DEEDS, do_day_deed
from pigmap.builtin.panels.other_facts import card_of
from pigmap.builtin.panels.stay_deeds import do_stay_deed
from pigmap.document.edits import end_use, remove, rename
from pigmap.errors import EditError
from pigmap.qt.following import sentence, tell
from pigmap.qt.map_plate import MapPlate
from pigmap.qt.over_map import card_has_room
from pigmap.qt.paintwork import SHADOW
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.records import Field, Group, Paddock, Place, Way
from pigmap.text import Text

if TYPE_CHECKING:
    from pigmap.builtin.panels.card_form import CardForm

PAD = 14 + SHADOW
SCROLL_BAR = 14
"""Breadth of a scroll bar and of the gap beside it [px]."""
LEAST_BODY = 300
"""Where what the card says has less height than this, fewer rows of deeds stay below it, one at least [px at 100 %]."""
_FORMS = (
    *("purposes", "told", "soil", "happened", "needs", "weigh"),
    *("nets", "energizer", "gives", "fed", "volts", "figure", "took"),
)
"""Deeds that are done in a form in the card's place."""
_ASKED = {
    "rename": Text("new name"),
    "end use": Text("first day it is out of use"),
    "end group": Text("first day nobody is left in it"),
}
"""What is typed in the title's place, by the deed that asks for it."""


class Card(MapPlate):
    """Shows one picked thing; it is there while something is picked."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent)
        self._facts: CardFacts | None = None
        self._scroll = QScrollArea(self)
        self._scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._body = CardBody(stage, self._scroll)
        self._scroll.setWidget(self._body)
        self._body.grown.connect(self._fit_form)
        self._deeds = CardDeeds(stage, self, self._body, self._do)
        self._field = CardField(self)
        self._pictures = CardPictures(stage, self._body)
        self._below = 0
        """Height of the picture below the figures [px]."""
        self._field.taken.connect(self._take_typed)
        self._field.dropped.connect(self._end_typing)
        self._asked = ""
        self._form: CardForm | None = None
        self._form_deed = ""
        """The deed whose form was opened last."""
        self._close = CloseButton(stage, self)
        self._close.clicked.connect(lambda: stage.pick(None))
        for signal in (stage.picked_changed, stage.farm_changed, stage.day_changed, stage.ground_changed):
            signal.connect(self._renew)
        stage.room_changed.connect(self._lay_out)
        stage.theme_changed.connect(self._renew)
        self._renew()

    def _renew(self) -> None:
        facts = card_of(self.stage, self.stage.picked)
        self._pictures.show(facts)
        if facts == self._facts and facts is not None:
            return
        another = facts is None or self._facts is None or facts.uid != self._facts.uid
        self._facts = facts
        self.setVisible(facts is not None and card_has_room(self.stage))
        if another:
            self._body.forget()
            self._end_typing()
            self._end_form()
        if facts is not None:
            self._body.facts = self._shown(facts)
            spoken = [
                facts.title,
                facts.second,
                *facts.urgent,
                *(f"{each.label}: {each.figure}" for each in facts.facts),
            ]
            self.setAccessibleName(", ".join([*spoken, *facts.warnings]))
            self._deeds.show(facts.deeds, visible=self._form is None)
        self._body.update()
        self.updateGeometry()
        self._lay_out()

    def _said_high(self, wide: int) -> int:
        """Return the height of all that the card says and draws, and keep room in it for pictures."""
        above, self._below = self._pictures.high(wide)
        self._body.below_head = above
        return self._body.heightForWidth(wide) + self._below

    def close_down(self) -> None:
        """Stop what is looked up for it."""
        self._pictures.close_down()

    # What can be done

    def _do(self, name: str) -> None:
        facts, stage = self._facts, self.stage
        if facts is None:
            return
        if name in _ASKED:
            self._begin_typing(name)
        elif name in DAY_DEEDS:
            do_day_deed(stage, name, facts.uid)
        elif name in _FORMS:
            self._begin_form(facts.table, facts.uid, name)
        elif name in ("before", "work", "here", "split"):
            stage.take_up(name)
        elif name == "remove":
            edit = remove(facts.table, facts.uid)
            tell(stage, stage.session.do(edit), Text("{name} removed.", {"name": facts.title}))
        else:
            do_stay_deed(stage, name, facts.stay_uid)

    def _begin_form(self, table: str, uid: str, deed: str) -> None:
        """Let the purposes of a field, nets, a weight or an energizer be told in the card's place."""
        from pigmap.builtin.panels.card_form import CardForm  # takes no time at the start

        self._end_form()
        row = self.stage.session.farm.rows(table).get(uid)
        if not isinstance(row, (Field, Group, Paddock, Place, Way)):
            return
        self._form_deed = deed
        self._form = CardForm(self.stage, row, self, deed)
        self._form.ended.connect(self._leave_form)
        self._form.grown.connect(self._fit_form)
        self._show_form()

    def _end_form(self) -> None:
        if self._form is not None:
            self._form.hide()
            self._form.deleteLater()
            self._form = None
            self._show_form()

    def _leave_form(self) -> None:
        """Go back to the card, with the keys on the deed that the form came from."""
        self._end_form()
        button = self._deeds.button(self._form_deed)
        (button or self._body).setFocus(Qt.FocusReason.OtherFocusReason)  # nothing that changes the farm at once

    def _show_form(self) -> None:
        for part in (self._scroll, *self._deeds.buttons):
            part.setVisible(self._form is None)
        if self._form is not None:
            self._form.begin()
        self._fit_form()

    def _fit_form(self) -> None:
        self.updateGeometry()
        self._lay_out()
        self.update()

    def _shown(self, facts: CardFacts) -> CardFacts:
        """Return what the card says, with what is asked for while it is typed."""
        return facts._replace(second=self.stage.words(_ASKED[self._asked])) if self._asked else facts

    def _begin_typing(self, name: str) -> None:
        facts = self._facts
        if facts is None:
            return
        self._asked = name
        what = self.stage.words(_ASKED[name])
        if name == "rename":
            self._field.begin(facts.title, what)
        else:
            ends = facts.ends_on or self.stage.day
            self._field.begin(ends.isoformat(), what, self.stage.day.isoformat())
        self._show_typing(facts)

    def _end_typing(self) -> None:
        self._asked = ""
        self._field.hide()
        if self._facts is not None:
            self._show_typing(self._facts)

    def _show_typing(self, facts: CardFacts) -> None:
        self._body.title_shown = not self._asked
        self._body.facts = self._shown(facts)
        self.updateGeometry()
        self._lay_out()
        self._body.update()

    def _take_typed(self, typed: str) -> None:
        """Take the name or the day that was typed; an empty or an unchanged name changes nothing."""
        facts, asked, stage = self._facts, self._asked, self.stage
        if facts is None or not asked:
            return
        if asked == "rename":
            self._end_typing()
            if not typed.strip() or typed.strip() == facts.title:
                return
            edit = rename(facts.table, facts.uid, typed.strip())
        else:
            try:
                edit = end_use(facts.table, facts.uid, typed_day(typed))
            except EditError as error:
                stage.notice(sentence(error), "refused")  # what was typed stays, to be put right
                return
            self._end_typing()
        tell(stage, stage.session.do(edit), edit.label)

    # Its room

    def _inner_wide(self, width: int) -> int:
        return max(80, width - 2 * PAD)

    def heightForWidth(self, width: int) -> int:
        """Return the height that all of it takes in a breadth."""
        wide = self._inner_wide(width)
        if self._form is not None:
            return self._form.high_at(wide) + 2 * PAD
        self._body.columns = 2 if self.stage.room.name == "narrow" and wide > 560 else 1
        return self._said_high(wide) + self._deeds.high(wide) + 2 * PAD

    def height_within(self, width: int, most: int) -> int:
        """Return the height in a breadth, of `most` at most; what scrolls ends with a whole row."""
        wanted, wide = self.heightForWidth(width), self._inner_wide(width)
        self._deeds.kept = len(self._deeds.rows(wide))
        if wanted <= most or self._form is not None:
            return min(wanted, most)
        least = min(self._said_high(wide), round(LEAST_BODY * self.stage.text_scale))
        while self._deeds.kept > 1 and most - self._deeds.high(wide, self._deeds.kept) - 2 * PAD < least:
            self._deeds.kept -= 1
        around = self._deeds.high(wide, self._deeds.kept) + 2 * PAD
        return self._body.whole_within(wide, most - around) + around

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Lay body and buttons out."""
        self._lay_out()

    def _lay_out(self) -> None:
        if self._facts is None or self.width() < 2 * PAD:
            return
        wide = self._inner_wide(self.width())
        self._close.setGeometry(self.width() - PAD - 26, PAD - 4, 32, 32)
        if self._form is not None:
            self._form.setGeometry(PAD, PAD, wide + self._form.beside, self.height() - 2 * PAD)
            return
        foot = self._deeds.high(wide, self._deeds.kept)
        bottom = self.height() - PAD
        high = max(0, bottom - foot - PAD)
        said = self._said_high(wide)
        self._pictures.lay(LEFT, wide, self._body.picture_y, said - self._below)
        needed = said + self._deeds.scrolled_high(wide)
        bar = SCROLL_BAR - RIGHT if needed > high else 0
        self._scroll.setGeometry(PAD - LEFT, PAD, LEFT + wide + RIGHT + bar, high)
        self._body.resize(LEFT + wide + RIGHT, max(needed, high))
        self._deeds.lay(PAD, bottom - foot + GAP, wide, said + GAP)
        head = self._body.head_box()
        self._field.setFont(font("title", self.stage))
        self._field.setGeometry(round(PAD + head.x()), PAD - 5, round(head.width()) - 4, round(head.height()) + 5)


class _Panel:
    name = "card"
    place = "card"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the card."""
        return Card(stage, parent)


panel = _Panel()
