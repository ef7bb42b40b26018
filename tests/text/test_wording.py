from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import pigmap

SOURCES = Path(pigmap.__file__).parent
NEVER = re.compile(
    r"\b(bounds?|gaps?|cells?|nodes?|solvers?|optim\w*|unshared|infeasible|heads|chains?|shaded|heat|lawful\w*"
    r"|invalid|errors?|please|oops)\b|!(?!\S)",
    re.IGNORECASE,
)
"""Words of the program's makers, of blame or of praise: a keeper of pigs meets none of them."""
NOT_SHOWN = {
    SOURCES / "store" / "schema.py": "it is SQL",
    SOURCES / "cli" / "usage.py": "it matches words of a library",
}


def _sentences(source: str) -> Iterator[tuple[int, str]]:
    """Yield the line and the words of what reads like words: not a docstring, with a space or a capital."""
    tree = ast.parse(source)
    silent = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in silent:
            words = re.sub(r"\{\w*\}", "", node.value)
            if " " in words.strip() or words[:1].isupper():
                yield node.lineno, words


def test_no_text_has_a_word_that_is_never_on_a_screen() -> None:
    read, found = 0, []
    for path in sorted(SOURCES.rglob("*.py")):
        if path in NOT_SHOWN:
            continue
        for line, words in _sentences(path.read_text(encoding="utf-8")):
            read += 1
            if NEVER.search(words):
                found.append(f"{path.relative_to(SOURCES)}:{line}: {words}")
    assert not found, "\n".join(found)
    assert read > 1000, "the sentences of the program were not found"


@pytest.mark.parametrize(
    "words", ["No gap here", "Two cells", "The optimum", "Wrong! ", "An invalid day", "Chain of paddocks", "heat today"]
)
def test_words_that_are_never_on_a_screen_are_found(words: str) -> None:
    ((_, read),) = _sentences(f'"""Gap in a docstring."""\nsay({words!r})')
    assert NEVER.search(read)
