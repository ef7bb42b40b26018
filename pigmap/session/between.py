"""Undo and redo stop where another program came in between: they would take another edit than the button named."""

from __future__ import annotations

from typing import Literal, Protocol

from pigmap.errors import EditError
from pigmap.store import Reach, Step
from pigmap.text import Text

Again = Literal["undo", "redo"]


class CameBetweenError(EditError):
    """Another program came in between; asked once more, it is done with what is named now."""


class _Piles(Protocol):
    @property
    def done(self) -> list[Step]: ...
    def came_between(self, seen: Reach, meant: Step | None, step: Step | None) -> Step | None: ...


def refuse_between(piles: _Piles, seen: Reach, step: Step | None, *, again: Again) -> None:
    """Refuse to take another step than the one a person saw.

    Parameters
    ----------
    piles
        What can be undone and done again now.
    seen
        What could be when the person asked.
    step
        What would be taken now; None where there is nothing.
    again
        What the person asked for.

    Raises
    ------
    CameBetweenError
        If another program came in between; it names what that did, and what asking once more would do.
    """
    stranger = piles.came_between(seen, seen.undo if again == "undo" else seen.redo, step)
    if stranger is None:
        return
    did = (
        "Another program came in between: it did “{what}”."
        if stranger in piles.done
        else "Another program came in between: it took back “{what}”."
    )
    raise CameBetweenError(Text(did, {"what": stranger.label}), remedy=_remedy(step, again))


def _remedy(step: Step | None, again: Again) -> Text:
    if step is None:
        return Text("There is nothing left to undo." if again == "undo" else "There is nothing left to do again.")
    words = "Undo once more takes back “{step}”." if again == "undo" else "Redo once more does “{step}” again."
    return Text(words, {"step": step.label})
