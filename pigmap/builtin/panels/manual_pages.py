"""The pages of the manual: which there are, what each says, and which fits what is going on."""

from __future__ import annotations

from typing import NamedTuple

from pigmap.paths import resource
from pigmap.qt.key_words import TABLES
from pigmap.qt.stage import Stage

ORDER = (
    "begin",
    "placing",
    "nets",
    "ground",
    "season",
    "checks",
    "books",
    "print",
    "bring",
    "data",
    "files",
    "keys",
    "cautions",
)
"""Pages in the order of the contents."""
OF_VERB = {
    "draw": "begin",
    "place": "placing",
    "stand": "placing",
    "here": "placing",
    "split": "placing",
    "before": "ground",
    "work": "ground",
    "check": "checks",
    "moves": "print",
    "pin": "bring",
    "parcels": "bring",
}
"""The page that fits a verb."""
OF_PICKED = {"fields": "ground", "paddocks": "placing", "stays": "season", "groups": "season", "checks": "checks"}
"""The page that fits what is picked."""
KEY_TABLES = "<!-- key tables -->"
"""Where the tables of keys stand in a page."""


class Page(NamedTuple):
    """One page."""

    name: str
    title: str
    words: str
    """Markdown, its title included."""


def pages(stage: Stage) -> tuple[Page, ...]:
    """Return all pages in order."""
    return tuple(_page(stage, name) for name in ORDER)


def page_for(stage: Stage) -> str:
    """Return the name of the page that fits the verb that runs, else what is picked."""
    picked = stage.picked
    return OF_VERB.get(stage.verb) or (OF_PICKED.get(picked.table, "cautions") if picked is not None else ORDER[0])


def key_tables(stage: Stage) -> str:
    """Return the tables of keys as Markdown."""
    lines: list[str] = []
    for title, rows in TABLES:
        lines += [f"## {stage.words(title)}", "", f"| {stage.say('Key')} | {stage.say('What it does')} |", "|---|---|"]
        lines += [f"| {', '.join(f'`{key}`' for key in row.keys)} | {stage.words(row.does)} |" for row in rows]
        lines.append("")
    return "\n".join(lines)


def _page(stage: Stage, name: str) -> Page:
    words = resource("manual", f"{name}.md").read_text(encoding="utf-8")
    title = words.splitlines()[0].removeprefix("# ")
    return Page(name, title, words.replace(KEY_TABLES, key_tables(stage)))
