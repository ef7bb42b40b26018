"""Where the panels over the map lie: card, key and message, so that none hides another."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QWidget

from pigmap.qt.arrangement import Box
from pigmap.qt.coming import Coming
from pigmap.qt.motion import MESSAGE_IN_MS, PANEL_MS
from pigmap.qt.paintwork import SHADOW
from pigmap.qt.stage import Room, Stage

MARGIN = 12 - SHADOW
"""Between a panel with its shadow and the edges of the map [px]."""
GUTTER = 44
"""Kept free at the foot of the map for the message, so that nothing jumps when it comes [px]."""
LEAST_MESSAGE = 360
"""So broad at least is a message that lies beside the key [px]."""
TOP_ROOM = 64
"""Kept free at the top for scale bar and north [px]."""
LOW_SHEET = 240
"""A card that is a sheet may take more than half of a low map, up to this at a text size of 100 % [px]."""
SLIDE_PX = 16
"""A plate or the card comes from so far beside its place [px]."""
BROADER = 1.3
"""So much broader is what starts a farm where it would be too high: fewer lines break."""
CARD_WIDE = {"narrow": 0, "small": 336, "usual": 336, "wide": 360}


WHOLE_MAP = ("draw", "stand", "before", "work", "here", "pin", "parcels")
"""Verbs that need all of the map: the next corner may lie anywhere."""
IN_COLUMN = ("place", "check", "moves")
"""Verbs that bring a panel into the column's place."""


def kept_top(room: Room, text_scale: float) -> int:
    """Return what is kept free at the top where the farm is shown whole, so that no name lies under a plate there.

    A narrow window has the key there, too; in a large one the usual margin is enough.
    """
    if room.name == "narrow":
        return round(TOP_ROOM * max(text_scale, 1.0))
    return TOP_ROOM if room.name == "small" else 0


def card_has_room(stage: Stage) -> bool:
    """Whether a card may lie on the map, and not where the next corner is to be set, or the paddock.

    Where there is little room the card of a group is left out while its next paddock is placed: the tray has it. In a
    narrow window what stands in the column's place takes so much that a card would leave nothing of the map.
    """
    if stage.room.name == "narrow" and stage.verb in IN_COLUMN:
        return False
    if stage.verb == "place":
        group = stage.picked is not None and stage.picked.table == "groups"
        return not (stage.room.name == "small" and group)
    return stage.verb not in WHOLE_MAP


def lay_card(card: QWidget, map_size: QSize, room: Room, text_scale: float) -> None:
    """Lay the card at the right, or as a sheet from below in a narrow window."""
    if room.name == "narrow":
        wide = map_size.width() + 2 * SHADOW
        most = max(map_size.height() * 11 // 20, min(map_size.height() * 3 // 4, round(LOW_SHEET * text_scale)))
        high = _within(card, wide, most + 2 * SHADOW)  # its lower shadow hangs over the map's edge
        card.setGeometry(QRect(-SHADOW, map_size.height() - high + 2 * SHADOW, wide, high))
        return
    wide = min(round(CARD_WIDE[room.name] * text_scale) + 2 * SHADOW, map_size.width() - 2 * MARGIN)
    high = _within(card, wide, map_size.height() - TOP_ROOM - MARGIN)
    card.setGeometry(QRect(map_size.width() - wide - MARGIN, map_size.height() - high - MARGIN, wide, high))


def _within(card: QWidget, wide: int, most: int) -> int:
    """Return the height of a card: all that it wants, or as much of the most as shows no half of a row."""
    fits = getattr(card, "height_within", None)
    return int(fits(wide, most)) if fits is not None else min(card.heightForWidth(wide), most)


def gutter(text_scale: float) -> int:
    """Return what is kept free at the foot of the map for a message of one line [px]."""
    return round(GUTTER * max(text_scale, 1.0))


def lay_key(key: QWidget, map_size: QSize, room: Room, text_scale: float) -> None:
    """Lay the key at the lower left, above the message's gutter; at the upper left in a narrow window."""
    most = map_size.height() - gutter(text_scale) - 2 * MARGIN
    fit_within = getattr(key, "fit_within", None)
    if fit_within is not None:
        fit_within(most)
    size = key.sizeHint().boundedTo(QSize(map_size.width() - 2 * MARGIN, most))
    y = MARGIN if room.name == "narrow" else most + MARGIN - size.height()
    key.setGeometry(QRect(MARGIN, max(MARGIN, y), size.width(), size.height()))


def lay_start(start: QWidget, map_size: QSize, room: Room) -> None:
    """Lay what starts a farm at the upper left; under the key in a narrow window.

    On a low map it is broader, and takes the key's place.
    """
    most = map_size.width() - 2 * MARGIN
    y, wide = TOP_ROOM if room.name == "narrow" else MARGIN, min(start.sizeHint().width(), most)
    if start.heightForWidth(wide) > map_size.height() - y - GUTTER:
        y, wide = MARGIN, min(round(wide * BROADER), most)
    high = min(start.heightForWidth(wide), map_size.height() - y - GUTTER)
    start.setGeometry(QRect(MARGIN, y, wide, high))
    start.raise_()


def lay_foot(foot: QWidget, column: Box, map_box: Box, room: Room) -> Box:
    """Lay the foot under the column, or in the map's corner in a narrow window; return what is left of the column."""
    wanted = foot.sizeHint()
    least = 0 if room.name == "narrow" else wanted.height()
    shown = wanted.height() > 0 and column.high > least
    foot.setVisible(shown)
    if not shown:
        return column
    if room.name == "narrow":
        right, below = map_box.x + map_box.wide, map_box.y + map_box.high
        foot.setGeometry(right - wanted.width(), below - wanted.height() - GUTTER, wanted.width(), wanted.height())
        foot.raise_()
        return column
    left = column.high - wanted.height()
    foot.setGeometry(column.x, column.y + left, column.wide, wanted.height())
    return column._replace(high=left)


TOOL_PLATE = "tool_plate"
"""Property of the plate that a tool has at the upper left of the map."""


def tool_plates(over: QWidget) -> list[QWidget]:
    """Return the plates of tools that lie over the map: key and message keep off them."""
    plates = over.findChildren(QWidget, options=Qt.FindChildOption.FindDirectChildrenOnly)
    return [each for each in plates if each.property(TOOL_PLATE) and each.isVisible()]


def lay_message(
    message: QWidget,
    map_size: QSize,
    card: QWidget | None,
    key: QWidget | None,
    room: Room,
    tools: Sequence[QWidget] = (),
) -> None:
    """Dock the message at the lower left of the map; on the sheet's upper edge in a narrow window.

    One of several lines takes more than the gutter: the key makes room upwards, or has it beside itself; where there
    is no room for both, the key comes back once the message is gone. The plate of a tool has it beside itself.
    """
    foot, most = map_size.height(), map_size.width()
    if card is not None and not card.isHidden():
        if room.name == "narrow":
            foot = card.y() + SHADOW
        else:
            most = card.x() - MARGIN
    message.setGeometry(_docked(message, 0, foot, most))
    for each in tools:
        beside = _bare(each).right() + MARGIN
        if message.geometry().intersects(_bare(each)) and most - beside >= LEAST_MESSAGE:
            message.setGeometry(_docked(message, beside, foot, most - beside))
    message.raise_()
    if key is None or key.isHidden() or message.isHidden() or not message.geometry().intersects(_bare(key)):
        return
    lifted = message.y() - MARGIN - key.height() + SHADOW
    beside = _bare(key).right() + MARGIN
    if room.name != "narrow" and lifted >= MARGIN:
        key.move(key.x(), lifted)
    elif most - beside >= LEAST_MESSAGE:
        message.setGeometry(_docked(message, beside, foot, most - beside))
    else:
        key.hide()


def _docked(message: QWidget, x: int, foot: int, most: int) -> QRect:
    wide = min(message.sizeHint().width(), most)
    high = max(GUTTER, message.heightForWidth(wide))
    return QRect(x, foot - high, wide, high)


def _bare(panel: QWidget) -> QRect:
    """Return where a panel lies without its shadow."""
    return panel.geometry().adjusted(SHADOW, SHADOW, -SHADOW, -SHADOW)


def come(coming: Coming, card: QWidget | None, key: QWidget | None, message: QWidget | None, room: Room) -> None:
    """Let card, key and message, laid out just now, come from the edge at which they lie."""
    narrow = room.name == "narrow"
    if card is not None:
        coming.laid(card, QPoint(0, SLIDE_PX) if narrow else QPoint(SLIDE_PX, 0), PANEL_MS)
    if key is not None:
        opened = bool(getattr(key, "is_open", False))
        coming.laid(key, QPoint(0, -SLIDE_PX if narrow else SLIDE_PX), PANEL_MS, opened=opened)
    if message is not None:
        coming.laid(message, QPoint(0, SLIDE_PX), MESSAGE_IN_MS)


def come_into_column(coming: Coming, panels: Iterable[QWidget]) -> None:
    """Let what a verb brings into the column's place, laid out just now, come from the left."""
    for panel in panels:
        coming.laid(panel, QPoint(-SLIDE_PX, 0), PANEL_MS)
