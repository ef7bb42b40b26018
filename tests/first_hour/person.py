"""A person at the window: eyes that ask where things are, and hands that send X events and count them."""

from __future__ import annotations

import json
import os
import socket
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

PATIENCE_S = 20.0
"""How long to wait for something to appear [s]."""


class LostError(RuntimeError):
    """Something that a person looks for is not there."""


class Person:
    """Clicks and keys are counted; names and numbers that are typed are counted apart.

    Parameters
    ----------
    display
        The X display, as in the variable DISPLAY.
    home
        A folder for the farm and the settings.
    pictures
        Where a picture of each step goes; None takes none.
    high
        Height of the screen [px].
    """

    def __init__(self, display: str, home: Path, pictures: Path | None = None, high: int = 1000) -> None:
        self._high = high
        self.clicks = self.keys = self.typed = 0
        self.steps: list[tuple[str, int, int]] = []
        self._pictures = pictures
        self._environment = {
            **os.environ,
            "DISPLAY": display,
            "HOME": str(home),
            "PIGMAP_DATA": str(home / "data"),
            "PIGMAP_CACHE": str(home / "cache"),
            "QT_QPA_PLATFORM": "xcb",
            "LC_ALL": "C.UTF-8",
        }
        ours, theirs = socket.socketpair()
        self._program = subprocess.Popen(
            [sys.executable, "-m", "tests.first_hour.probe", str(theirs.fileno())],
            env=self._environment,
            pass_fds=[theirs.fileno()],
            stderr=subprocess.PIPE,
            text=True,
        )
        theirs.close()
        ours.settimeout(60)
        self._talk, self._ear = ours, ours.makefile()
        self._seen = (0, 0)

    def leave(self) -> str:
        """End the program; return what it wrote on standard error."""
        self._program.terminate()
        said = self._program.communicate(timeout=20)[1]
        self._talk.close()
        return said

    # Eyes

    def ask(self, question: str, *values: Any) -> Any:
        """Return the answer to a question."""
        self._talk.sendall((json.dumps([question, *values]) + "\n").encode())
        answer = json.loads(self._ear.readline())
        if isinstance(answer, dict) and "failed" in answer:
            raise LostError(f"{question} {values}: {answer['failed']}")
        return answer

    def looks_for(self, name: str, nth: int = 0) -> dict[str, Any]:
        """Return a control, once it can be used and lies still."""
        ends = time.monotonic() + PATIENCE_S
        found: list[dict[str, Any]] = []
        before: dict[str, Any] = {}
        while time.monotonic() < ends:
            found = self.ask("controls", name)
            usable = [each for each in found if each["enabled"]]
            if len(usable) > nth:
                if usable[nth] == before:
                    return before
                before = dict(usable[nth])
            time.sleep(0.06)
        raise LostError(f"no {name!r} to be seen; there are {self.ask('named')}, found {found}")

    def waits_until(self, what: str, wanted: Any) -> None:
        """Wait until the farm says something of itself."""
        ends = time.monotonic() + PATIENCE_S
        while time.monotonic() < ends:
            if self.ask("farm")[what] == wanted:
                return
            time.sleep(0.05)
        raise LostError(f"{what} is {self.ask('farm')[what]}, not {wanted}; it says {self.ask('words')}")

    def waits_for_file(self, suffix: str) -> Path:
        """Wait until a file lies beside the farm; return it."""
        folder = Path(self.ask("farm")["path"]).parent
        ends = time.monotonic() + PATIENCE_S
        while time.monotonic() < ends:
            found = sorted(folder.glob(f"*{suffix}"))
            if found:
                return found[0]
            time.sleep(0.1)
        raise LostError(f"no file *{suffix} in {folder}; it says {self.ask('words')}")

    def step(self, name: str) -> None:
        """End a step: the counts are noted and a picture is taken."""
        self.rests()
        self.steps.append((name, self.clicks, self.keys))
        if self._pictures is not None:
            path = self._pictures / f"{len(self.steps):02} {name}.png"
            self.ask("picture", str(path))

    def rests(self, seconds: float = 0.35) -> None:
        """Let the program come to rest, as a hand does between two deeds."""
        time.sleep(seconds)
        self.ask("focus")

    # Hands

    def _send(self, *words: str) -> None:
        subprocess.run(["xdotool", *words], env=self._environment, check=True, capture_output=True)

    def faces_window(self) -> None:
        """Give the window the keys, as the desktop does where there is one."""
        self._send("search", "--sync", "--onlyvisible", "--class", "pigmap", "windowfocus", "--sync")

    def moves_to(self, x: int, y: int) -> None:
        """Move the pointer; on its way it is seen once before it arrives."""
        self._send("mousemove", str((self._seen[0] + x) // 2), str((self._seen[1] + y) // 2))
        self._send("mousemove", str(x), str(y))
        self._seen = (x, y)

    def clicks_at(self, x: int, y: int) -> None:
        """Click with the left button."""
        self.moves_to(x, y)
        self._send("click", "1")
        self.clicks += 1
        self.rests(0.12)

    def clicks_on(self, name: str, nth: int = 0) -> None:
        """Click on a control in the middle of what is seen of it; turn the wheel first where it is out of sight."""
        for _ in range(40):
            seen = self.looks_for(name, nth)["seen"]
            if seen and seen[3] >= 10:
                self.clicks_at(seen[0] + seen[2] // 2, seen[1] + seen[3] // 2)
                return
            self.turns_wheel(name, nth)
        raise LostError(f"{name!r} cannot be brought in sight")

    def turns_wheel(self, name: str, nth: int) -> None:
        """Turn the wheel over the column a control is in, towards it; each notch counts as a click."""
        whole = self.looks_for(name, nth)["whole"]
        high = self._high * 9 // 20
        self.moves_to(whole[0] + whole[2] // 2, min(max(whole[1], self._high // 5), high))
        self._send("click", "5" if whole[1] > high else "4")
        self.clicks += 1
        self.rests(0.15)

    def sees_all(self, *places: tuple[float, float]) -> None:
        """Zoom out until some places lie on the map with nothing over them, or the map cannot show them so."""
        for _ in range(6):
            if all(self.ask("bare", *each) for each in places):
                return
            self.presses("minus")
            self.ask("settle")

    def clicks_ground(self, east_m: float, north_m: float) -> None:
        """Click on the map."""
        self.clicks_at(*self.ask("ground", east_m, north_m))

    def drags_ground(self, *places: tuple[float, float]) -> None:
        """Drag over the map with the left button held; it counts as one click."""
        first, *others = [self.ask("ground", *place) for place in places]
        self.moves_to(*first)
        self._send("mousedown", "1")
        for x, y in others:
            for part in range(1, 6):
                self._send(
                    "mousemove",
                    str(self._seen[0] + (x - self._seen[0]) * part // 5),
                    str(self._seen[1] + (y - self._seen[1]) * part // 5),
                )
            self._seen = (x, y)
        self._send("mouseup", "1")
        self.clicks += 1
        self.rests(0.15)

    def presses(self, *keys: str) -> None:
        """Press keys, by their X names."""
        for key in keys:
            self._send("key", "--clearmodifiers", key)
            self.keys += 1
            self.rests(0.1)

    def tabs_to(self, name: str, most: int = 60) -> None:
        """Press Tab until a control has the focus."""
        begun = name.removesuffix("*")
        for _ in range(most):
            names = self.ask("focus")[1:]
            if any(each.startswith(begun) if begun != name else each == name for each in names):
                return
            self.presses("Tab")
        raise LostError(f"Tab does not reach {name!r}; the focus is on {self.ask('focus')}")

    def places_here(self) -> bool:
        """Whether the ghost fits where it is, by what the plate beside it says."""
        self.rests(0.3)
        return bool(self.ask("fits"))

    def types(self, words: str) -> None:
        """Type a name or a number."""
        self._send("type", "--delay", "4", words)
        self.typed += len(words)
        self.rests(0.12)

    def report(self) -> Sequence[str]:
        """Return a line for each step, and the sum."""
        lines = []
        clicks = keys = 0
        for name, all_clicks, all_keys in self.steps:
            lines.append(f"{name:<42} {all_clicks - clicks:>4} clicks {all_keys - keys:>4} keys")
            clicks, keys = all_clicks, all_keys
        lines.append(f"{'together':<42} {clicks:>4} clicks {keys:>4} keys; {self.typed} letters and figures typed")
        return lines
