"""The next move on a sheet: which nets to set, to leave and to take up."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from pigmap.builtin.reports.sheet_corners import Corner, letter_at
from pigmap.drawing.on_day import Shown
from pigmap.fence.count import nets_for
from pigmap.geometry.runs import Run, closing
from pigmap.records import Farm, NetKind
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
    if sides.shared:
        lines.append(NetLine(Text("leave"), _nets(sides.shared, kind), _both_use(sides.shared, corners)))
    if old is not None:
        kept = [coming.outline, *(each.outline for each in standing if each is not old)]
        taken = closing(old.outline, kept, farm.projection.ground_per_grid).open
        lines.append(NetLine(Text("take up"), _nets(taken, _kind(farm, old)), Text("then the spare set")))
    return tuple(lines)


def _kind(farm: Farm, shown: Shown) -> NetKind | None:
    return farm.net_kinds.get(shown.paddock.net_kind_uid or "") if shown.paddock else None


def _nets(runs: Sequence[Run], kind: NetKind | None) -> Text:
    if kind is None:
        return Text("{length} of net", {"length": Quantity(sum(run.length_m for run in runs), "m")})
    values: dict[str, Value] = {"count": str(nets_for(runs, kind)), "kind": kind_words(kind)}
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
