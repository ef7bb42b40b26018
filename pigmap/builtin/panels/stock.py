"""Nets: how many are owned, stand and are spare on the day that is shown, who has them, and what is done about them."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QHBoxLayout, QWidget

from pigmap.builtin.panels.aside_tall import TallPlate
from pigmap.builtin.panels.stock_overview import Overview
from pigmap.builtin.panels.stock_page import TARGET, StockPage
from pigmap.errors import PigmapError
from pigmap.qt.buttons import WordButton
from pigmap.qt.files import choose_file, choose_new_file
from pigmap.qt.following import sentence
from pigmap.qt.stage import Stage
from pigmap.session.net_list import write_net_list
from pigmap.session.net_list_reading import read_net_list
from pigmap.text import Text

LOW = 330
"""A map lower than that has no room for deeds that stay [px at a text size of 100 %]."""


class Stock(TallPlate):
    """What there is, and below it the deeds; each deed asks on a page of its own in the same place."""

    def __init__(self, stage: Stage, parent: QWidget) -> None:
        super().__init__(stage, parent, stage.say("Nets"))
        self.page: StockPage | None = None
        self.overview = self._made()
        self.damaged = self._deed(stage.say("A net is damaged"), self._ask_damaged)
        self.add = self._deed(stage.say("Add nets"), self._ask_add)
        self.out = self._deed(stage.say("Out of use"), self._ask_out)
        self.numbers = self._deed(stage.say("Numbers"), self._ask_numbers, "link")
        self.save = self._deed(stage.say("Save as a list"), self._save, "link")
        self.take = self._deed(stage.say("Take in a list"), self._ask_list, "link")
        self.deeds = (self.numbers, self.save, self.take, self.damaged, self.add, self.out)
        self.foot, self.links = QWidget(self), QWidget(self.tall.inner)
        self._lay_deeds()
        self.column.addWidget(self.foot)
        self.tall.column.addWidget(self.links)
        for signal in (stage.farm_changed, stage.day_changed):
            signal.connect(self._follow)

    def _deed(self, words: str, deed: object, look: str = "plain") -> WordButton:
        made = WordButton(self.stage, words, look, self)  # type: ignore[arg-type]
        made.setFixedHeight(round((TARGET if look == "plain" else 36) * self.stage.text_scale))
        made.clicked.connect(deed)
        return made

    def _lay_deeds(self) -> None:
        row = QHBoxLayout(self.foot)
        row.setContentsMargins(0, 4, 0, 0)
        row.setSpacing(6)
        for deed in (self.damaged, self.add, self.out):
            row.addWidget(deed, deed.sizeHint().width())  # each takes its share: a little less than it wants
        below = QHBoxLayout(self.links)
        below.setContentsMargins(0, 4, 0, 0)
        for link in (self.numbers, self.save, self.take):
            below.addWidget(link)
        below.addStretch(1)

    def _made(self) -> Overview:
        made = Overview(self.stage, self.tall.inner)
        made.kind_asked.connect(self._ask_kind)
        self.tall.column.insertWidget(0, made)
        return made

    # What is shown

    def first(self) -> QWidget:
        """Return the first deed, or what the page asks first."""
        if self.page is not None:
            return self.page.first()
        if self.tall.column.indexOf(self.foot) >= 0 and self.overview.more and self.overview.more[0].isVisibleTo(self):
            return self.overview.more[0]  # on a low map the deeds lie below what is in sight
        return next(each for each in (self.damaged, self.add, self.save) if each.isVisibleTo(self))

    def renew(self) -> None:
        """Begin with what there is."""
        self._drop_page()
        self._renew()

    def _follow(self, *_: object) -> None:
        if not self.isHidden():
            from pigmap.builtin.panels.stock_numbers import NumbersPage

            if isinstance(self.page, NumbersPage):
                self._ask_numbers(again=True)
            self._renew()

    def _renew(self) -> None:
        """Show the farm as it is now; the keys stay where they were, by what that is called."""
        had = QApplication.focusWidget()
        inside = had is not None and self.overview.isAncestorOf(had)
        name = had.accessibleName() if had is not None and inside else ""
        gone, self.overview = self.overview, self._made()
        self.overview.setVisible(self.page is None)
        farm, writes = self.stage.session.farm, not self.stage.session.read_only
        for deed in (self.damaged, self.out, self.numbers):
            deed.setVisible(bool(farm.net_kinds) and writes)
        for deed in (self.add, self.take):
            deed.setVisible(writes)
        if inside:
            named = (each for each in self.overview.findChildren(QWidget) if each.accessibleName() == name)
            target = next((each for each in named if each.focusPolicy() & Qt.FocusPolicy.TabFocus), None)
            (target or self.damaged).setFocus(Qt.FocusReason.OtherFocusReason)
        self.tall.column.removeWidget(gone)
        gone.hide()
        gone.deleteLater()
        self._order()
        self._refit()

    def _order(self) -> None:
        """Let the Tab key go through as it is read."""
        from pigmap.builtin.panels.tab_order import tab_in_order

        middle = self.overview if self.page is None else self.page
        tab_in_order([self.close_button, middle, *self.deeds])

    def fit(self) -> None:
        """Take the height of what is shown now."""
        self._put_foot(low=self._map.height() < LOW * self.stage.text_scale)
        super().fit()

    def _put_foot(self, *, low: bool) -> None:
        """Keep the deeds in sight below what scrolls; on a low map they scroll with it."""
        wanted = self.tall.column if low else self.column
        if wanted.indexOf(self.foot) < 0:
            (self.column if low else self.tall.column).removeWidget(self.foot)
            wanted.addWidget(self.foot)
            self.foot.setVisible(self.page is None)

    # Pages

    def show_page(self, page: StockPage, *, keys: bool = True) -> None:
        """Show a page in place of what there is."""
        self._drop_page()
        self.page = page
        page.ended.connect(self._end_page)
        page.grown.connect(self._refit)
        self.tall.column.addWidget(page)
        for each in (self.overview, self.links, self.foot):
            each.hide()
        page.show()
        self._order()
        self._refit()
        if keys:
            self.tall.verticalScrollBar().setValue(0)
            page.first().setFocus(Qt.FocusReason.OtherFocusReason)

    def _drop_page(self) -> None:
        if self.page is not None:
            gone, self.page = self.page, None
            self.tall.column.removeWidget(gone)
            gone.hide()
            gone.deleteLater()
        for each in (self.overview, self.links, self.foot):
            each.show()

    def _end_page(self) -> None:
        self._drop_page()
        self._renew()
        self.first().setFocus(Qt.FocusReason.OtherFocusReason)

    def _ask_damaged(self) -> None:
        from pigmap.builtin.panels.stock_deeds import DamagedPage

        self.show_page(DamagedPage(self.stage, self.tall.inner))

    def _ask_add(self) -> None:
        from pigmap.builtin.panels.stock_deeds import AddPage

        self.show_page(AddPage(self.stage, self.tall.inner))

    def _ask_out(self) -> None:
        from pigmap.builtin.panels.stock_deeds import OutPage

        self.show_page(OutPage(self.stage, self.tall.inner))

    def _ask_kind(self, uid: str) -> None:
        from pigmap.builtin.panels.stock_kind import KindPage

        kind = self.stage.session.farm.net_kinds.get(uid)
        if kind is not None:
            self.show_page(KindPage(self.stage, kind, self.tall.inner))

    def _ask_numbers(self, _: bool = False, *, again: bool = False) -> None:
        """Show the numbers, again where they changed: the keys stay with what they were on."""
        from pigmap.builtin.panels.stock_numbers import NumbersPage

        had = QApplication.focusWidget()
        name = had.accessibleName() if again and had is not None else ""
        at = self.tall.verticalScrollBar().value()
        page = NumbersPage(self.stage, self.tall.inner)
        self.show_page(page, keys=not again)
        if again:
            self.tall.verticalScrollBar().setValue(at)
            named = (each for each in page.findChildren(QWidget) if name and each.accessibleName() == name)
            target = next((each for each in named if each.focusPolicy() & Qt.FocusPolicy.TabFocus), page.first())
            target.setFocus(Qt.FocusReason.OtherFocusReason)

    # Lists

    def _save(self) -> None:
        stage = self.stage
        name = stage.say("{farm} nets", farm=stage.session.farm.name or stage.session.path.stem)
        chosen = choose_new_file(self, stage.say("Save as a list"), f"{name}.csv", stage.say("Lists (*.csv)"))
        if chosen:
            self.save_list(Path(chosen))

    def save_list(self, path: Path) -> None:
        """Write the list, or say why it cannot be."""
        path = path if path.suffix else path.with_suffix(".csv")
        try:
            write_net_list(self.stage.session.farm, path)
        except PigmapError as error:
            self.stage.notice(sentence(error), "refused")
            return
        count = len(self.stage.session.farm.nets)
        words = "{count} nets are in the list {file}."
        done = Text("1 net is in the list {file}.", {"file": path.name}, plural=words, count=count)
        self.stage.notice(done, file=path)

    def _ask_list(self) -> None:
        stage = self.stage
        chosen = choose_file(self, stage.say("Take in a list"), stage.say("Lists (*.csv *.txt)"))
        if chosen:
            self.show_list(Path(chosen))

    def show_list(self, path: Path) -> None:
        """Show what a list would do, or say why it cannot be read."""
        from pigmap.builtin.panels.stock_list import ListPage

        try:
            file = read_net_list(path)
        except PigmapError as error:
            self.stage.notice(sentence(error), "refused")
            return
        self.show_page(ListPage(self.stage, file, self.tall.inner))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave a page on Esc, then the plate."""
        if event.key() == Qt.Key.Key_Escape and self.page is not None:
            self._end_page()
        else:
            super().keyPressEvent(event)


class _Panel:
    name = "stock"
    place = "aside"
    verb = ""

    def make(self, stage: Stage, parent: QWidget) -> QWidget:
        """Return the plate."""
        return Stock(stage, parent)


panel = _Panel()
