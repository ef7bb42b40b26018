"""Take back Python's own import from Qt's bindings."""

from __future__ import annotations

import builtins


def take_back_import() -> None:
    """Load Qt's bindings and undo their change to ``import``.

    They look through the source of every module that is loaded after them for a way to write Qt's names which this
    program does not use, and keep all of it in memory: a seventh of the time to the first frame.
    """
    import PySide6.QtCore  # noqa: F401

    own = getattr(builtins, "__orig_import__", None)
    if own is not None:
        builtins.__import__ = own
