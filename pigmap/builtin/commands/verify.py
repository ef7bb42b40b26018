"""The command ``verify``: is the file sound, do records and plan keep every rule."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from datetime import date

from pigmap.cli.dates import day
from pigmap.cli.opening import add_farm, open_farm
from pigmap.cli.printing import Row, add_json, print_rows, say
from pigmap.drawing.words import render
from pigmap.errors import PluginError, StoreError
from pigmap.planning.rule import Rule
from pigmap.planning.verify import breaches
from pigmap.plugins import Registry
from pigmap.records import Farm
from pigmap.store.health import findings
from pigmap.text import Text

COLUMNS = ("what", "rule", "day", "words", "remedy", "table", "uid")


class VerifyCommand:
    """Looks at the file, then holds its records and its plan against every rule; one line for each breach."""

    api = 1
    name = "verify"
    summary = "tells whether the file is sound and the records and the plan keep every rule"

    def options(self, parser: argparse.ArgumentParser) -> None:
        """Declare the farm and the day."""
        add_farm(parser)
        parser.add_argument("--on", metavar="DATE", type=day, help="the day to stand on; today if not given")
        add_json(parser)

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        """Verify it; 1 if anything was found."""
        if not given.farm.exists():
            open_farm(given, registry)  # refuses in words
        found: list[Row] = [{"what": "file", "words": words} for words in findings(given.farm)]
        kept = _keeps_rules(given, registry, found)
        if given.json:
            print_rows(COLUMNS, found, as_json=True)
        else:
            for row in found:
                say(_line(row))
            if not found:
                say(kept)
        return 1 if found else 0


def _keeps_rules(given: argparse.Namespace, registry: Registry, found: list[Row]) -> Text:
    """Add what in the farm breaks a rule, and return what to say if nothing does."""
    try:
        with open_farm(given, registry, tell=False) as session:
            farm = session.farm
            found += [{"what": "file", "words": note} for note in session.notes]
    except StoreError:
        if found:  # they say why it cannot be opened
            return Text("")
        raise
    rules = list(_rules(registry, found))
    for rule in rules:
        found += _rows(farm, rule, given.on or date.today(), registry)
    return Text(
        "{farm}: the file is sound; records and plan keep the {count} rule.",
        {"farm": farm.name},
        plural="{farm}: the file is sound; records and plan keep all {count} rules.",
        count=len(rules),
    )


def _rules(registry: Registry, found: list[Row]) -> Iterator[Rule]:
    for part in registry.parts("rules"):
        try:
            yield registry.load("rules", part.name)
        except PluginError as reason:
            found.append({"what": "rule", "rule": part.name, "words": reason.message, "remedy": reason.remedy})


def _rows(farm: Farm, rule: Rule, today: date, registry: Registry) -> list[Row]:
    try:
        return [
            {
                "what": breach.weight,
                "rule": name,
                "day": breach.day,
                "words": breach.words,
                "remedy": breach.remedy,
                "table": breach.table,
                "uid": breach.uid,
            }
            for name, breach in breaches(farm, [rule], today)
        ]
    except Exception as fault:
        part = next((part for part in registry.parts("rules") if part.name == rule.name), None)
        if part is None or part.built_in:
            raise
        return [{"what": "rule", "rule": rule.name, "words": _stopped(part.shipper, rule.name, fault)}]


def _stopped(shipper: str, name: str, fault: Exception) -> Text:
    return Text(
        "The rule {name} of {shipper} stopped half way: {why}. Its maker can mend it.",
        {"name": name, "shipper": shipper, "why": f"{type(fault).__name__}: {fault}".rstrip(".")},
    )


def _line(row: Row) -> str:
    sentences = [render(part) for part in (row.get("words"), row.get("remedy")) if isinstance(part, Text) and part]
    heading = f"{row['what']} {row.get('day') or ''}".rstrip()
    return f"{heading}: {' '.join(sentences)}"


command = VerifyCommand()
