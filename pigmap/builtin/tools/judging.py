"""Judges places for the placing tool: keeps what is the same from one place to the next."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date, timedelta

from pigmap.builtin.tools.ghost import Ghost
from pigmap.builtin.tools.typed import typed_corner
from pigmap.errors import UsageError
from pigmap.geometry.free_outline import Placed
from pigmap.geometry.rectangle import Rectangle
from pigmap.geometry.steep import SlopeCells
from pigmap.ground import FieldGround, GroundState
from pigmap.qt.following import sentence
from pigmap.qt.stage import Stage
from pigmap.records import Farm, StayState
from pigmap.records.change import remove
from pigmap.session.placing import Judgement, PlacingGround, judge


class Judging:
    """Figures of places on one stage's farm."""

    def __init__(self, stage: Stage) -> None:
        self._stage = stage
        self._ground: PlacingGround | None = None
        self._for: tuple[Farm, date, str] | None = None
        self._states: _States | None = None
        self._known: dict[tuple[Placed, Placed | None], Judgement] = {}

    def ghost(self) -> Ghost | None:
        """Return the placing that the stage asks for now; None while the farm has no kind of net."""
        stage = self._stage
        farm, choice = stage.session.farm, stage.placing.choice
        kind = stage.placing.kind(farm)
        if kind is None:
            return None
        day = choice.in_on or stage.day
        wanted = (farm, day, f"{choice.group_uid} {stage.today} {choice.reshape_uid}")
        if self._ground is None or self._for is None or wanted[0] is not self._for[0] or wanted[1:] != self._for[1:]:
            bare, out_on = _without(farm, choice.reshape_uid)
            group = choice.group_uid or None
            self._ground = PlacingGround(bare, day, group, out_on=out_on, fences=True, today=stage.today)
            self._for = wanted
            self._ground.slopes = _Slopes(stage)
        # the pigs that are planned there take the rest of the ground on their first day
        self._states = _States(stage, day - timedelta(days=1) if choice.reshape_uid else day)
        self._known.clear()
        return Ghost(self._ground, kind, choice)

    def judge(self, ghost: Ghost, row: Sequence[Placed]) -> tuple[Judgement, ...]:
        """Return the figures of each paddock of a row; the one before it stands when it is set."""
        return tuple(self._one(ghost, each, before) for each, before in _pairs(row))

    def _one(self, ghost: Ghost, placed: Placed, before: Placed | None) -> Judgement:
        known = self._known.get((placed, before))
        if known is None:
            known = judge(
                ghost.ground.farm,
                self._states or {},
                placed,
                ghost.kind,
                ghost.ground.day,
                group_uid=ghost.ground.group_uid,
                ground=ghost.ground,
                also_standing=() if before is None else (before,),
                told=ghost.told if isinstance(placed, Rectangle) else (),
            )
            if len(self._known) > 200:
                self._known.clear()
            self._known[placed, before] = known
        return known

    def known(self, row: Sequence[Placed]) -> tuple[Judgement, ...]:
        """Return the figures of a row if all of them were found already, else nothing."""
        found = [self._known.get(pair) for pair in _pairs(row)]
        return tuple(one for one in found if one is not None) if all(found) else ()

    def typed(self, words: str, last: tuple[float, float] | None) -> tuple[float, float] | None:
        """Return the place that was typed [grid m]; None, with a word about it, where it says none."""
        stage = self._stage
        farm = stage.session.farm
        try:
            return typed_corner(words, last, ground_per_grid=farm.projection.ground_per_grid, feet=stage.units == "us")
        except UsageError as error:
            stage.notice(sentence(error), "refused")
            return None


def _without(farm: Farm, paddock_uid: str) -> tuple[Farm, date | None]:
    """Return a farm without a paddock whose corners are moved and what is planned on it, and when that ends."""
    paddock = farm.paddocks.get(paddock_uid)
    if paddock is None:
        return farm, None
    on_it = (stay for stay in farm.stays.values() if stay.paddock_uid == paddock_uid)
    planned = sorted((stay for stay in on_it if stay.state is StayState.PLANNED), key=lambda stay: stay.in_on)
    bare = farm.after([*(remove(stay) for stay in planned), remove(paddock)])
    return bare, planned[0].out_on if planned else None


def _pairs(row: Sequence[Placed]) -> list[tuple[Placed, Placed | None]]:
    """Return each paddock of a row with the one before it."""
    return [(each, row[number - 1] if number else None) for number, each in enumerate(row)]


class _Slopes(Mapping[str, SlopeCells]):
    """The slopes of each field, read by a thread when they are first asked for; not there until it is done."""

    def __init__(self, stage: Stage) -> None:
        self._stage = stage

    def __getitem__(self, uid: str) -> SlopeCells:
        session = self._stage.session
        state = session.ground.state(uid, self._stage.day, self._stage.today) if session.farm.terrains else None
        slopes = session.seen.slopes.of(uid, state.ground.frame) if state is not None else None
        if state is None or slopes is None:
            raise KeyError(uid)
        return SlopeCells(state.ground.frame, slopes)

    def __iter__(self) -> Iterator[str]:
        return iter(self._stage.session.farm.fields)

    def __len__(self) -> int:
        return len(self._stage.session.farm.fields)


class _States(Mapping[str, GroundState]):
    """The ground of each field on the day of placing, looked up when it is asked for.

    The keeper's own cursors stay on the day that is shown.
    """

    def __init__(self, stage: Stage, day: date) -> None:
        self._stage = stage
        self._day = day
        self._made: dict[str, tuple[FieldGround, GroundState]] = {}

    def __getitem__(self, uid: str) -> GroundState:
        shown = self._stage.session.ground.state(uid, self._stage.day, self._stage.today)
        if shown is None:
            raise KeyError(uid)
        if shown.day == self._day:
            return shown
        made = self._made.get(uid)
        if made is None or made[0] is not shown.ground:
            made = self._made[uid] = (shown.ground, shown.ground.on(self._day))
        return made[1]

    def __iter__(self) -> Iterator[str]:
        return iter(self._stage.session.farm.fields)

    def __len__(self) -> int:
        return len(self._stage.session.farm.fields)
