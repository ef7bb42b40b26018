"""Whether the files of open images are still what they were: for a window that looks at them every few seconds."""

from __future__ import annotations

import threading
from pathlib import Path

from pigmap.errors import RasterError
from pigmap.imagery.watch import changed_words, state_now
from pigmap.imagery.where import web_address

State = tuple[int, int, int] | None
"""Size, time and number of a file; None where there is none."""


class ImageStates:
    """Notes each file as it is when it is opened, and tells once it has become another one and rests.

    A file that another program is still writing changes from look to look; only one that two looks found the same is
    worth opening. Images on the web are left out: who reads them hears from the server.
    """

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._opened: dict[str, tuple[Path, State]] = {}
        self._seen: dict[str, State] = {}

    def note(self, image_uid: str, path: Path) -> None:
        """Note that the file of an image is being opened."""
        if web_address(path):
            return
        state = state_now(path)
        with self._lock:
            self._opened[image_uid] = path, state
            self._seen.pop(image_uid, None)

    def changed(self) -> dict[str, RasterError | None]:
        """Return the images in whose place another file rests now, and what to say of each; each of them once.

        There is nothing to say of a file that is there again after it was missing. It asks the disk: for workers.
        """
        with self._lock:
            opened = dict(self._opened)
        states = {uid: state_now(path) for uid, (path, _) in opened.items()}
        found: dict[str, RasterError | None] = {}
        with self._lock:
            for uid, (path, before) in opened.items():
                now = states[uid]
                rests = self._seen.get(uid) == now
                self._seen[uid] = now
                if now is not None and rests and now != before and self._opened.get(uid) == (path, before):
                    self._opened[uid] = path, now
                    found[uid] = changed_words(path) if before is not None else None
        return found
