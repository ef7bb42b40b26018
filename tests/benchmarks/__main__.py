"""Measure a set of goals and print how they stand: ``python -m tests.benchmarks loop [--quick] [--json FILE]``."""

from __future__ import annotations

import argparse
import json
import sys
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from tests.benchmarks.file import measure_file
from tests.benchmarks.ground import measure_ground
from tests.benchmarks.loop import measure_loop
from tests.benchmarks.map import measure_map
from tests.benchmarks.nets import measure_nets
from tests.benchmarks.sticks import Measured

GOALS = Path(__file__).parent / "goals.toml"
SETS = {"file": measure_file, "ground": measure_ground, "loop": measure_loop, "map": measure_map, "nets": measure_nets}


def main(arguments: list[str]) -> int:
    """Measure; the exit status is 1 where a goal is missed."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=__doc__)
    parser.add_argument("set", choices=sorted(SETS), help="which goals")
    parser.add_argument("--quick", action="store_true", help="fewer repeats: says whether it runs, not how fast")
    parser.add_argument("--json", type=Path, metavar="FILE", help="write the figures to a file, too")
    asked = parser.parse_args(arguments)
    goals: Mapping[str, Mapping[str, Any]] = tomllib.loads(GOALS.read_text(encoding="utf-8"))[asked.set]
    measured = SETS[asked.set](quick=asked.quick)
    rows = [row(name, goal, measured.get(name)) for name, goal in goals.items()]
    print_table(rows)
    if asked.json is not None:
        asked.json.write_text(json.dumps(rows, indent=1), encoding="utf-8")
    return 1 if any(each["stands"] == "short" for each in rows) else 0


def row(name: str, goal: Mapping[str, Any], measured: Measured | None) -> dict[str, Any]:
    """Return one line of the table."""
    target = goal.get("target")
    made: dict[str, Any] = {"goal": name, "what": goal["what"], "target": target, "unit": goal["unit"]}
    if measured is None:
        return {**made, "measured": None, "stick": "", "ratio": None, "stands": "not measured"}
    value = measured.ratio if goal["unit"] == "x" else measured.value
    assert value is not None
    return {
        **made,
        "measured": round(measured.value, 4),
        "stick": goal.get("stick", measured.stick),
        "ratio": round(measured.ratio, 3) if measured.ratio is not None else None,
        "stands": "beside" if target is None else "holds" if value <= target else "short",
        "note": measured.note,
    }


def print_table(rows: list[dict[str, Any]]) -> None:
    """Print goal, target, measured, stick, ratio and whether it holds."""
    print(f"{'goal':24} {'target':>14} {'measured':>12} {'ratio':>8}  {'':12} stick and notes")
    for each in rows:
        target = f"<= {each['target']:g} {each['unit']}" if each["target"] is not None else each["unit"]
        value = "-" if each["measured"] is None else f"{each['measured']:g}"
        ratio = "-" if each["ratio"] is None else f"{each['ratio']:g}"
        notes = "; ".join(note for note in (each["stick"], each.get("note", "")) if note)
        print(f"{each['goal']:24} {target:>14} {value:>12} {ratio:>8}  {each['stands']:12} {notes}")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
