from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from PySide6.QtGui import QImage, QPainter
from pytestqt.qtbot import QtBot

from pigmap.builtin.panels.manual_pages import ORDER
from pigmap.qt.key_words import TABLES
from tests.manual_pictures import PICTURES, README_PICTURE, REMEDY, ROOT, SHOTS, pictures, unlike

MANUAL = ROOT / "resources" / "manual"
PAGES = {path.stem: path.read_text(encoding="utf-8") for path in sorted(MANUAL.glob("*.md"))}
SHARE_THAT_SHOWS = 0.004
MOST_BYTES = 1_500_000


@cache
def _said_by_the_program() -> frozenset[str]:
    """Return every string that stands in the program's source."""
    found: set[str] = set()
    for path in (ROOT / "pigmap").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                found.add(node.value)
    return frozenset(found)


def _all(pattern: str) -> Iterator[tuple[str, str]]:
    for name, words in PAGES.items():
        for each in re.findall(pattern, words):
            yield name, each


def test_the_contents_name_every_page_once() -> None:
    assert sorted(ORDER) == sorted(PAGES)
    assert all(words.startswith("# ") for words in PAGES.values())


def test_links_lead_to_pages_that_are_there() -> None:
    links = list(_all(r"(?<!!)\[[^\]]+\]\(([^)]+)\)"))
    assert links
    assert [each for each in links if each[1].removesuffix(".md") not in PAGES] == []


def test_every_key_that_a_page_names_stands_in_the_table() -> None:
    known = {key for _, rows in TABLES for row in rows for key in row.keys}
    assert [each for each in _all(r"`([^`]+)`") if each[1] not in known] == []


def test_every_button_and_verb_in_bold_is_one_of_the_program() -> None:
    # A lead-in ends in a full stop; all else in bold is what the screen says.
    bold = [each for each in _all(r"\*\*([^*]+)\*\*") if not each[1].endswith(".")]
    assert len(bold) > 20
    assert [each for each in bold if each[1] not in _said_by_the_program()] == []


def test_every_picture_that_is_named_is_there_and_none_is_left_over() -> None:
    named = {picture for _, picture in _all(r"!\[[^\]]+\]\(pictures/([^)]+)\)")}
    assert named == {path.name for path in PICTURES.iterdir()} == {f"{shot.name}.webp" for shot in SHOTS}


def test_the_pictures_are_small() -> None:
    assert sum(path.stat().st_size for path in PICTURES.iterdir()) < MOST_BYTES


def test_pages_are_plain() -> None:
    for name, words in PAGES.items():
        prose = words.replace("![", "[").replace("<!--", "")
        assert "!" not in prose, name
        assert not re.search(r"\bplease\b|\bsimply\b|\beasily\b", prose, re.IGNORECASE), name


def test_every_picture_shows_the_program_as_it_is(qtbot: QtBot) -> None:
    stale = {}
    for path, image in pictures():
        share = unlike(image, QImage(str(path)))
        if share > SHARE_THAT_SHOWS:
            stale[str(path.relative_to(ROOT))] = f"{share:.1%} looks different"
    assert not stale, f"{stale}. {REMEDY}"


def test_a_change_that_shows_is_noticed() -> None:
    image = QImage(str(README_PICTURE))
    changed = image.copy()
    painter = QPainter(changed)
    painter.fillRect(400, 300, 90, 90, 0xFF3366)
    painter.end()
    assert unlike(image, image) == 0.0
    assert unlike(image, changed) > SHARE_THAT_SHOWS
    assert unlike(image, image.copy(0, 0, 100, 100)) == 1.0


@pytest.mark.parametrize("word", ["Overhead lines", "Water", "Hot weather", "Wells", "Medicines"])
def test_the_cautions_are_said(word: str) -> None:
    assert f"**{word}.**" in PAGES["cautions"]
    assert "Local rules come first" in PAGES["cautions"]


def test_the_pages_go_with_the_package() -> None:
    words = (Path(ROOT) / "pyproject.toml").read_text(encoding="utf-8")
    assert 'resources = "pigmap/resources"' in words
