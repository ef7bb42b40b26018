"""The command ``verify``: is the file sound, do records and plan keep every rule."""

from __future__ import annotations

import argparse
import shlex
from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path

from pigmap.cli.breaches import COLUMNS, breach_row, lines_of
from pigmap.cli.dates import day
from pigmap.cli.opening import add_farm, open_farm
from pigmap.cli.printing import Row, add_json, print_rows, remark, say
from pigmap.errors import PluginError, StoreError
from pigmap.geometry.steep import SlopeCells
from pigmap.planning.accepted import with_reasons
from pigmap.planning.rule import Rule
from pigmap.planning.verify import Found, breaches
from pigmap.plugins import Registry
from pigmap.records import Farm
from pigmap.session.backups import newest_words
from pigmap.session.known_slopes import known_slopes
from pigmap.store.health import findings
from pigmap.store.rescue import rescue
from pigmap.text import Text


class VerifyCommand:
    """Looks at the file, then holds its records and its plan against every rule.

    Each breach is one line; cautions of a kind are told together.
    """

    api = 1
    name = "verify"
    summary = "tells whether the file is sound and the records and the plan keep every rule"

    def options(self, parser: argparse.ArgumentParser) -> None:
        """Declare the farm and the day."""
        add_farm(parser)
        parser.add_argument("--on", metavar="DATE", type=day, help="the day to stand on; today if not given")
        parser.add_argument(
            "--rescue", metavar="OUT", type=Path, help="write all that can be read of a damaged file into a new one"
        )
        add_json(parser)

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        """Verify it; 1 if anything was found that nobody has accepted with a reason, and that wants more than care."""
        if not given.farm.exists():
            open_farm(given, registry)  # refuses in words
        if given.rescue is not None:
            return _rescued(given.farm, given.rescue)
        found: list[Row] = [{"what": "file", "words": words} for words in findings(given.farm)]
        damaged = bool(found)
        kept = _keeps_rules(given, registry, found)
        wrong = [row for row in found if not row.get("accepted") and row["what"] != "care"]
        if given.json:
            print_rows(COLUMNS, found, as_json=True)
        else:
            for line in lines_of(found):
                say(line)
            if not wrong:
                say(kept)
        if damaged:
            _tell_the_way_back(given.farm)
        return 1 if wrong else 0


def _rescued(farm: Path, out: Path) -> int:
    rescued = rescue(farm, out)
    say(rescued.words)
    return 0 if rescued.whole and not rescued.lost else 1


def _tell_the_way_back(farm: Path) -> None:
    values = {"farm": shlex.quote(str(farm)), "out": shlex.quote(f"{farm.stem}, rescued.gpkg")}
    remark(Text("For a copy with all that can be read of it: pigmap verify {farm} --rescue {out}", values))
    newest = newest_words(farm)
    if newest is not None:
        remark(newest)


def _keeps_rules(given: argparse.Namespace, registry: Registry, found: list[Row]) -> Text:
    """Add what in the farm breaks a rule, and return what to say if nothing does."""
    try:
        with open_farm(given, registry, tell=False) as session:
            farm, slopes = session.farm, known_slopes(session)
            found += [{"what": "file", "words": note} for note in session.notes]
    except StoreError:
        if found:  # they say why it cannot be opened
            return Text("")
        raise
    rules = list(_rules(registry, found))
    broken = [each for rule in rules for each in _held(farm, rule, given.on or date.today(), slopes, registry, found)]
    told = with_reasons(farm, [each.breach for each in broken])
    found += [breach_row(farm, each.rule, breach) for each, breach in zip(broken, told, strict=True)]
    accepted = sum(bool(breach.accepted) for breach in told)
    if accepted:
        return Text(
            "{farm}: the file is sound; what breaks a rule was accepted with a reason, once.",
            {"farm": farm.name or given.farm.name},
            plural="{farm}: the file is sound; what breaks a rule was accepted with a reason, {count} times.",
            count=accepted,
        )
    return Text(
        "{farm}: the file is sound; records and plan keep the {count} rule of the program. Local rules come first.",
        {"farm": farm.name or given.farm.name},
        plural="{farm}: the file is sound; records and plan keep all {count} rules of the program. Local rules come "
        "first.",
        count=len(rules),
    )


def _rules(registry: Registry, found: list[Row]) -> Iterator[Rule]:
    for part in registry.parts("rules"):
        try:
            yield registry.load("rules", part.name)
        except PluginError as reason:
            found.append({"what": "rule", "rule": part.name, "words": reason.message, "remedy": reason.remedy})


def _held(
    farm: Farm, rule: Rule, today: date, slopes: Mapping[str, SlopeCells], registry: Registry, found: list[Row]
) -> list[Found]:
    """Return what breaks a rule; a rule of someone else's that stops half way is told of instead."""
    try:
        return breaches(farm, [rule], today, slopes)
    except Exception as fault:
        part = next((part for part in registry.parts("rules") if part.name == rule.name), None)
        if part is None or part.built_in:
            raise
        found.append({"what": "rule", "rule": rule.name, "words": _stopped(part.shipper, rule.name, fault)})
        return []


def _stopped(shipper: str, name: str, fault: Exception) -> Text:
    return Text(
        "The rule {name} of {shipper} stopped half way: {why}. Its maker can mend it.",
        {"name": name, "shipper": shipper, "why": f"{type(fault).__name__}: {fault}".rstrip(".")},
    )


command = VerifyCommand()
