"""What is taken in from a file: fields, ways, paddocks, groups, stays, weather and more; told before it is done."""

from __future__ import annotations

from pigmap.session.taking_in.kind import KIND_GUESSED
from pigmap.session.taking_in.result import TakenIn, TakenRow
from pigmap.session.taking_in.take import TakeIn, take_in
from pigmap.session.taking_in.usual import KINDS

GUESSES = tuple(KIND_GUESSED.values())
"""What is said where what a file holds was found out."""

__all__ = ["GUESSES", "KINDS", "TakeIn", "TakenIn", "TakenRow", "take_in"]
