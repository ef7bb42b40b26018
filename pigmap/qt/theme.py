"""The look of the window's controls: fonts by use, a style sheet and a palette from the colour tokens."""

from __future__ import annotations

from functools import cache
from typing import Literal, NamedTuple

from PySide6.QtGui import QColor, QFont, QPalette

from pigmap.drawing.tokens import THEMES, Theme
from pigmap.qt import fonts
from pigmap.qt.stage import Stage

Role = Literal["title", "heading", "figure", "strong", "body", "second", "tick"]


class Type(NamedTuple):
    """Size at text size 100 % and weight of a use of the font."""

    px: float
    weight: int


TYPES: dict[Role, Type] = {
    "title": Type(20, 700),
    "heading": Type(16, 700),
    "figure": Type(16, 600),
    "strong": Type(14, 600),
    "body": Type(14, 400),
    "second": Type(13, 400),
    "tick": Type(12, 500),
}

RADIUS_PANEL = 8.0
RADIUS_BUTTON = 6.0
RADIUS_BAR = 4.0


def font(role: Role, stage: Stage, *, weight: int = 0) -> QFont:
    """Return the font of a use, in the window's text size; figures have one width."""
    px, usual = TYPES[role]
    return _made(px * stage.text_scale, max(weight or usual, THEMES[stage.theme].body_weight))


@cache
def _made(pixels: float, weight: int) -> QFont:
    return fonts.font(pixels, weight, tabular=True)


def tokens(stage: Stage) -> Theme:
    """Return the colours of the theme that is shown."""
    return THEMES[stage.theme]


def palette(theme: Theme) -> QPalette:
    """Return the colours for what no style sheet reaches."""
    made = QPalette()
    roles = {
        QPalette.ColorRole.Window: theme.paper,
        QPalette.ColorRole.Base: theme.plate,
        QPalette.ColorRole.AlternateBase: theme.well,
        QPalette.ColorRole.Button: theme.well,
        QPalette.ColorRole.WindowText: theme.ink,
        QPalette.ColorRole.Text: theme.ink,
        QPalette.ColorRole.ButtonText: theme.ink,
        QPalette.ColorRole.PlaceholderText: theme.ink2,
        QPalette.ColorRole.Highlight: theme.ink,
        QPalette.ColorRole.HighlightedText: theme.paper,
        QPalette.ColorRole.ToolTipBase: theme.plate,
        QPalette.ColorRole.ToolTipText: theme.ink,
        QPalette.ColorRole.Link: theme.plan,
    }
    for role, colour in roles.items():
        made.setColor(role, QColor(colour))
    return made


_SHEET = """
* {{ color: {ink}; }}
#window, #verbs, #column {{ background: {paper}; }}
QScrollArea, QScrollArea > QWidget > QWidget {{ background: transparent; border: none; }}
QToolTip {{ background: {plate}; color: {ink}; border: 1px solid {edge}; padding: 4px 8px; }}
QLineEdit {{ background: {plate}; border: 1px solid {edge}; border-radius: 6px; padding: 6px 10px;
    selection-background-color: {ink}; selection-color: {paper}; }}
QLineEdit:focus {{ border: 2px solid {plan}; }}
QComboBox {{ background: {plate}; border: 1px solid {edge}; border-radius: 6px; padding: 8px 12px; }}
QComboBox::drop-down {{ border: none; width: 30px; }}
QComboBox:focus {{ border: 2px solid {plan}; }}
QComboBox QAbstractItemView {{ background: {plate}; border: 1px solid {edge}; selection-background-color: {ink};
    selection-color: {paper}; }}
QListView {{ background: {plate}; border: 1px solid {line}; border-radius: 6px; padding: 4px; outline: none; }}
QListView:focus {{ border: 2px solid {plan}; }}
QListView::item {{ padding: 6px 8px; }}
QListView::item:selected {{ background: {ink}; color: {paper}; border-radius: 4px; }}
QMenu {{ background: {plate}; border: 1px solid {edge}; padding: 6px; }}
QMenu::item {{ padding: 9px 28px 9px 30px; border-radius: 4px; }}
QMenu::item:selected {{ background: {ink}; color: {paper}; }}
QMenu::separator {{ height: 1px; background: {line}; margin: 6px 8px; }}
QScrollBar:vertical {{ background: transparent; width: 10px; margin: 0; }}
QScrollBar::handle:vertical {{ background: {edge}; border-radius: 3px; min-height: 28px; margin: 2px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ height: 0; width: 0; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
"""


def style_sheet(theme: Theme) -> str:
    """Return the style sheet of the window in a theme."""
    colours = {name: getattr(theme, name) for name in ("paper", "plate", "well", "line", "edge", "ink", "ink2", "plan")}
    return _SHEET.format(**colours)
