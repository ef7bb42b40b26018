"""The menu under More: farms, plates that are asked for, and how the window looks and answers."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path

from PySide6.QtGui import QActionGroup
from PySide6.QtWidgets import QMenu, QWidget

from pigmap.document.edits import change_setting
from pigmap.fence.cautions.distances import distances_of
from pigmap.fence.cautions.things import metres
from pigmap.qt.files import choose_file
from pigmap.qt.following import tell
from pigmap.qt.stage import Stage
from pigmap.qt.starting import USUAL_TEXT_PT, theme_named
from pigmap.qt.theme import font
from pigmap.session.new_farm import Made
from pigmap.session.personal import Personal, load_personal, save_personal
from pigmap.text import Text

THEMES = (
    ("system", Text("As the computer has it")),
    ("light", Text("Light")),
    ("dark", Text("Dark")),
    ("bright", Text("Bright, for sunlight")),
)
SIZES = (90, 100, 110, 120, 130, 150)
"""Sizes of text that can be chosen [%]."""
ENGLISH = (
    ("en", Text("International English")),
    ("en_GB", Text("British and Irish English")),
    ("en_US", Text("North American English")),
    ("en_AU", Text("Australian and New Zealand English")),
)
UNITS = (
    ("metric", Text("Metres, kilograms, degrees Celsius")),
    ("us", Text("Feet, acres, pounds, degrees Fahrenheit")),
)
SIGNS = (
    (50.0, "At most {apart} apart, as in France and in Cornwall"),
    (90.0, "At most {apart} apart, as in Australia, New Zealand and the British trade"),
    (100.0, "At most {apart} apart, as in Germany and Czechia"),
)
"""Distances of warning signs that can be chosen [m]: `pigmap.fence.signs.SIGNS_APART_BY_PLACE`."""
PLATES = (
    ("stock", Text("Nets"), "N"),
    ("books", Text("Books"), "K"),
    ("weather", Text("Rain and hot days"), "R"),
    ("learned", Text("What this farm has taught"), ""),
    ("terrain", Text("Terrain image"), ""),
    ("photos", Text("Photos"), ""),
    ("data", Text("Data in and out"), ""),
    ("manual", Text("Help"), "F1"),
    ("history", Text("History"), ""),
    ("messages", Text("Messages"), ""),
    ("kept-pictures", Text("Kept pictures"), ""),
    ("backups", Text("Backups"), ""),
    ("copies", Text("A copy that comes back"), ""),
    ("farm-file", Text("Is the farm file sound?"), ""),
)


class MoreMenu(QMenu):
    """Made anew each time it opens, so that it ticks what holds.

    Parameters
    ----------
    sheet, redo
        What the verbs of these names do: a short row has no room for their buttons.
    map_only
        Puts all but the map away.
    """

    def __init__(
        self,
        stage: Stage,
        parent: QWidget,
        *,
        sheet: Callable[[], None],
        redo: Callable[[], None],
        map_only: Callable[[], None],
    ) -> None:
        super().__init__(parent)
        self.stage = stage
        self.setFont(font("body", stage))
        self.setAccessibleName(stage.say("More"))
        self._deed(self, Text("Print the field map"), sheet, "S")
        self._deed(self, Text("Redo"), redo, "Ctrl Shift Z")
        self._deed(self, Text("Find"), partial(stage.plate_asked.emit, "find"), "/")
        self._deed(self, Text("Measure"), partial(stage.take_up, "measure"), "M")
        self._deed(self, Text("The map alone, and back"), map_only, "F11")
        self.addSeparator()
        self._farms()
        self.addSeparator()
        names = {part.name for part in stage.session.registry.parts("panels")}
        for name, words, key in PLATES:
            if name in names:
                self._deed(self, words, partial(stage.plate_asked.emit, name), key)
        self.addSeparator()
        self._look()
        self.addSeparator()
        self._deed(self, Text("About pigmap"), partial(stage.plate_asked.emit, "about"))

    def _deed(self, menu: QMenu, words: Text, deed: Callable[[], None], key: str = "") -> None:
        said = self.stage.words(words)
        action = menu.addAction(f"{said}\t{key}" if key else said)
        action.triggered.connect(lambda: deed())

    def _choice(self, title: Text, choices: Sequence[tuple[str, bool, Callable[[], None]]]) -> None:
        menu = self.addMenu(self.stage.words(title))
        menu.setFont(self.font())
        group = QActionGroup(menu)
        for words, holds, deed in choices:
            action = menu.addAction(words)
            action.setCheckable(True)
            action.setChecked(holds)
            group.addAction(action)
            action.triggered.connect(lambda _=False, deed=deed: deed())

    # Farms

    def _farms(self) -> None:
        self._deed(self, Text("Start my farm"), partial(self.stage.start_asked.emit, None))
        self._deed(self, Text("Open a farm"), self._open)
        names = {part.name for part in self.stage.session.registry.parts("panels")}
        if "farm-place" in names and not self.stage.session.read_only:
            self._deed(self, Text("Place of the farm"), partial(self.stage.plate_asked.emit, "farm-place"))
        here = self.stage.session.path.resolve()
        for path in load_personal().farms:
            if Path(path) != here and Path(path).is_file():
                self._deed(self, Text("Open {farm}", {"farm": Path(path).stem}), partial(self._show, Path(path)))

    def _open(self) -> None:
        chosen = choose_file(self, self.stage.say("Open a farm"), self.stage.say("Farm files (*.gpkg)"))
        if chosen:
            self._show(Path(chosen))

    def _show(self, path: Path) -> None:
        self.stage.farm_asked.emit(Made(path))

    # How it looks and answers

    def _look(self) -> None:
        stage, personal = self.stage, load_personal()
        self._choice(
            Text("How it looks"),
            [(stage.words(words), personal.theme == name, partial(self._theme, name)) for name, words in THEMES],
        )
        now = round((personal.text_pt or USUAL_TEXT_PT) / USUAL_TEXT_PT * 100)
        self._choice(
            Text("Size of text"),
            [(stage.say("{percent} %", percent=str(size)), size == now, partial(self._size, size)) for size in SIZES],
        )
        units = [(stage.words(words), stage.units == name, partial(self._units, name)) for name, words in UNITS]
        if not stage.session.read_only:
            self._choice(Text("Units"), units)
            self._signs()
        sorts = [(stage.words(words), stage.language == name, partial(self._speak, name)) for name, words in ENGLISH]
        self._choice(Text("Words"), sorts)
        self._switch(Text("Single letters are keys"), personal.letters, lambda on: self._keep(letters=on))
        moves = personal.motion == "full"
        self._switch(Text("Map and plates glide"), moves, lambda on: self._keep(motion="full" if on else "none"))

    def _signs(self) -> None:
        """Offer how far apart warning signs hang; another distance that was told stays first."""
        stage, now = self.stage, distances_of(self.stage.session.farm).signs_apart_m
        told = () if any(now == each for each, _ in SIGNS) else ((now, "At most {apart} apart"),)
        choices = [
            (stage.words(Text(words, {"apart": metres(each)})), each == now, partial(self._hang, each))
            for each, words in (*told, *SIGNS)
        ]
        self._choice(Text("Warning signs along paths"), choices)

    def _hang(self, apart_m: float) -> None:
        edit = change_setting("sign spacing", apart_m, unit="m")
        tell(self.stage, self.stage.session.do(edit), edit.label)

    def _switch(self, words: Text, holds: bool, keep: Callable[[bool], object]) -> None:
        action = self.addAction(self.stage.words(words))
        action.setCheckable(True)
        action.setChecked(holds)
        action.triggered.connect(lambda on: keep(on))

    def _keep(self, **changes: object) -> Personal:
        kept = replace(load_personal(), **changes)  # type: ignore[arg-type]
        save_personal(kept)
        return kept

    def _theme(self, name: str) -> None:
        self._keep(theme=name)
        self.stage.show_theme(theme_named(name))

    def _size(self, percent: int) -> None:
        """Keep the size, and show the farm anew: every widget takes its font when it is made."""
        self._keep(text_pt=USUAL_TEXT_PT * percent / 100)
        words = Text("Text is shown at {percent} %.", {"percent": str(percent)})
        self.stage.farm_asked.emit(Made(self.stage.session.path, (words,)))

    def _speak(self, name: str) -> None:
        """Keep the sort of English, and show the farm anew: every widget takes its words when it is made."""
        self._keep(language=name)
        self.stage.farm_asked.emit(Made(self.stage.session.path))

    def _units(self, name: str) -> None:
        edit = change_setting("units", name)
        tell(self.stage, self.stage.session.do(edit), edit.label)
