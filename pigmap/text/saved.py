"""Texts to and from the JSON that the change log keeps."""

from __future__ import annotations

import json
from datetime import date
from typing import Any

from pigmap.text.message import Text, Value
from pigmap.text.quantity import Quantity


def text_to_json(text: Text) -> str:
    """Return the text as one line of JSON that `text_from_json` reads back to an equal text."""
    return json.dumps(_packed_text(text), ensure_ascii=False, separators=(",", ":"))


def text_from_json(saved: str) -> Text:
    """Return the text that was saved.

    Raises
    ------
    ValueError
        If the line was not made by `text_to_json`.
    """
    packed = json.loads(saved)
    if not isinstance(packed, dict) or "id" not in packed:
        raise ValueError(f"not a saved text: {saved[:80]!r}")
    return _unpacked_text(packed)


def _packed_text(text: Text) -> dict[str, Any]:
    packed: dict[str, Any] = {"id": text.id}
    if text.values:
        packed["values"] = {name: _packed(value) for name, value in text.values.items()}
    if text.plural:
        packed["plural"] = text.plural
    if text.count is not None:
        packed["count"] = text.count
    return packed


def _packed(value: Value) -> Any:
    if isinstance(value, Text):
        return {"text": _packed_text(value)}
    if isinstance(value, Quantity):
        return {"quantity": [value.value, value.unit, value.digits]}
    if isinstance(value, date):
        return {"date": value.isoformat()}
    return value


def _unpacked_text(packed: dict[str, Any]) -> Text:
    values = {name: _unpacked(value) for name, value in packed.get("values", {}).items()}
    return Text(packed["id"], values, packed.get("plural", ""), packed.get("count"))


def _unpacked(packed: Any) -> Value:
    if isinstance(packed, (str, int)):
        return packed
    if "text" in packed:
        return _unpacked_text(packed["text"])
    if "quantity" in packed:
        return Quantity(*packed["quantity"])
    return date.fromisoformat(packed["date"])
