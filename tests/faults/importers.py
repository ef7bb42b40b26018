"""Files to take in that are broken at random: each is taken or refused in words, soon, and never brings us down.

``python -m tests.faults importers`` tries some; `run` as many as there is time for. Each file is read by a child
process, so that a crash of a compiled library is seen and a hang can be ended.
"""

from __future__ import annotations

import os
import random
import re
import select
import signal
import sys
import tempfile
import time
import traceback
import warnings
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import NamedTuple

from pigmap.errors import PigmapError
from pigmap.session.handing_out import hand_out
from pigmap.session.handing_out.days import checks_of, stays_of
from pigmap.session.handing_out.things import fields_of
from pigmap.session.taking_in import KINDS
from pigmap.session.taking_in.told import told
from tests.builtin.formats.test_table import spreadsheet
from tests.faults.counts import Counts
from tests.ground.invented import check, field, square
from tests.session.taking_in.at_farm import after, here, taken

LONGEST_S = 10.0
"""Nobody waits longer for a small file [s]."""
SUFFIXES = (".geojson", ".kml", ".gpx", ".gpkg", ".csv", ".zip")
STRANGE = (b"", b"\0", b"nan", b"1e999", b"-", b"\xff\xfe", b'"', b"<", b"9" * 40, "\N{PIG}".encode(), b"\r\n", b"0,0")
WEATHER = "date,rain,tmin,tmax\n" + "".join(f"2026-05-{day:02},{day / 2},{day - 9},{day}\n" for day in range(1, 29))
TABLE = "group;paddock;in;out;lat;lon\nWeaners;Paddock p;1.5.2026;4.5.2026;46,95;9,0\nGroup g;Paddock q;5/1/2026;;;\n"


class Outcome(NamedTuple):
    """What came of one file."""

    kind: str
    """``taken``, ``refused``, ``fault``, ``hang`` or ``crash``."""
    words: str


def sound_files(folder: Path) -> list[Path]:
    """Write a small file of each kind."""
    farm = here(check("c", 6, 2), field("h", square(200, 0, 30)))
    made = []
    for suffix in SUFFIXES:
        for table in (fields_of(farm), stays_of(farm), checks_of(farm)):
            made.append(folder / f"{table.name}{suffix}")
            hand_out(table, made[-1], farm.projection)
    for name, words in (("weather.csv", WEATHER), ("table.csv", TABLE)):
        made.append(folder / name)
        made[-1].write_text(words, encoding="utf-8")
    group, paddock = ["Weaners", "Group g"], ["Paddock p", "Paddock q"]
    made.append(
        spreadsheet(folder / "table.xlsx", "XLSX", "Stays", group=group, paddock=paddock, since=["1.5.2026"] * 2)
    )
    return made


def broken(packed: bytes, luck: random.Random) -> bytes:
    """Return the bytes of a file with a few places changed."""
    for _ in range(luck.choice((1, 1, 2, 4))):
        packed = luck.choice(WAYS)(packed, luck)
    return packed


Way = Callable[[bytes, random.Random], bytes]


def _flip(packed: bytes, luck: random.Random) -> bytes:
    at = luck.randrange(max(len(packed), 1))
    return packed[:at] + bytes([luck.randrange(256)]) + packed[at + 1 :]


def _cut(packed: bytes, luck: random.Random) -> bytes:
    return packed[: luck.randrange(len(packed) + 1)]


def _drop(packed: bytes, luck: random.Random) -> bytes:
    at, wide = luck.randrange(len(packed) + 1), luck.choice((1, 8, 100, 2000))
    return packed[:at] + packed[at + wide :]


def _twice(packed: bytes, luck: random.Random) -> bytes:
    at, wide = luck.randrange(len(packed) + 1), luck.choice((1, 8, 100, 2000))
    return packed[: at + wide] + packed[at:]


def _put(packed: bytes, luck: random.Random) -> bytes:
    at = luck.randrange(len(packed) + 1)
    return packed[:at] + luck.choice(STRANGE) + packed[at:]


def _number(packed: bytes, luck: random.Random) -> bytes:
    """Put something strange in the place of a number."""
    places = [found.span() for found in re.finditer(rb"\d+(?:\.\d+)?", packed[:200_000])]
    if not places:
        return packed
    first, last = luck.choice(places)
    return packed[:first] + luck.choice((*STRANGE, b"-1", b"1e308", b"181", b"0")) + packed[last:]


WAYS: tuple[Way, ...] = (_flip, _cut, _drop, _twice, _put, _number)


def outcomes(folder: Path, seed: int) -> Iterator[Outcome]:
    """Yield what comes of one broken file after another."""
    kept = folder / "sound"
    kept.mkdir(exist_ok=True)
    files = [(path, path.read_bytes()) for path in sound_files(kept)]
    number = 0
    while True:
        reader, child = _child(folder, files, seed, number)
        try:
            for outcome in _heard(reader, child):
                number += 1
                yield outcome
        finally:
            _end(child)
            os.close(reader)


def _child(folder: Path, files: list[tuple[Path, bytes]], seed: int, first: int) -> tuple[int, int]:
    reader, writer = os.pipe()
    child = os.fork()
    if child:
        os.close(writer)
        return reader, child
    os.close(reader)
    warnings.simplefilter("ignore")
    try:
        for number in range(first, first + 100_000):
            outcome = _tried(folder, files, random.Random(f"{seed} {number}"), number)
            said = f"{outcome.kind} {number} {outcome.words}".replace("\n", " | ")
            os.write(writer, f"{said[:3000]}\n".encode())
    finally:
        os._exit(0)


def _tried(folder: Path, files: list[tuple[Path, bytes]], luck: random.Random, number: int) -> Outcome:
    path, packed = luck.choice(files)
    bad = folder / f"{number}{path.suffix}"
    bad.write_bytes(broken(packed, luck))
    kind = luck.choice(("", "", "", "", "", *KINDS))
    try:
        found = taken(bad, kind)
        _ = [str(each) for each in told(found)]
        after(found)
    except PigmapError as why:
        outcome = Outcome("refused", str(why))
    except BaseException:  # noqa: BLE001  (that is what is looked for)
        return Outcome("fault", f"{bad.name} as {kind or 'anything'}: {traceback.format_exc()[-1500:]}")
    else:
        outcome = Outcome("taken", "")
    bad.unlink()
    return outcome


def _heard(reader: int, child: int) -> Iterator[Outcome]:
    """Yield what a child says until it hangs or is no more."""
    kept = b""
    while True:
        ready, _, _ = select.select([reader], [], [], LONGEST_S)
        if not ready:
            yield Outcome("hang", f"more than {LONGEST_S:.0f} s")
            return
        more = os.read(reader, 65536)
        if not more:
            _, status = os.waitpid(child, 0)
            yield Outcome("crash", f"status {status}")
            return
        *lines, kept = (kept + more).split(b"\n")
        for line in lines:
            kind, _, words = line.decode(errors="replace").partition(" ")
            yield Outcome(kind, words)


def _end(child: int) -> None:
    try:
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
    except (ProcessLookupError, ChildProcessError):
        return


def broken_files(folder: Path, number: int, seed: int = 1, *, seconds: float = float("inf")) -> Counts:
    """Try so many broken files, or as many as there is time for, and return what came of them."""
    counts = Counts("importers", number, "files")
    for kind in ("fault", "hang", "crash"):
        counts.bad[kind] = 0
    until = None
    for outcome in outcomes(folder, seed):
        until = until or time.monotonic() + seconds
        counts.tried += 1
        if outcome.kind in counts.bad:
            counts.lose(outcome.kind, outcome.words)
        else:
            counts.count(outcome.kind)
        if counts.tried >= number or time.monotonic() > until:
            break
    return counts


def run(seconds: float, seed: int = 1) -> Counts:
    """Try broken files for some seconds; what is wrong is in what is returned, and printed."""
    with tempfile.TemporaryDirectory() as folder:
        counts = broken_files(Path(folder), sys.maxsize, seed=seed, seconds=seconds)
    counts.wanted = counts.tried
    sys.stdout.write(f"{counts.line()}\n")
    for words in counts.seen:
        sys.stdout.write(f"    {words}\n")
    return counts
