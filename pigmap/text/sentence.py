"""Values put into a pattern, so that each of its sentences begins with a capital."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from string import Formatter

from pigmap.text.message import Text


def filled(text: Text, pattern: str, words: Mapping[str, str]) -> str:
    """Return a pattern of a text with its values in words.

    Where words of the program's own, such as 'the pond', begin a sentence, they begin with a capital; what a person
    called a thing stays as it was typed.

    Parameters
    ----------
    text
        What is told.
    pattern
        Its pattern in the language in which it is told.
    words
        What stands for each name in the pattern.

    Examples
    --------
    >>> pond = Text("{what} is deep.", {"what": Text("the pond")})
    >>> filled(pond, pond.id, {"what": "the pond"})
    'The pond is deep.'
    >>> named = Text("{what} is deep.", {"what": "the tarn"})
    >>> filled(named, named.id, {"what": "the tarn"})
    'the tarn is deep.'
    """
    told = []
    for literal, name, begins in _pieces(pattern):
        told.append(literal)
        if name is not None:
            value = words[name]
            told.append(value[:1].upper() + value[1:] if begins and _is_own(text.values.get(name)) else value)
    return "".join(told)


@cache
def _pieces(pattern: str) -> tuple[tuple[str, str | None, bool], ...]:
    """Return the literals of a pattern, the name after each, and whether that name begins a sentence."""
    whole = pattern.endswith((".", ":"))
    pieces = [(literal, name) for literal, name, _, _ in Formatter().parse(pattern)]
    return tuple(
        (literal, name, whole and (literal.endswith(". ") if literal else at == 0))
        for at, (literal, name) in enumerate(pieces)
    )


def _is_own(value: object) -> bool:
    """Whether a value begins with words of the program's own, not with a name that a person gave."""
    if not isinstance(value, Text):
        return False
    literal, name, _ = next(iter(_pieces(value.id)), ("", None, False))
    return bool(literal) or (name is not None and _is_own(value.values.get(name)))
