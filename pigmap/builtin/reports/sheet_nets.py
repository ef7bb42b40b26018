"""The next move on a sheet: which nets to set, to leave and to take up."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

from shapely import Polygon

from pigmap.builtin.reports.sheet_corners import Corner, letter_at
from pigmap.drawing.on_day import Shown
from pigmap.fence.count import nets_for
from pigmap.fence.extents import Fenced, StandingNet, nets_round, shared_nets
from pigmap.geometry.runs import Run, closing
from pigmap.records import Farm, NetKind
from pigmap.records.frozen import dataclass
from pigmap.text import Quantity, Text, Value


@dataclass(frozen=True, slots=True)
class NetLine:
    """One line of the list: the deed, how many nets of which kind, and where."""

    deed: Text
    nets: Text
    where: Text


def net_lines(farm: Farm, coming: Shown, standing: Sequence[Shown], corners: Sequence[Corner]) -> tuple[NetLine, ...]:
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
    """
    kind = _kind(farm, coming)
    old = next((each for each in standing if each.group is not None and each.group == coming.group), None)
    sides = closing(coming.outline, [each.outline for each in standing], farm.projection.ground_per_grid)
    lines = [NetLine(Text("set"), _nets(sides.open, kind), _where(sides.open, corners))]
    others = [each for each in standing if each is not old]
    nets = _standing_nets(farm, coming, others if old is None else [old, *others])
    if sides.shared:
        left = _of_kinds(shared_nets(coming.outline, nets)) or [_nets(sides.shared, kind)]
        lines += [NetLine(Text("leave"), words, _both_use(sides.shared, corners)) for words in left]
    if old is not None:
        kept = [coming.outline, *(each.outline for each in others)]
        taken = closing(old.outline, kept, farm.projection.ground_per_grid).open
        up = _of_kinds(_free(old, kept, nets)) if nets else [_nets(taken, _kind(farm, old))]
        lines += [NetLine(Text("take up"), words, Text("then the spare set")) for words in up]
    return tuple(lines)


def _standing_nets(farm: Farm, coming: Shown, standing: Sequence[Shown]) -> tuple[StandingNet, ...]:
    """Return where each net stands when a paddock is set; nothing where it is not known of which kind one is."""
    kinds = [_kind(farm, each) for each in standing]
    fenced = [
        Fenced(each.outline, kind, each.paddock.uid)
        for each, kind in zip(standing, kinds, strict=True)
        if kind is not None and each.paddock is not None
    ]
    known = coming.stay is not None and len(fenced) == len(standing)
    return nets_round(farm, fenced, coming.stay.in_on) if known and coming.stay is not None else ()


def _free(old: Shown, kept: Sequence[Polygon], nets: Sequence[StandingNet]) -> list[StandingNet]:
    """Return the nets round a paddock that no other ground uses: one that is used in part stays as a whole."""
    used = {id(net) for outline in kept for net in shared_nets(outline, nets)}
    return [net for net in shared_nets(old.outline, nets) if id(net) not in used]


def _of_kinds(nets: Sequence[StandingNet]) -> list[Text]:
    """Return how many nets there are of each kind, in words."""
    counts = Counter(net.kind.uid for net in nets)
    kinds = {net.kind.uid: net.kind for net in nets}
    return [_counted(count, kinds[uid]) for uid, count in counts.items()]


def _kind(farm: Farm, shown: Shown) -> NetKind | None:
    return farm.net_kinds.get(shown.paddock.net_kind_uid or "") if shown.paddock else None


def _nets(runs: Sequence[Run], kind: NetKind | None) -> Text:
    if kind is None:
        return Text("{length} of net", {"length": Quantity(sum(run.length_m for run in runs), "m")})
    return _counted(nets_for(runs, kind), kind)


def _counted(count: int, kind: NetKind) -> Text:
    values: dict[str, Value] = {"count": str(count), "kind": kind_words(kind)}
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
