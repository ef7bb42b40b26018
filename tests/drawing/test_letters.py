from __future__ import annotations

from pigmap.drawing.letters import breadth


def test_letters_that_the_font_lacks_are_reckoned_by_their_kind() -> None:
    assert breadth("\N{CJK UNIFIED IDEOGRAPH-6C34}", 10.0) == 10.0
    assert breadth("\N{HEBREW LETTER ALEF}", 10.0) == 6.0
    assert breadth("e\N{COMBINING ACUTE ACCENT}\N{RIGHT-TO-LEFT OVERRIDE}", 10.0) == breadth("e", 10.0)
