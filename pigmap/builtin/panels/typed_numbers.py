"""Numbers as a person types them, with a comma or a point, or the words for what they are not."""

from __future__ import annotations

import re

from pigmap.errors import EditError
from pigmap.text import Text

_WHOLE = re.compile(r"[+-]?\d{1,9}")
_NUMBER = re.compile(r"[+-]?\d{1,9}([.,]\d{0,9})?")


def whole_number(what: Text, typed: str, least: int, most: int, example: int) -> int:
    """Return a count that was typed.

    Raises
    ------
    EditError
        If it is no whole number, or cannot be so many.

    Examples
    --------
    >>> whole_number(Text("The number of pigs"), " 12 ", 1, 9999, 8)
    12
    """
    if not _WHOLE.fullmatch(typed.strip()):
        raise _no_number(what, typed, str(example))
    found = int(typed)
    if not least <= found <= most:
        raise EditError(
            "{what} is {typed}.",
            remedy="Give a number from {least} to {most}.",
            what=what,
            typed=str(found),
            least=str(least),
            most=str(most),
        )
    return found


def number(what: Text, typed: str, example: str) -> float:
    """Return a number that was typed.

    Raises
    ------
    EditError
        If it is none.

    Examples
    --------
    >>> number(Text("The weight"), "19,5", "20")
    19.5
    """
    if not _NUMBER.fullmatch(typed.strip()):
        raise _no_number(what, typed, example)
    return float(typed.strip().replace(",", "."))


def _no_number(what: Text, typed: str, example: str) -> EditError:
    if not typed.strip():
        return EditError("{what} is not given.", remedy="Give a number, such as {example}.", what=what, example=example)
    return EditError(
        "{what} is '{typed}': that is no number.",
        remedy="Give a number, such as {example}.",
        what=what,
        typed=typed.strip(),
        example=example,
    )
