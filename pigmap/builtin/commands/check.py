"""The command ``check``: records one daily check, with a photo if there is one."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from pigmap.cli.dates import day
from pigmap.cli.opening import add_farm, open_farm
from pigmap.cli.printing import complain, say
from pigmap.document.edits import all_well, record_check
from pigmap.drawing.words import render
from pigmap.errors import PigmapError, UsageError
from pigmap.planning.rule import Rule
from pigmap.plugins import Registry
from pigmap.records import Farm, Paddock, lasting_on, new_uid
from pigmap.session import Session
from pigmap.text import Text

_MOST_NAMED = 12


class CheckCommand:
    """What was not looked at is left out and stays unsaid."""

    api = 1
    name = "check"
    summary = "records one daily check of a paddock"

    def options(self, parser: argparse.ArgumentParser) -> None:
        """Declare the farm, the paddock, the day and the readings."""
        add_farm(parser)
        parser.add_argument("--paddock", metavar="NAME", required=True, help="which paddock")
        parser.add_argument("--on", metavar="DATE", type=day, help="the day; today if not given")
        parser.add_argument("--all-well", action="store_true", help="all was well")
        parser.add_argument("--kv", metavar="X", type=_number, help="volts of the fence, in kV")
        parser.add_argument(
            "--rooting", metavar="0-4", type=_number, help="0 hardly, 1 a quarter, 2 half, 3 most, 4 all"
        )
        parser.add_argument("--pigs", metavar="N", type=_number, help="pigs that were seen")
        parser.add_argument("--note", metavar="TEXT", default="", help="what else was seen")
        parser.add_argument("--photo", metavar="FILE", type=Path, action="append", default=[], help="a photo of it")

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        """Record it; a photo that cannot be read is told, and the check stands."""
        on: date = given.on or date.today()
        if on > date.today():
            raise UsageError(
                "{day} is still to come: nobody can have looked yet.", remedy="Give the day of the check.", day=on
            )
        readings = _readings(given)
        if not readings and not given.all_well and not given.photo:
            raise UsageError(
                "Nothing is told of the check.",
                remedy="Say --all-well, or give what was seen: --kv, --rooting, --pigs, --note or --photo.",
            )
        with open_farm(given, registry) as session:
            paddock = _paddock(session.farm, given.paddock)
            uid = new_uid()
            if not readings and not given.all_well and not _some_readable(given.photo):
                return 1
            if given.all_well and not readings:
                uid = _all_well(session, paddock, on, uid)
            else:
                edit = record_check(paddock.uid, on, uid=uid, all_well=given.all_well, **readings)
                session.do(edit).result()
            say(Text("Daily check of {paddock} on {day} recorded.", {"paddock": paddock.name, "day": on}))
            for words in _against_records(session.farm, registry, uid):
                sys.stderr.write(f"{render(words)}\n")
            return _photos(session, given.photo, paddock, uid, on)


def _against_records(farm: Farm, registry: Registry, uid: str) -> Iterator[Text]:
    """Yield what the records say against a check that was just written down: it stands all the same."""
    rule: Rule = registry.load("rules", "facts-agree")
    for breach in rule.breaches(farm, date.today()):
        if breach.table == "checks" and breach.is_about(uid):
            yield Text("{words} {remedy}", {"words": breach.words, "remedy": breach.remedy})


def _number(typed: str) -> float:
    try:
        return float(typed.replace(",", "."))
    except ValueError:
        raise UsageError("{typed} is no number.", remedy="Give a number, such as 5.5.", typed=typed) from None


def _readings(given: argparse.Namespace) -> dict[str, Any]:
    told = {"fence_kv": given.kv, "rooting_score": given.rooting, "pigs_seen": given.pigs, "note": given.note or None}
    return {name: _whole(name, value) for name, value in told.items() if value is not None}


def _whole(name: str, value: Any) -> Any:
    if name not in ("rooting_score", "pigs_seen"):
        return value
    if value != int(value):
        raise UsageError("{value} is no whole number.", remedy="Give a whole number, such as 3.", value=f"{value:g}")
    return int(value)


def _paddock(farm: Farm, name: str) -> Paddock:
    found = [each for each in farm.paddocks.values() if each.name.casefold() == name.strip().casefold()]
    if not farm.paddocks:
        raise UsageError("The farm has no paddock yet.", remedy="Place one in the window: take Place.")
    if not found:
        names = sorted(each.name for each in farm.paddocks.values())
        raise UsageError(
            "There is no paddock {name}.",
            remedy="It has: {names}.",
            name=name,
            names=_some_of(names),
        )
    return found[0]


def _some_of(names: Sequence[str]) -> str:
    more = len(names) - _MOST_NAMED
    return ", ".join(names[:_MOST_NAMED]) + (f" and {more} more" if more > 0 else "")


def _all_well(session: Session, paddock: Paddock, on: date, uid: str) -> str:
    there = [
        each.stay.group_uid
        for each in lasting_on(session.farm, on).values()
        if each.stay.paddock_uid == paddock.uid and each.covers(on)
    ]
    if len(there) != 1:  # nobody, or two groups: the check is of the paddock alone
        session.do(record_check(paddock.uid, on, uid=uid, all_well=True)).result()
        return uid
    session.do(all_well(paddock.uid, there[0], on, uid=uid)).result()
    checks = session.farm.checks
    return (
        uid
        if uid in checks
        else next(each.uid for each in checks.values() if each.paddock_uid == paddock.uid and each.checked_on == on)
    )


def _some_readable(paths: Sequence[Path]) -> bool:
    """Tell whether a photo can be read, and why not where none can: a check of which nothing is known is no check."""
    from pigmap.session.photo_file import read_photo

    left_out = list[PigmapError]()
    for path in paths:
        try:
            read_photo(path)
        except PigmapError as why:
            left_out.append(why)
        else:
            return True
    for each in left_out:
        complain(each)
    return False


def _photos(session: Session, paths: Sequence[Path], paddock: Paddock, check_uid: str, on: date) -> int:
    from pigmap.session.photos import Belongs, take_photos

    if not paths:
        return 0
    taken = take_photos(session, paths, on, Belongs(paddock.uid, check_uid, on))
    if taken.photos:
        say(Text("{count} photo kept.", plural="{count} photos kept.", count=len(taken.photos)))
    for why in taken.left_out:
        complain(why)
    return 1 if taken.left_out else 0


command = CheckCommand()
"""The command as the registry finds it."""
