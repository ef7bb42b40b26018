"""What the window shows: one session, a day, a way to colour the ground, what is picked, which verb runs."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import NamedTuple, TypeVar

from PySide6.QtCore import QObject, Signal

from pigmap.drawing.words import render
from pigmap.qt.placing_choice import PlacingChoice
from pigmap.qt.playback import Playback
from pigmap.session import Session
from pigmap.text import Text, Value
from pigmap.units import System

Beside = TypeVar("Beside", bound=QObject)
MOST_NOTICES = 50
"""Messages that are kept to be read again."""


class Picked(NamedTuple):
    """The one thing that is picked."""

    table: str
    uid: str


class Room(NamedTuple):
    """How much room the window has, and how it is shared out."""

    name: str = "usual"
    """``narrow``, ``small``, ``usual`` or ``wide``."""
    column_px: int = 292
    """Breadth of the groups column, under which the labels of the season strip stand."""


class Notice(NamedTuple):
    """A message for the message bar."""

    text: Text
    kind: str = "done"
    """``done``, ``care`` or ``refused``."""
    deed: str = ""
    """What its button does: ``undo``, ``today`` or nothing."""
    file: Path | None = None
    """The file that it is about, for a deed that opens it."""


class Stage(QObject):
    """State that panels, tools and the map share; it belongs to the window's thread.

    Panels and tools read it, listen to its signals and ask for changes through it; they never call each other.
    Changing the farm goes through `session.do`.
    """

    farm_changed = Signal(object)
    """A `ChangeSet` was published; `session.farm` is the new farm."""
    ground_changed = Signal(str)
    """The computed ground of a field (its uid) is ready anew."""
    day_changed = Signal(object)
    tint_changed = Signal(str)
    picked_changed = Signal(object)
    verb_changed = Signal(str)
    noticed = Signal(object)
    theme_changed = Signal(str)
    room_changed = Signal(object)
    start_asked = Signal(object)
    """Someone wants a farm of their own: from a file (its path), or from nothing yet (None)."""
    farm_asked = Signal(object)
    """A farm was made (`Made`) and is to be shown in place of this one."""
    picture_grew = Signal(str, float)
    """How much of the kept pictures of an image (its uid) is made, 0 to 1."""
    kept_changed = Signal()
    """Someone chose how much of images is kept in memory or on the disk."""
    plate_asked = Signal(str)
    """A plate that comes over the map is wanted, by the name of its panel."""
    sight_asked = Signal()
    """What is picked is to be seen: the map goes there."""
    came_up = Signal()
    """The first frame of the window is complete: what takes time may begin."""
    spotted = Signal(float, float)
    """A place was shown on the map for whoever asked for one, east and north [grid m]."""
    pointed_at = Signal(object)
    """The pointer is over ground that is shown so (a `GroundSpot`), or over none that is coloured (None)."""

    def __init__(self, session: Session, today: date, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.session = session
        self.today = today
        self.language = "en"
        self.text_scale = 1.0
        self._settings: object = None
        self._units: System = "metric"
        self.placing = PlacingChoice(self)
        """What is to be placed: the tray and the placing tool share it."""
        self.playback = Playback(self)
        """Plays the past two years."""
        self.not_yet: Callable[[], Text] | None = None
        """Drops what was stepped and is not with the session yet, and says what; None where nothing waits."""
        self.coming_up = False
        """Whether a window is on the way to its first frame: what takes time waits for `came_up`."""
        self.notices: deque[Notice] = deque(maxlen=MOST_NOTICES)
        """What was said last, the newest at the end."""
        self._beside: dict[type[QObject], QObject] = {}
        self._day = today
        self._tint = "rest-and-rooting"
        self._picked: Picked | None = None
        self._verb = "pick"
        self._theme = "light"
        self._room = Room()

    def beside(self, kind: type[Beside]) -> Beside:
        """Return the one thing of a kind that goes with the stage, made when it is first asked for.

        The stage keeps it, and nothing else does: what is kept by a module for as long as its stage lives holds the
        stage in turn, so that neither ever ends.
        """
        found = self._beside.get(kind)
        if found is None:
            found = self._beside[kind] = kind(self)
        assert isinstance(found, kind)
        return found

    @property
    def day(self) -> date:
        """The day that is shown."""
        return self._day

    def show_day(self, day: date) -> None:
        """Show the farm as it was, or will be, on a day."""
        if day != self._day:
            self._day = day
            self.day_changed.emit(day)

    @property
    def tint(self) -> str:
        """Name of the way the ground is coloured."""
        return self._tint

    def show_tint(self, name: str) -> None:
        """Colour the ground another way."""
        if name != self._tint:
            self._tint = name
            self.tint_changed.emit(name)

    @property
    def picked(self) -> Picked | None:
        """What is picked, if anything."""
        return self._picked

    def pick(self, picked: Picked | None) -> None:
        """Pick a thing, or nothing."""
        if picked != self._picked:
            self._picked = picked
            self.picked_changed.emit(picked)

    @property
    def verb(self) -> str:
        """Name of the tool that has the pointer."""
        return self._verb

    def take_up(self, verb: str) -> None:
        """Give the pointer to another tool."""
        if verb != self._verb:
            self._verb = verb
            self.verb_changed.emit(verb)

    @property
    def theme(self) -> str:
        """``light``, ``dark`` or ``bright``."""
        return self._theme

    def show_theme(self, theme: str) -> None:
        """Change the theme."""
        if theme != self._theme:
            self._theme = theme
            self.theme_changed.emit(theme)

    @property
    def room(self) -> Room:
        """How much room the window has."""
        return self._room

    def fit(self, room: Room) -> None:
        """Tell the panels how much room there is."""
        if room != self._room:
            self._room = room
            self.room_changed.emit(room)

    def tell_shown(self) -> None:
        """Tell that the first frame of the window is complete."""
        self.coming_up = False
        self.came_up.emit()

    @property
    def units(self) -> System:
        """``metric`` or ``us``, as the farm has it; every word on the screen asks for it."""
        farm = self.session.farm
        if farm.settings is not self._settings:
            self._settings = farm.settings
            self._units = "us" if farm.setting("units") == "us" else "metric"
        return self._units

    def notice(self, text: Text, kind: str = "done", deed: str = "", file: Path | None = None) -> None:
        """Say something in the message bar."""
        said = Notice(text, kind, deed, file)
        self.notices.append(said)
        self.noticed.emit(said)

    def words(self, text: Text) -> str:
        """Return a text in the window's language and the farm's units."""
        return render(text, language=self.language, system=self.units)

    def say(self, sentence: str, **values: Value) -> str:
        """Return a sentence of the window itself in its language: ``say("Groups")``."""
        return self.words(Text(sentence, values))
