"""One person at one display: the display is started, the steps are done, all is put away again."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tests.first_hour import walk, walk_keys
from tests.first_hour.person import Person

MOST = 150
"""Clicks and keys that the first hour may take, beyond names and numbers."""


@contextmanager
def display(size: str) -> Iterator[str]:
    """Yield the name of an X display of a size, of which nobody else knows."""
    reading, writing = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(writing), "-screen", "0", f"{size}x24", "-nolisten", "tcp"],
        pass_fds=[writing],
        stderr=subprocess.DEVNULL,
    )
    os.close(writing)
    try:
        with os.fdopen(reading) as said:
            yield f":{said.readline().strip()}"
    finally:
        server.terminate()
        server.wait(10)


def acted(out: Path, size: str, *, by_keys: bool = False) -> tuple[list[str], int]:
    """Do the first hour; return what it took in words, and 1 where that is more than it may take."""
    steps = walk_keys.STEPS if by_keys else walk.STEPS
    home, pictures = out / "home", out / "pictures"
    (home / "Documents").mkdir(parents=True, exist_ok=True)
    pictures.mkdir(exist_ok=True)
    with display(size) as name:
        person = Person(name, home, pictures, int(size.partition("x")[2]))
        try:
            for step in steps:
                step(person)
        except BaseException:
            person.ask("picture", str(pictures / "lost.png"))
            raise
        finally:
            said = person.leave()
    lines = [*person.report(), *(line for line in said.splitlines() if line)]
    return lines, int(not by_keys and person.clicks + person.keys > MOST)
