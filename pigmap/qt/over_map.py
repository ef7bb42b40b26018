"""Where the panels over the map lie: card, key and message, so that none hides another."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize
from PySide6.QtWidgets import QWidget

from pigmap.qt.paintwork import SHADOW
from pigmap.qt.stage import Room

MARGIN = 12 - SHADOW
"""Between a panel with its shadow and the edges of the map [px]."""
GUTTER = 44
"""Kept free at the foot of the map for the message, so that nothing jumps when it comes [px]."""
TOP_ROOM = 64
"""Kept free at the top for scale bar and north [px]."""
CARD_WIDE = {"narrow": 0, "small": 336, "usual": 336, "wide": 360}


def lay_card(card: QWidget, map_size: QSize, room: Room, text_scale: float) -> None:
    """Lay the card at the right, or as a sheet from below in a narrow window."""
    if room.name == "narrow":
        wide = map_size.width() + 2 * SHADOW
        high = min(card.heightForWidth(wide), map_size.height() * 11 // 20)
        card.setGeometry(QRect(-SHADOW, map_size.height() - high + 2 * SHADOW, wide, high))
        return
    wide = min(round(CARD_WIDE[room.name] * text_scale) + 2 * SHADOW, map_size.width() - 2 * MARGIN)
    high = min(card.heightForWidth(wide), map_size.height() - TOP_ROOM - MARGIN)
    card.setGeometry(QRect(map_size.width() - wide - MARGIN, map_size.height() - high - MARGIN, wide, high))


def lay_key(key: QWidget, map_size: QSize, room: Room) -> None:
    """Lay the key at the lower left, above the message's gutter; at the upper left in a narrow window."""
    wanted = key.sizeHint()
    size = wanted.boundedTo(QSize(map_size.width() - 2 * MARGIN, map_size.height() - GUTTER - 2 * MARGIN))
    y = MARGIN if room.name == "narrow" else map_size.height() - size.height() - GUTTER - MARGIN
    key.setGeometry(QRect(MARGIN, max(MARGIN, y), size.width(), size.height()))


def lay_message(message: QWidget, map_size: QSize, card: QWidget | None, room: Room) -> None:
    """Dock the message at the lower left of the map; on the sheet's upper edge in a narrow window."""
    foot = map_size.height()
    most = map_size.width()
    if card is not None and not card.isHidden():
        if room.name == "narrow":
            foot = card.y() + SHADOW
        else:
            most = card.x() - MARGIN
    wide = min(message.sizeHint().width(), most)
    high = max(GUTTER, message.heightForWidth(wide))
    message.setGeometry(QRect(0, foot - high, wide, high))
    message.raise_()
