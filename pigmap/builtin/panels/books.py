"""Books: medicine, register, litters, slaughter and escapes, page by page; printed, saved as a list, put right."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QWidget

from pigmap.builtin.panels.aside_tall import TallPlate
from pigmap.builtin.panels.book_paper import Asked, BookPaper
from pigmap.builtin.panels.book_table import BookTable
from pigmap.builtin.panels.form_parts import Words
from pigmap.builtin.panels.happened_form import HappenedForm
from pigmap.builtin.panels.happened_kept import take_out
from pigmap.builtin.panels.register_form import RegisterForm
from pigmap.builtin.panels.tab_order import tab_in_order
from pigmap.builtin.panels.told_form import TARGET, ToldForm
from pigmap.planning.farm_books import TITLES, BookPage, book_lines, years_of
from pigmap.qt.buttons import WordButton
from pigmap.qt.choice_box import ChoiceBox
from pigmap.qt.following import tell
from pigmap.qt.stage import Stage
from pigmap.qt.theme import font
from pigmap.records import RegisterEntry
from pigmap.text import Text

WIDE, FORM_WIDE = 880, 400
"""Breadths of the plate with a table and with a form [px at a text size of 100 %]."""
AROUND_TABLE = 290
"""Height of all but the table, and of what lies around the plate [px at a text size of 100 %]."""
EMPTY = {
    BookPage.MEDICINE: Text("No treatment is written down. What happened, on a group's card, takes it."),
    BookPage.REGISTER: Text("No line is written down. Pigs that are bought and sold on a group's card have one."),
    BookPage.LITTERS: Text(
        "No sow is written down. What happened, on a group's card, takes served, due, farrowed, weaned."
    ),
    BookPage.SLAUGHTER: Text("Nothing is booked. What happened, on a group's card, takes bookings and what went."),
    BookPage.ESCAPES: Text("No escape is written down. What happened, on a group's card, takes it."),
}
LOCAL_RULES = Text("What has to be kept in books, and for how long, is ruled where you are: local rules come first.")


class Books(TallPlate):
    """One page at a time, of all groups and years or of one; a line is put right or removed where it stands."""

    wide = WIDE

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("Books"))
        self.page = BookPage.MEDICINE
        self.form: ToldForm | None = None
        self.paper = BookPaper(stage, self)
        self.pages = self._page_buttons()
        self.group, self.year = self._choice(stage.say("Group")), self._choice(stage.say("Year"))
        self.table = BookTable(stage, self.tall.inner)
        self.empty = Words(stage, "body", self.tall.inner, "", "ink2")
        self.rules = Words(stage, "second", self.tall.inner, stage.words(LOCAL_RULES), "ink2")
        self.right = self._deed(stage.say("Put right"), self._put_right)
        self.out = self._deed(stage.say("Remove this entry"), self._remove)
        self.add = self._deed(stage.say("Add a line"), self._add)
        self.print = self._deed(stage.say("Print the page"), lambda: self.paper.print_page(self.asked))
        self.save = self._deed(stage.say("Save as a list"), lambda: self.paper.ask_where(self.asked))
        self.cards = self._deed(stage.say("Print cards for the pocket"), lambda: self.paper.print_cards())
        self.phones = self._deed(stage.say("Whom to ring"), self._ask_phones)
        self.deeds = (self.right, self.out, self.add, self.print, self.save)
        self.of_escapes = (self.cards, self.phones)
        self.parts = self._laid()
        self.table.asked.connect(self._put_right)
        self.table.chosen.connect(self._name_deeds)
        for box in (self.group, self.year):
            box.currentIndexChanged.connect(self._show)
        stage.farm_changed.connect(self._follow)

    def close_down(self) -> None:
        """Wait for what is being printed."""
        self.paper.close()

    # What it is made of

    def _page_buttons(self) -> dict[BookPage, WordButton]:
        group = QButtonGroup(self)
        made: dict[BookPage, WordButton] = {}
        for page, words in TITLES.items():
            button = WordButton(self.stage, self.stage.words(words), "toggle", self.tall.inner)
            button.setCheckable(True)
            button.setFixedHeight(round(TARGET * self.stage.text_scale))
            group.addButton(button)
            button.toggled.connect(lambda on, page=page: self._turn(page) if on else None)
            made[page] = button
        return made

    def _choice(self, called: str) -> ChoiceBox:
        box = ChoiceBox(self.stage, self.tall.inner)
        box.setFont(font("body", self.stage))
        box.setAccessibleName(called)
        box.setFixedHeight(round(TARGET * self.stage.text_scale))
        return box

    def _deed(self, words: str, deed: object) -> WordButton:
        made = WordButton(self.stage, words, parent=self.tall.inner)
        made.setFixedHeight(round(TARGET * self.stage.text_scale))
        made.clicked.connect(deed)
        return made

    def _laid(self) -> tuple[QWidget, ...]:
        """Lay all out in rows; return them with what follows: they give way to a form."""
        parts = []
        for row in (
            tuple(self.pages.values()),
            (self.group, self.year),
            (self.table,),
            (self.empty,),
            self.deeds,
            self.of_escapes,
        ):
            holder = QWidget(self.tall.inner)
            line = QHBoxLayout(holder)
            line.setContentsMargins(0, 0, 0, 0)
            line.setSpacing(6)
            for each in row:
                line.addWidget(each, max(each.sizeHint().width(), 1))
            self.tall.column.addWidget(holder)
            parts.append(holder)
        self.tall.column.addWidget(self.rules)
        tab_in_order(
            [self.close_button, *self.pages.values(), self.group, self.year, self.table, *self.deeds, *self.of_escapes]
        )
        return (*parts, self.rules)

    # What is shown

    def first(self) -> QWidget:
        """Return what the form asks first, or the page that is open."""
        return self.form.first if self.form is not None else self.pages[self.page]

    def renew(self) -> None:
        """Show the farm as it is."""
        self._end_form()
        self.pages[self.page].setChecked(True)
        self._offer()
        self._show()

    def _follow(self, *_: object) -> None:
        if not self.isHidden() and self.form is None:
            self._offer()
            self._show()

    def _turn(self, page: BookPage) -> None:
        self.page = page
        self._offer()
        self._show()

    def _offer(self) -> None:
        """Offer the groups and the years of the page; what was chosen stays where it is still there."""
        stage = self.stage
        groups = [(each.name, uid) for uid, each in stage.session.farm.groups.items()]
        years = [(str(year), str(year)) for year in years_of(stage.session.farm, self.page)]
        _refill(self.group, [(stage.say("all groups"), ""), *groups])
        _refill(self.year, [(stage.say("all years"), ""), *years])

    @property
    def asked(self) -> Asked:
        """What of the books is shown."""
        year = str(self.year.currentData() or "")
        return Asked(self.page, str(self.group.currentData() or "") or None, int(year) if year else None)

    def _show(self, *_: object) -> None:
        stage, (page, group_uid, year) = self.stage, self.asked
        lines = book_lines(stage.session.farm, page, group_uid=group_uid, year=year)
        self.table.show_lines(page, lines, stage.words(TITLES[page]))
        self.parts[2].setVisible(bool(lines))
        none = EMPTY[page] if group_uid is None and year is None else Text("Nothing of this group and year.")
        self.empty.say("" if lines else stage.words(none))
        self.parts[3].setVisible(not lines)
        self._name_deeds()
        self._refit()

    def _name_deeds(self) -> None:
        """Offer what can be done with the line that is chosen."""
        line, writes = self.table.line, not self.stage.session.read_only
        told = line is not None and (isinstance(line.row, RegisterEntry) or line.group_uid in self._groups)
        self.right.setVisible(writes and told)
        self.out.setVisible(writes and line is not None)
        self.add.setVisible(writes and self.page is BookPage.REGISTER)
        self.phones.setVisible(writes)
        self.parts[5].setVisible(self.page is BookPage.ESCAPES)

    @property
    def _groups(self) -> set[str]:
        return set(self.stage.session.farm.groups)

    def fit(self) -> None:
        """Take the height of what is shown now; the table gives way, so that what can be done stays in sight."""
        if self.form is None:
            self.table.take(self._map.height() - round(AROUND_TABLE * self.stage.text_scale))
        super().fit()

    # What is done with a line

    def _put_right(self) -> None:
        line, stage = self.table.line, self.stage
        if line is None or stage.session.read_only:
            return
        group = stage.session.farm.groups.get(line.group_uid or "")
        if isinstance(line.row, RegisterEntry):
            self._begin_form(RegisterForm(stage, line.row, self.tall.inner))
        elif group is not None:
            self._begin_form(HappenedForm(stage, group, self.tall.inner, line.row.uid))

    def _add(self) -> None:
        self._begin_form(RegisterForm(self.stage, None, self.tall.inner))

    def _ask_phones(self) -> None:
        from pigmap.builtin.panels.phones_form import PhonesForm

        self._begin_form(PhonesForm(self.stage, self.tall.inner))

    def _remove(self) -> None:
        line = self.table.line
        if line is not None:
            edit = take_out(self.stage.session.farm, line.row)
            tell(self.stage, self.stage.session.do(edit), edit.label)

    def _begin_form(self, form: ToldForm) -> None:
        self.form, self.wide = form, FORM_WIDE
        for part in self.parts:
            part.hide()
        self.tall.column.addWidget(form)
        form.ended.connect(self._leave_form)
        form.grown.connect(self._refit)
        form.shows.connect(lambda part: self.tall.ensureWidgetVisible(part, 0, 12))
        form.show()
        self._refit()
        form.first.setFocus(Qt.FocusReason.OtherFocusReason)

    def _end_form(self) -> None:
        if self.form is not None:
            gone, self.form, self.wide = self.form, None, WIDE
            self.tall.column.removeWidget(gone)
            gone.hide()
            gone.deleteLater()
            for part in self.parts:
                part.show()

    def _leave_form(self) -> None:
        self._end_form()
        self._offer()
        self._show()
        (self.table if self.table.line is not None else self.first()).setFocus(Qt.FocusReason.OtherFocusReason)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave a form on Esc, then the plate."""
        if event.key() == Qt.Key.Key_Escape and self.form is not None:
            self._leave_form()
        else:
            super().keyPressEvent(event)


def _refill(box: ChoiceBox, choices: list[tuple[str, str]]) -> None:
    """Offer other choices, with the one that was chosen still chosen where it is there."""
    chosen = box.currentData()
    box.blockSignals(True)
    box.clear()
    for words, value in choices:
        box.addItem(words, value)
    box.setCurrentIndex(max(box.findData(chosen), 0))
    box.blockSignals(False)


class _Panel:
    name = "books"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return Books(stage, parent)


panel = _Panel()
