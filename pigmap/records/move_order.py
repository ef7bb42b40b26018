"""The order that someone gave the moves of a day, as the farm's settings hold it."""

from __future__ import annotations

from datetime import date

from pigmap.records.farm import Farm

ORDER_OF_MOVES = "order of moves"
"""The setting: uids of groups by day."""


def order_of_moves(farm: Farm, day: date) -> tuple[str, ...]:
    """Return the uids of groups in the order that someone gave a day's moves; empty where nobody did."""
    kept = farm.setting(ORDER_OF_MOVES, {})
    order = kept.get(day.isoformat(), ()) if isinstance(kept, dict) else ()
    return tuple(str(uid) for uid in order) if isinstance(order, list) else ()
