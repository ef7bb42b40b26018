"""Texts that are made inside the program and put into words only at its edges."""

from __future__ import annotations

from pigmap.text.message import Text, Value
from pigmap.text.plain import plain
from pigmap.text.quantity import UNITS, Quantity, Unit
from pigmap.text.saved import text_from_json, text_to_json

__all__ = ["UNITS", "Quantity", "Text", "Unit", "Value", "plain", "text_from_json", "text_to_json"]
