"""A file on the web as the image library reads it: by parts that are kept for a while, and never waited for long.

The library's own way to the web holds the interpreter while it waits, and with it the window; here only the thread
that reads waits.
"""

from __future__ import annotations

import io
import threading
from collections import OrderedDict
from time import monotonic, sleep
from typing import Any
from weakref import WeakValueDictionary

from pigmap.imagery.where import WAIT_S

BLOCK_BYTES = 128 * 1024
_KEPT_BLOCKS = 128
_MOST_BLOCKS = 32
"""Asked for at once."""
_HEAD_BYTES = 256
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
        self.version: tuple[int, str] | None = None
        """Its length and what the server calls this state of it."""
        self.replaced = False
        """Whether the server has another one in its place now: of this one nothing more is to be had."""
        self.beside: dict[str, WebFile] | None = None
        """Files that stand beside it, by name; None before they were asked for."""
        self._blocks: OrderedDict[int, bytes] = OrderedDict()
        self._lock = threading.Lock()

    def read(self, start: int, length: int) -> bytes:
        """Return bytes; fewer, or none, beyond the end and where the server gives none."""
        if not self.known():
            return b""
        end = min(start + length, self.size)
        if end <= start:
            return b""
        first, last = start // BLOCK_BYTES, (end - 1) // BLOCK_BYTES
        found = self._all(first, last)
        return b"".join(found)[start - first * BLOCK_BYTES :][: end - start] if found else b""

    def known(self) -> bool:
        """Whether its server has answered; asked where it has not yet."""
        return self.size >= 0 or bool(self._fetch(0, 1))

    def head(self) -> bytes:
        """Return its first bytes, none where there is no such file or it is not handed out: asked once only."""
        if self.size < 0:
            self._fetch(0, 1, tries=1)
        return (self._kept(0) or b"")[:_HEAD_BYTES]

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

    def _fetch(self, at: int, count: int, tries: int = _TRIES) -> bytes:
        """Fetch some blocks and keep them; return the first, none where they do not come.

        Of a part that is cut short the whole blocks are kept: over a slow connection the next try goes on from there.
        """
        from http.client import HTTPException
        from urllib.error import HTTPError

        start = at * BLOCK_BYTES
        for left in reversed(range(0 if self.replaced else tries)):
            try:
                self._asked(start, start + count * BLOCK_BYTES)
            except TimeoutError:  # waiting once is enough
                break
            except (OSError, ValueError, HTTPException) as why:
                if isinstance(why, HTTPError):
                    why.close()
                if left:
                    sleep(_BETWEEN_S)
                continue
            break
        return self._kept(at) or b""

    def _keep(self, start: int, came: bytes) -> None:
        """Keep the whole blocks of what came; the last one of the file may be short."""
        whole = len(came) if start + len(came) >= self.size else len(came) // BLOCK_BYTES * BLOCK_BYTES
        with self._lock:
            for at in range(0, whole, BLOCK_BYTES):
                self._blocks[(start + at) // BLOCK_BYTES] = came[at : at + BLOCK_BYTES]
            while len(self._blocks) > _KEPT_BLOCKS:
                self._blocks.popitem(last=False)

    def _is(self, version: tuple[int, str]) -> None:
        """Note which state of the file the server has.

        Raises
        ------
        TimeoutError
            If it is another one now, for which there is no use waiting.
        """
        if self.version is not None and self.version != version:
            self.replaced = True
            _let_go(self)
            raise TimeoutError(self.address)
        self.version = version
        self.size = version[0]

    def _asked(self, start: int, end: int) -> None:
        from http import HTTPStatus
        from urllib.request import Request, urlopen

        last = (min(end, self.size) if self.size >= 0 else end) - 1
        asked = Request(self.address, headers={"Range": f"bytes={start}-{last}", "User-Agent": "pigmap"})
        with urlopen(asked, timeout=WAIT_S) as answer:
            if answer.status != HTTPStatus.PARTIAL_CONTENT:
                raise OSError(answer.status)
            size = int(str(answer.headers.get("Content-Range", "")).rpartition("/")[2])
            self._is((size, str(answer.headers.get("ETag") or answer.headers.get("Last-Modified") or "")))
            came = bytearray()
            try:
                _patient(answer, last + 1 - start, came)
            finally:
                self._keep(start, bytes(came))
        if len(came) < min(last + 1, size) - start:
            raise OSError(len(came))


def _patient(answer: Any, most: int, came: bytearray) -> None:
    """Take what comes in some time.

    Raises
    ------
    OSError
        If the connection breaks off, stands still, or takes too long.
    """
    until = monotonic() + _PATIENCE * WAIT_S
    while len(came) < most and (part := answer.read1(min(most - len(came), 65536))):
        came += part
        if monotonic() > until:
            raise TimeoutError


class Reader(io.RawIOBase):
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


def web_file(address: str) -> WebFile:
    """Return the file at an address; the same one for all that read it at the time."""
    with _FILES_LOCK:
        return _FILES.setdefault(address, WebFile(address))


def _let_go(file: WebFile) -> None:
    """Have the next one that opens this address read it anew."""
    with _FILES_LOCK:
        if _FILES.get(file.address) is file:
            del _FILES[file.address]


def version_of(address: str) -> tuple[int, str] | None:
    """Return which state of a file was read last from its server; None where nobody has it open."""
    with _FILES_LOCK:
        file = _FILES.get(address)
    return file.version if file is not None else None
