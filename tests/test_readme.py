from __future__ import annotations

import argparse
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from pigmap.cli.usage import reader
from pigmap.plugins import KINDS, Registry
from pigmap.plugins.declared import installed

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def _options() -> Iterator[tuple[str, str]]:
    registry = Registry(each for each in installed() if each.dist is not None and each.dist.name == "pigmap")
    for part in registry.parts("commands"):
        for action in reader(registry.load("commands", part.name))._actions:
            if not isinstance(action, argparse._HelpAction):
                yield part.name, (action.option_strings or [str(action.metavar)])[0]


def test_every_command_and_option_stands_in_the_table() -> None:
    rows = {line.split()[2].strip("`"): line for line in README.splitlines() if line.startswith("| `pigmap ")}
    missing = [
        f"{command} {option}"
        for command, option in _options()
        if not re.search(rf"(?<![\w-]){re.escape(option)}(?![\w-])", rows.get(command, ""))
    ]
    assert not missing


def test_every_command_in_the_table_is_there() -> None:
    told = set(re.findall(r"^\| `pigmap (\w+) ", README, re.MULTILINE))
    assert told == {part.name for part in Registry().parts("commands") if part.built_in}


def test_there_are_exactly_the_two_lines_that_run_and_check() -> None:
    lines = [line for line in README.splitlines() if line.startswith("python3 -m venv")]
    assert len(lines) == 2
    assert lines[0].endswith("-e . && .venv/bin/pigmap")
    assert lines[1].endswith('-e ".[checks]" && .venv/bin/python -m tests')


def test_the_readme_names_what_a_bare_debian_lacks() -> None:
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    (needed,) = re.findall(r'needed="([^"]*)"', script)
    assert [package for package in needed.split() if package not in README] == []


@pytest.mark.parametrize("page", ["README.md", "DEVELOPERS.md", "sample_data/README.md"])
def test_files_and_links_that_a_page_names_are_there(page: str) -> None:
    words = (ROOT / page).read_text(encoding="utf-8")
    linked = re.findall(r"\]\(([^)#]+)\)", words)
    assert [link for link in linked if not (ROOT / page).parent.joinpath(link).exists()] == []
    named = re.findall(r"`((?:pigmap|tests|resources|\.ci)/[\w./]+)`", words)
    assert [name for name in named if not (ROOT / name).exists() and "NAME" not in name] == []


def test_the_folder_map_names_every_part_of_the_package() -> None:
    parts = {path.name for path in (ROOT / "pigmap").iterdir() if (path / "__init__.py").exists()}
    assert [part for part in sorted(parts) if f"`{part}/`" not in DEVELOPERS] == []


def test_the_kinds_of_parts_that_strangers_may_add_are_named() -> None:
    promised = [name for name, kind in KINDS.items() if kind.promised]
    assert [name for name in promised if name not in README] == []
