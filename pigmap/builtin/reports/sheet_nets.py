"""The next move on a sheet: which nets to set, to leave and to take up."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import pairwise

from pigmap.builtin.reports.sheet_corners import Corner, letter_at
from pigmap.drawing.on_day import Shown
from pigmap.fence.behind import stays_because
from pigmap.fence.of_move import KindGround, MoveNets, Nets, nets_of_move
from pigmap.geometry.runs import Run
from pigmap.planning.moves_of_day import move_into
from pigmap.records import AS_PLANNED, Farm, NetKind
from pigmap.records.frozen import dataclass
from pigmap.text import Quantity, Text, Value


@dataclass(frozen=True, slots=True)
class NetLine:
    """One line of the list: the deed, how many nets of which kind, and where."""

    deed: Text
    nets: Text
    where: Text


def net_lines(
    farm: Farm, coming: Shown, standing: Sequence[Shown], corners: Sequence[Corner], today: date = AS_PLANNED
) -> tuple[NetLine, ...]:
    """Return the nets of a move into a paddock.

    Parameters
    ----------
    farm
        The farm, for its net kinds.
    coming
        The paddock to be set.
    standing
        All paddocks that stand; the one of the same group is taken down afterwards.
    corners
        The lettered corners of the sheet.
    today
        The day up to which only what is recorded counts.
    """
    nets = _nets_of(farm, coming, standing, today)
    both = _both_use(nets.sides.shared, corners)
    set_where = _where(nets.sides.open, corners)
    return (
        *(NetLine(Text("set"), net_words(each), set_where) for each in nets.to_set),
        *(NetLine(Text("leave"), net_words(each), both) for each in nets.to_leave),
        *(NetLine(Text("stays"), net_words(each.nets), stays_because(farm, each)) for each in nets.stays),
        *(NetLine(Text("take up"), net_words(each), Text("then the spare set")) for each in nets.to_take_up),
    )


def _nets_of(farm: Farm, coming: Shown, standing: Sequence[Shown], today: date) -> MoveNets:
    """Return the nets as the cards of that day's moves tell them; where it is no move, by what stands."""
    move = move_into(farm, coming.stay.uid, today) if coming.stay is not None else None
    if move is not None:
        return move.nets
    old = next((each for each in standing if each.group is not None and each.group == coming.group), None)
    others = [_ground(farm, each) for each in standing if each is not old]
    day = coming.stay.in_on if coming.stay is not None else None
    return nets_of_move(farm, _ground(farm, coming), None if old is None else _ground(farm, old), others, day)


def _ground(farm: Farm, shown: Shown) -> KindGround:
    kind = farm.net_kinds.get(shown.paddock.net_kind_uid or "") if shown.paddock else None
    group = shown.group.uid if shown.group is not None else ""
    return KindGround(shown.outline, kind, shown.paddock.uid if shown.paddock else "", group)


def net_words(nets: Nets) -> Text:
    """Return nets in words: how many, how long, which tape."""
    if nets.kind is None:
        return Text("{length} of net", {"length": Quantity(nets.length_m, "m")})
    values: dict[str, Value] = {"count": str(nets.count), "kind": kind_words(nets.kind)}
    return Text("{count} \N{MULTIPLICATION SIGN} {kind}", values)


def kind_words(kind: NetKind) -> Text:
    """Return a kind of net as a crew calls it: length and colour of the tape."""
    length = Quantity(kind.length_m, "m", 0 if abs(kind.length_m - round(kind.length_m)) < 0.05 else 1)
    if kind.tape:
        return Text("{length}, {tape} tape", {"length": length, "tape": kind.tape})
    return Text("{length}", {"length": length})


def _where(runs: Sequence[Run], corners: Sequence[Corner]) -> Text:
    """Return the corners that runs pass, side by side."""
    sides = [side for run in runs for side in _sides(run, corners)]
    text = Text("")
    for side in sides[:4]:
        text = Text("{before}, {side}", {"before": text, "side": side}) if text else side
    return text


def _sides(run: Run, corners: Sequence[Corner]) -> list[Text]:
    letters = [letter_at(float(x), float(y), corners) for x, y in run.line.tolist()]
    passed = [letter for letter in letters if letter]
    return [Text("{first} to {last}", {"first": first, "last": last}) for first, last in pairwise(passed)]


def _both_use(runs: Sequence[Run], corners: Sequence[Corner]) -> Text:
    sides = _where(runs, corners)
    return Text("{sides}, side both use", {"sides": sides}) if sides else Text("side both use")
