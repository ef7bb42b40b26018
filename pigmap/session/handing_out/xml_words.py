"""Words as XML holds them."""

from __future__ import annotations

import re
from xml.sax.saxutils import escape

from pigmap.session.handing_out.table import Handed
from pigmap.text import Text

_NOT_IN_XML = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_AS_NUMBERS = {"\r": "&#13;", "\t": "&#9;", '"': "&quot;"}
"""A reader may turn these into something else unless they are written as numbers."""


def xml_words(words: str) -> str:
    """Return words as the text of an element; letters that XML knows no way to write become the sign for lost ones.

    Examples
    --------
    >>> xml_words("Bull & <calf>")
    'Bull &amp; &lt;calf&gt;'
    """
    return escape(as_xml_holds(words), _AS_NUMBERS)


def as_xml_holds(words: str) -> str:
    """Return words with the sign for lost letters where XML knows no way to write them."""
    return _NOT_IN_XML.sub("\ufffd", words)


def lost_letters(handed: Handed, format_name: str) -> tuple[Text, ...]:
    """Return what to say of letters that cannot be written."""
    words = [value for each in handed.columns for value in each.values if isinstance(value, str)]
    lost = sum(1 for each in (*words, *handed.called) if _NOT_IN_XML.search(each))
    if not lost:
        return ()
    said = "{format} cannot hold a letter of {count} value; \ufffd stands in its place."
    more = "{format} cannot hold a letter of {count} values; \ufffd stands in their place."
    return (Text(said, {"format": format_name}, plural=more, count=lost),)
