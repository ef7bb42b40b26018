"""A sentence without a language: an English pattern and the values in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from string import Formatter
from types import MappingProxyType
from typing import TypeAlias, Union

from pigmap.text.quantity import Quantity

Value: TypeAlias = Union[str, int, date, Quantity, "Text"]


@dataclass(frozen=True, slots=True)
class Text:
    """A message as it travels through the program and into the change log.

    Parameters
    ----------
    id
        The English sentence with ``{names}`` for the values; at the same time the key of its translations.
    values
        What the names stand for.
    plural
        The English sentence for a count other than one.
    count
        Which of the two sentences is meant; available to both as ``{count}``.

    Raises
    ------
    ValueError
        If the sentence uses a name that has no value: a fault in the program, never in the data.

    Examples
    --------
    >>> str(Text("{name} placed.", {"name": "Long Field 9"}))
    'Long Field 9 placed.'
    >>> str(Text("{count} net short.", plural="{count} nets short.", count=2))
    '2 nets short.'
    """

    id: str
    values: Mapping[str, Value] = field(default_factory=dict)
    plural: str = ""
    count: int | None = None

    def __post_init__(self) -> None:
        object.__setattr__(self, "values", MappingProxyType(dict(self.values)))
        known = set(self.values) | ({"count"} if self.count is not None else set())
        missing = _names(self.id) | _names(self.plural)
        missing -= known
        if missing:
            raise ValueError(f"the text {self.id!r} has no value for {', '.join(sorted(missing))}")

    def __hash__(self) -> int:
        return hash((self.id, tuple(sorted(self.values)), self.plural, self.count))

    def __bool__(self) -> bool:
        return bool(self.id)

    def __reduce__(self) -> tuple[type[Text], tuple[str, dict[str, Value], str, int | None]]:
        # A mapping proxy cannot be pickled, and texts cross to worker processes.
        return Text, (self.id, dict(self.values), self.plural, self.count)

    def __str__(self) -> str:
        from pigmap.text.plain import plain  # the two need each other; only this direction is at run time

        return plain(self)


def _names(pattern: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(pattern) if name is not None}
