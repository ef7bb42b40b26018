"""How steep the fields are that pigs are on, or are to be on, as far as terrain images tell it by now."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from pigmap.geometry.cells import frame_over
from pigmap.geometry.steep import SlopeCells
from pigmap.records import Farm, Field, StayState
from pigmap.session.session import Session


def known_slopes(session: Session) -> Mapping[str, SlopeCells]:
    """Return the slopes of each field in use by its uid; with a window those that are still read come later."""
    found = {}
    for field in _in_use(session.farm) if session.farm.terrains else ():
        frame = frame_over(field)
        slopes = session.seen.slopes.of(field.uid, frame)
        if slopes is not None:
            found[field.uid] = SlopeCells(frame, slopes)
    return found


def _in_use(farm: Farm) -> Iterator[Field]:
    grounds = [each.ground for each in farm.stays.values() if each.state is not StayState.PAST]
    return (field for field in farm.fields.values() if any(field.outline.intersects(ground) for ground in grounds))
