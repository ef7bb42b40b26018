"""Rows read straight off the pages of a damaged database, where SQLite itself gives up.

The layout is that of SQLite's own documentation, "Database File Format", sections 1.5, 1.6 and 2.1.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from pathlib import Path
from typing import Any

_LEAF = 0x0D
_HEAD = 100
_LONGEST_CHAIN = 1_000_000
_INTEGERS = {1: 1, 2: 2, 3: 3, 4: 4, 5: 6, 6: 8}
"""Bytes of an integer by its serial type."""
PAGE = 4096
"""Bytes of a page of a farm file, where its head no longer says."""

RawRow = tuple[int, tuple[Any, ...]]
"""The number of a row and its values; a column that is that number reads None."""


def page_bytes(head: bytes) -> int:
    """Return the size of a page that the head of a file tells, or the usual one."""
    if len(head) < 18:
        return PAGE
    (told,) = struct.unpack_from(">H", head, 16)
    size = 65536 if told == 1 else told
    return size if size >= 512 and size & (size - 1) == 0 else PAGE


def raw_rows(path: Path, columns: frozenset[int]) -> Iterator[RawRow]:
    """Yield all rows with so many columns that stand on leaf pages of tables; what cannot be read is left out."""
    with path.open("rb") as file:
        size = page_bytes(file.read(_HEAD))
        file.seek(0, 2)
        pages = _Pages(file, size, -(-file.tell() // size))
        for number in range(1, pages.count + 1):
            page = pages.page(number)
            start = _HEAD if number == 1 else 0
            if len(page) > start + 8 and page[start] == _LEAF:
                yield from _rows_on(page, start, pages, columns)


class _Pages:
    def __init__(self, file: Any, size: int, count: int) -> None:
        self._file, self.size, self.count = file, size, count

    def page(self, number: int) -> bytes:
        self._file.seek((number - 1) * self.size)
        found: bytes = self._file.read(self.size)
        return found

    def chain(self, number: int, wanted: int) -> bytes:
        """Return the rest of a row, from the pages it runs over to."""
        parts: list[bytes] = []
        left = wanted
        while left > 0 and 0 < number <= self.count and len(parts) < _LONGEST_CHAIN:
            page = self.page(number)
            parts.append(page[4 : 4 + min(left, self.size - 4)])
            left -= len(parts[-1])
            if len(page) < 4 or not parts[-1]:
                break
            (number,) = struct.unpack_from(">I", page)
        return b"".join(parts)


def _rows_on(page: bytes, start: int, pages: _Pages, columns: frozenset[int]) -> Iterator[RawRow]:
    (count,) = struct.unpack_from(">H", page, start + 3)
    for at in range(min(count, (len(page) - start - 8) // 2)):
        (cell,) = struct.unpack_from(">H", page, start + 8 + 2 * at)
        try:
            row = _row(page, cell, pages, columns)
        except (IndexError, struct.error, UnicodeDecodeError, ValueError):
            continue
        if row is not None:
            yield row


def _row(page: bytes, cell: int, pages: _Pages, columns: frozenset[int]) -> RawRow | None:
    length, at = _number(page, cell)
    number, at = _number(page, at)
    local = _local(length, pages.size)
    body = page[at : at + local]
    serials = _serials(body)
    if len(serials[1]) not in columns:
        return None
    if local < length:
        (over,) = struct.unpack_from(">I", page, at + local)
        body += pages.chain(over, length - local)
    return (number, _values(body, *serials)) if len(body) == length else None


def _local(length: int, size: int) -> int:
    """Return how many bytes of a row stand on its own page."""
    if length <= size - 35:
        return length
    least = (size - 12) * 32 // 255 - 23
    some = least + (length - least) % (size - 4)
    return some if some <= size - 35 else least


def _number(data: bytes, at: int) -> tuple[int, int]:
    """Return a number of one to nine bytes, and where it ends."""
    value = 0
    for each in range(8):
        byte = data[at + each]
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, at + each + 1
    value = value << 8 | data[at + 8]
    return value - (1 << 64) if value >= 1 << 63 else value, at + 9


def _serials(body: bytes) -> tuple[int, list[int]]:
    """Return where the values begin, and the kind of each."""
    end, at = _number(body, 0)
    found: list[int] = []
    while at < end:
        kind, at = _number(body, at)
        found.append(kind)
    return end, found


def _values(body: bytes, at: int, serials: list[int]) -> tuple[Any, ...]:
    values: list[Any] = []
    for kind in serials:
        value, at = _value(body, at, kind)
        values.append(value)
    return tuple(values)


def _value(body: bytes, at: int, kind: int) -> tuple[Any, int]:
    if kind in _INTEGERS:
        end = at + _INTEGERS[kind]
        return int.from_bytes(body[at:end], "big", signed=True), end
    if kind == 7:
        return struct.unpack_from(">d", body, at)[0], at + 8
    if kind in (8, 9):
        return kind - 8, at
    if kind >= 12:
        end = at + (kind - 12) // 2
        if end > len(body):
            raise ValueError(kind)
        return (body[at:end].decode("utf-8") if kind % 2 else body[at:end]), end
    return None, at
