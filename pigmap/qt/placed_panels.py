"""The panels of one window: made from what is contributed, found by name, by place or by the verb that brings them."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from pigmap.errors import PluginError
from pigmap.qt.following import sentence
from pigmap.qt.panel import Panel
from pigmap.qt.stage import Stage
from pigmap.text import Text

OVER_MAP = ("card", "key", "message", "start")
ASIDE = "aside"
"""Where plates lie that come over the map when they are asked for."""
IN_THE_FIRST_FRAME = ("verbs", "groups", "season", "message")
"""Panels that are seen at once. All others wait until the first frame of the map is complete."""
SOON = ("key", "start", "start-foot", "card")
"""Panels that are seen next, in this order; what is asked for by a verb comes after them, one at a time."""
ON_USE = (
    "about",
    "backups",
    "books",
    "copies",
    "data",
    "farm-file",
    "farm-place",
    "find",
    "history",
    "kept-pictures",
    "learned",
    "manual",
    "messages",
    "photos",
    "stock",
    "terrain",
    "weather",
)
"""Plates that are made when someone asks for them, and not before."""


class PlacedPanels:
    """Makes panels and keeps them.

    Parameters
    ----------
    stage
        What they show; one that cannot be used is told in its message bar, and the rest stands.
    window, map_view
        Their parents.
    made
        Called with each panel that was made.
    """

    def __init__(self, stage: Stage, window: QWidget, map_view: QWidget, made: Callable[[QWidget], None]) -> None:
        self._stage = stage
        self._window = window
        self._map = map_view
        self._made = made
        self._by_name: dict[str, QWidget] = {}
        self._by_place: dict[str, QWidget] = {}
        self._of_verbs: dict[str, QWidget] = {}
        self._asides: list[QWidget] = []
        self._parts = {part.name: part for part in stage.session.registry.parts("panels")}
        names = list(self._parts)
        later = [name for name in names if name not in (*IN_THE_FIRST_FRAME, *ON_USE)]
        self._waiting = sorted(later, key=lambda name: (*SOON, name).index(name))
        self._on_use = [name for name in names if name in ON_USE]
        self._make([name for name in names if name in IN_THE_FIRST_FRAME])

    def make_next(self) -> bool:
        """Make the next of the panels that were left for later; return whether more are left."""
        if self._waiting:
            self._make([self._waiting.pop(0)])
        return bool(self._waiting)

    def make_rest(self) -> None:
        """Make the panels that were left for later, all of them."""
        while self.make_next():
            pass

    def _make(self, names: list[str]) -> None:
        refused: list[Text] = []
        for name in names:
            try:
                self._place(name, self._stage.session.registry.load("panels", name))
            except PluginError as error:
                refused.append(sentence(error))
            except Exception as error:
                if self._parts[name].built_in:
                    raise
                refused.append(sentence(self._stage.session.registry.left_out(self._parts[name], error)))
        for words in refused:  # the message bar may have been made last
            self._stage.notice(words, "refused")

    def _place(self, name: str, panel: Panel) -> None:
        widget = panel.make(self._stage, self._map if panel.place in (*OVER_MAP, ASIDE) else self._window)
        self._by_name[name] = widget
        if panel.verb:
            self._of_verbs[panel.verb] = widget
            widget.hide()
        elif panel.place == ASIDE:
            self._asides.append(widget)
        else:
            self._by_place[panel.place] = widget
        self._made(widget)

    def named(self, name: str) -> QWidget | None:
        """Return a panel by the name it was contributed under."""
        for left in (self._waiting, self._on_use):
            if name in left:
                left.remove(name)
                self._make([name])
        return self._by_name.get(name)

    def at(self, place: str) -> QWidget | None:
        """Return the panel that always lies in a place."""
        return self._by_place.get(place)

    def of_verb(self, verb: str) -> QWidget | None:
        """Return the panel that a verb brings."""
        return self._of_verbs.get(verb)

    def of_verbs(self) -> tuple[QWidget, ...]:
        """Return the panels that verbs bring into the column's place."""
        return tuple(self._of_verbs.values())

    def asides(self) -> tuple[QWidget, ...]:
        """Return the plates that come over the map when they are asked for."""
        return tuple(self._asides)

    def close_down(self) -> None:
        """Have the panels wait for what they still do."""
        for panel in self._by_name.values():
            close = getattr(panel, "close_down", None)
            if close is not None:
                close()

    def in_column(self) -> tuple[QWidget, ...]:
        """Return all panels that can stand in the column's place."""
        usual = self._by_place.get("column")
        return (*self.of_verbs(), *((usual,) if usual is not None else ()))
