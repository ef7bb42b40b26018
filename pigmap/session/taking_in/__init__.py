"""What is taken in from a file: fields, keep-outs, stays, daily checks, weather; told before it is done."""

from __future__ import annotations

from pigmap.session.taking_in.columns import KINDS
from pigmap.session.taking_in.kind import KIND_GUESSED
from pigmap.session.taking_in.result import TakenIn, TakenRow
from pigmap.session.taking_in.take import TakeIn, take_in

GUESSES = tuple(KIND_GUESSED.values())
"""What is said where what a file holds was found out."""

__all__ = ["GUESSES", "KINDS", "TakeIn", "TakenIn", "TakenRow", "take_in"]
