"""Sorts of English: the same sentences with the words that keepers use where they live."""

from __future__ import annotations

import gettext
import re
from collections.abc import Mapping
from types import MappingProxyType

SORTS: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {
        "en_GB": {"energizer": "energiser", "energizers": "energisers"},
        "en_US": {
            "earth stake": "ground rod",
            "earth stakes": "ground rods",
            "ley": "sown pasture",
            "ride": "woods lane",
            "rides": "woods lanes",
            "served": "bred",
            "autumn": "fall",
        },
        "en_AU": {
            "field": "paddock",
            "fields": "paddocks",
            "paddock": "strip",
            "paddocks": "strips",
            "rooting": "digging",
            "rooted": "dug",
            "ley": "sown pasture",
        },
    }
)
"""What is said for a word, by language and country. Common practice."""

ALIKE: Mapping[str, str] = MappingProxyType({"en_IE": "en_GB", "en_NZ": "en_AU", "en_CA": "en_US"})
"""Countries that speak as others do, as far as these words go. Common practice."""


def sort_of(locale: str) -> str:
    """Return the sort of English for the name of a locale; plain ``en`` where there is none.

    Examples
    --------
    >>> sort_of("en_NZ"), sort_of("en_US.UTF-8"), sort_of("de_DE")
    ('en_AU', 'en_US', 'en')
    """
    name = locale.partition(".")[0].replace("-", "_")
    name = ALIKE.get(name, name)
    return name if name in SORTS else "en"


class English(gettext.NullTranslations):
    """Says each sentence in one sort of English; what a person typed stays as it is.

    Examples
    --------
    >>> English("en_AU").gettext("Field {name}: a paddock, half rooted. {field}")
    'Paddock {name}: a strip, half dug. {field}'
    """

    def __init__(self, sort: str) -> None:
        super().__init__()
        self._words = SORTS[sort]
        words = "|".join(sorted(map(re.escape, self._words), key=len, reverse=True))
        self._pattern = re.compile(rf"\{{[^}}]*\}}|\b({words})\b", re.IGNORECASE)

    def gettext(self, message: str) -> str:
        """Return a sentence in this sort."""
        return self._pattern.sub(self._other, message)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        """Return the sentence for a number in this sort."""
        return self.gettext(msgid1 if n == 1 else msgid2)

    def _other(self, found: re.Match[str]) -> str:
        word = found[1]
        if word is None:  # a name in braces
            return found[0]
        other = self._words[word.lower()]
        return other[0].upper() + other[1:] if word[0].isupper() else other
