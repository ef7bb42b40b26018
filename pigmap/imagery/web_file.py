"""A file on the web as the image library reads it: by parts that are kept for a while, and never waited for long.

The library's own way to the web holds the interpreter while it waits, and with it the window; here only the thread
that reads waits.
"""

from __future__ import annotations

import io
import threading
from collections import OrderedDict
from contextlib import suppress
from time import monotonic, sleep
from typing import Any
from weakref import WeakValueDictionary

from pigmap.imagery.where import WAIT_S

BLOCK_BYTES = 128 * 1024
_KEPT_BLOCKS = 128
_MOST_BLOCKS = 32
"""Asked for at once."""
_TRIES = 2
_BETWEEN_S = 0.3
_PATIENCE = 4
"""A part that takes longer than so many times the wait is given up, though bytes drip in."""


class WebFile:
    """The parts of one file that came so far, for all threads that read it."""

    def __init__(self, address: str) -> None:
        self.address = address
        self.size = -1
        """Its length; below 0 while it is not known."""
        self._blocks: OrderedDict[int, bytes] = OrderedDict()
        self._lock = threading.Lock()

    def read(self, start: int, length: int) -> bytes:
        """Return bytes; fewer, or none, beyond the end and where the server gives none."""
        if self.size < 0 and not self._fetch(0, 1):
            return b""
        end = min(start + length, self.size)
        if end <= start:
            return b""
        first, last = start // BLOCK_BYTES, (end - 1) // BLOCK_BYTES
        found = self._all(first, last)
        return b"".join(found)[start - first * BLOCK_BYTES :][: end - start] if found else b""

    def _all(self, first: int, last: int) -> list[bytes]:
        """Return blocks in order, none where one of them is not to be had."""
        found: list[bytes] = []
        while len(found) <= last - first:
            at = first + len(found)
            block = self._kept(at)
            if block is None:
                block = self._fetch(at, min(last - at + 1, _MOST_BLOCKS))
            if not block:
                return []
            found.append(block)
        return found

    def _kept(self, at: int) -> bytes | None:
        with self._lock:
            if at in self._blocks:
                self._blocks.move_to_end(at)
            return self._blocks.get(at)

    def _fetch(self, at: int, count: int) -> bytes:
        """Fetch some blocks and keep them; return the first, none where they do not come."""
        from urllib.error import HTTPError

        start = at * BLOCK_BYTES
        for left in reversed(range(_TRIES)):
            try:
                came = self._asked(start, start + count * BLOCK_BYTES)
            except TimeoutError:  # waiting once is enough
                return b""
            except (OSError, ValueError) as why:
                if isinstance(why, HTTPError):
                    why.close()
                if left:
                    sleep(_BETWEEN_S)
                continue
            with self._lock:
                for number in range(0, len(came), BLOCK_BYTES):
                    self._blocks[at + number // BLOCK_BYTES] = came[number : number + BLOCK_BYTES]
                while len(self._blocks) > _KEPT_BLOCKS:
                    self._blocks.popitem(last=False)
            return came[:BLOCK_BYTES]
        return b""

    def _asked(self, start: int, end: int) -> bytes:
        from http import HTTPStatus
        from urllib.request import Request, urlopen

        last = (min(end, self.size) if self.size >= 0 else end) - 1
        asked = Request(self.address, headers={"Range": f"bytes={start}-{last}", "User-Agent": "pigmap"})
        with urlopen(asked, timeout=WAIT_S) as answer:
            if answer.status != HTTPStatus.PARTIAL_CONTENT:
                raise OSError(answer.status)
            whole = str(answer.headers.get("Content-Range", "")).rpartition("/")[2]
            came = _patient(answer, last + 1 - start)
        size = int(whole)
        if len(came) < min(last + 1, size) - start:
            raise OSError(len(came))
        self.size = size
        return came


def _patient(answer: Any, most: int) -> bytes:
    """Return what comes in some time."""
    until, parts, left = monotonic() + _PATIENCE * WAIT_S, [], most
    while left > 0 and (part := answer.read1(min(left, 65536))):
        parts.append(part)
        left -= len(part)
        if monotonic() > until:
            raise TimeoutError
    return b"".join(parts)


class _Reader(io.RawIOBase):
    """One hold on a file on the web."""

    def __init__(self, file: WebFile) -> None:
        super().__init__()
        self._file = file
        self._at = 0

    def readable(self) -> bool:
        """Whether it can be read: yes."""
        return True

    def seekable(self) -> bool:
        """Whether another place can be gone to: yes."""
        return True

    def tell(self) -> int:
        """Return the place."""
        return self._at

    def seek(self, offset: int, whence: int = io.SEEK_SET) -> int:
        """Go to a place."""
        base = {io.SEEK_SET: 0, io.SEEK_CUR: self._at}.get(whence, max(self._file.size, 0))
        self._at = max(0, base + offset)
        return self._at

    def read(self, size: int = -1, /) -> bytes:
        """Return bytes from here on."""
        came = self._file.read(self._at, size if size >= 0 else max(self._file.size - self._at, 0))
        self._at += len(came)
        return came


_FILES: WeakValueDictionary[str, WebFile] = WeakValueDictionary()
_FILES_LOCK = threading.Lock()


class WebOpener:
    """Opens one file on the web for the image library; what may lie beside it is not looked for."""

    def __init__(self, address: str) -> None:
        with _FILES_LOCK:
            self._file = _FILES.setdefault(address, WebFile(address))

    def __call__(self, name: str, mode: str = "rb", **_: object) -> _Reader:
        """Return a hold on it.

        Raises
        ------
        FileNotFoundError
            For any other name, and where its server does not answer.
        """
        if _plain(name) != _plain(self._file.address) or (self._file.size < 0 and not self._file.read(0, 1)):
            raise FileNotFoundError(name)
        return _Reader(self._file)


def _plain(address: str) -> str:
    with suppress(IndexError):
        return address.split(":/", 1)[1].lstrip("/")
    return address
