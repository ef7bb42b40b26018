"""The kinds of parts that can be contributed, each an entry-point group."""

from __future__ import annotations

from typing import NamedTuple

API = 1
"""Version of the contracts promised to strangers; a part states the one it was made for as ``api = 1``."""


class Kind(NamedTuple):
    """One entry-point group and what its parts are."""

    group: str
    promised: bool
    """Whether the contract is promised to strangers; the others are ours and may change."""
    what: str


KINDS: dict[str, Kind] = {
    kind.group.removeprefix("pigmap."): kind
    for kind in (
        Kind("pigmap.commands", True, "a command of the command line: `pigmap.cli.command.Command`"),
        Kind("pigmap.tints", True, "a way to colour the ground: `pigmap.drawing.tint.Tint`"),
        Kind("pigmap.formats", True, "a file format that outlines come in from: `pigmap.document.incoming.Format`"),
        Kind("pigmap.planners", True, "who moves where and when"),
        Kind("pigmap.rules", True, "what records and plans must keep: `pigmap.planning.rule.Rule`"),
        Kind("pigmap.tools", False, "a gesture on the map: `pigmap.qt.tool.Tool`"),
        Kind("pigmap.panels", False, "a part of the window: `pigmap.qt.panel.Panel`"),
        Kind("pigmap.reports", False, "a page as data: `pigmap.drawing.page.Report`"),
        Kind("pigmap.outputs", False, "a page in, a file out: `pigmap.drawing.output.Output`"),
        Kind("pigmap.faces", False, "the window and its picture"),
    )
}
