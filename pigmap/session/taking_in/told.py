"""What becomes of a file, in sentences for a person who looks before it is done."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice

from pigmap.session.taking_in.result import TakenIn
from pigmap.text import Text

MOST_TOLD = 12
"""Rows that are told one by one; of more the number is told."""


def told(taken: TakenIn) -> tuple[Text, ...]:
    """Return the summary, what is said of the whole file, and of the first rows of which something is said."""
    of_rows = list(_rows(taken))
    said = [taken.summary, *taken.notes, *islice(of_rows, MOST_TOLD)]
    if len(of_rows) > MOST_TOLD:
        said.append(Text("And {count} rows more.", {"count": len(of_rows) - MOST_TOLD}))
    if not taken.changes_anything:
        said.append(Text("Nothing of it is new to the farm."))
    return tuple(said)


def _rows(taken: TakenIn) -> Iterator[Text]:
    """Yield a sentence for each row of which something is said: the refused ones first."""
    for row in sorted(taken.rows, key=lambda row: row.result != "refused"):
        words = [each for each in row.words if each]
        if words:
            name = " ".join(row.name.split())
            yield Text("Row {row}, {name}: {words}", {"row": row.row, "name": name, "words": _joined(words)})


def _joined(words: Sequence[Text]) -> Text:
    names = [f"part{at}" for at in range(len(words))]
    return Text(" ".join(f"{{{name}}}" for name in names), dict(zip(names, words, strict=True)))
