"""The tree of errors that a person can meet, each with what would put it right.

::

    PigmapError
    ├── RecordError     a record that cannot exist (a negative weight, a side of no net)
    ├── EditError       an edit that cannot be done on the farm as it is now
    ├── OutlineError    an outline that is not a piece of ground, or a file of outlines
    ├── RasterError     an image that cannot be shown on the map
    ├── StoreError      the disk or the farm file
    ├── SheetError      a page that cannot be printed as asked
    ├── PlanError       a plan that cannot be made
    ├── DisplayError    a window or picture that this machine cannot draw as it is
    ├── PluginError     a contributed part that does not do what it promised
    └── UsageError      a command called with something it does not know

Anything else that escapes is a fault in the program, and reported as one.
"""

from __future__ import annotations

from pigmap.text import Text, Value


class PigmapError(Exception):
    """Say what went wrong, with what, and what would put it right.

    Parameters
    ----------
    message
        Which thing, and what is wrong with which value; an English pattern with ``{names}``, or a `Text`.
    remedy
        What to do about it; a pattern over the same values, or a `Text`.
    values
        What the names in both patterns stand for.

    Examples
    --------
    >>> str(RecordError("Group {name} has {count} pigs.", remedy="Give it 0 or more.", name="Sows", count=-2))
    'Group Sows has -2 pigs. Give it 0 or more.'
    """

    def __init__(self, message: str | Text, *, remedy: str | Text = "", **values: Value) -> None:
        self.message = message if isinstance(message, Text) else Text(message, values)
        self.remedy = remedy if isinstance(remedy, Text) else Text(remedy, values)
        super().__init__(self.message, self.remedy)

    def __str__(self) -> str:
        return f"{self.message} {self.remedy}".rstrip()

    def __reduce__(self) -> tuple[object, ...]:
        return _again, (type(self), self.message, self.remedy)


def _again(kind: type[PigmapError], message: Text, remedy: Text) -> PigmapError:
    return kind(message, remedy=remedy)


class RecordError(PigmapError, ValueError):
    """A record that cannot exist."""


class EditError(PigmapError):
    """An edit that cannot be done on the farm as it is now."""


class OutlineError(PigmapError, ValueError):
    """An outline that is not a piece of ground, or a file of outlines that cannot be read."""


class RasterError(PigmapError):
    """An image that cannot be shown on the map."""


class StoreError(PigmapError, OSError):
    """The disk's or the farm file's fault."""


class SheetError(PigmapError):
    """A page that cannot be printed as asked."""


class PlanError(PigmapError):
    """A plan that cannot be made."""


class DisplayError(PigmapError):
    """A window or picture that this machine cannot draw as it is set up."""


class PluginError(PigmapError):
    """A contributed part that does not do what it promised."""


class UsageError(PigmapError):
    """A command called with something it does not know."""
