"""What can be done with a stay from its card: other days, another order, another outline, and that it happened."""

from __future__ import annotations

from datetime import timedelta

from pigmap.builtin.panels.card_facts import CardDeed
from pigmap.builtin.panels.season_drag import change_end, least_out
from pigmap.document.edits import begin_stay, end_stay, swap_stays, swapped_words
from pigmap.qt.following import tell
from pigmap.qt.stage import Stage
from pigmap.qt.whereabouts import book_of, short_name
from pigmap.records import Farm, Stay, StayState


def plan_deeds(stage: Stage, stay: Stay | None) -> tuple[CardDeed, ...]:
    """Return what can be done with a planned stay besides its days: split its ground, move its corners, swap it."""
    if stay is None or stay.state is not StayState.PLANNED:
        return ()
    farm = stage.session.farm
    deeds = [
        CardDeed("split", stage.say("Split in two")),
        CardDeed("corners", stage.say("Its corners"), stage.say("Its corners: drag them")),
    ]
    other = _other_of(farm, stay)
    if other is not None:
        paddock = farm.paddocks.get(other.paddock_uid)
        field = book_of(farm, stage.today).field_of(paddock) if paddock is not None else None
        name = paddock.name if paddock is not None else ""
        words = stage.say("Swap with {name}", name=short_name(name, field))
        deeds.append(CardDeed("swap", words, stage.say("Swap the order with {name}", name=name)))
    return tuple(deeds)


def do_stay_deed(stage: Stage, name: str, uid: str) -> None:
    """Do what a button of a card says of a stay."""
    farm = stage.session.farm
    stay = farm.stays.get(uid)
    if stay is None:
        return
    if name in ("day less", "day more") and stay.out_on is not None:
        out_on = stay.out_on + timedelta(days=1 if name == "day more" else -1)
        change_end(stage, stay, max(out_on, least_out(stage, stay)))
    elif name in ("began", "left"):
        edit = begin_stay(uid, stage.today) if name == "began" else end_stay(uid, stage.today)
        tell(stage, stage.session.do(edit), edit.label)
    elif name == "corners":
        _drag_corners(stage, stay)
    elif name == "swap" and (other := _other_of(farm, stay)) is not None:
        tell(stage, stage.session.do(swap_stays(uid, other.uid)), swapped_words(farm, uid, other.uid))


def _drag_corners(stage: Stage, stay: Stay) -> None:
    """Have the corners of a planned paddock dragged where paddocks are placed, for the days that are planned."""
    paddock = stage.session.farm.paddocks.get(stay.paddock_uid)
    if paddock is None:
        return
    stage.take_up("place")
    kind = {"kind_uid": paddock.net_kind_uid} if paddock.net_kind_uid in stage.session.farm.net_kinds else {}
    stage.placing.choose(group_uid=stay.group_uid, in_on=stay.in_on, reshape_uid=paddock.uid, **kind)


def _other_of(farm: Farm, stay: Stay) -> Stay | None:
    """Return the planned stay of the group to swap with: the next one, else the one before."""
    planned = sorted(
        (each for each in farm.stays.values() if each.group_uid == stay.group_uid and each.state is StayState.PLANNED),
        key=lambda each: (each.in_on, each.uid),
    )
    others = [each for each in planned if each.paddock_uid != stay.paddock_uid]
    after = [each for each in others if each.in_on > stay.in_on]
    return after[0] if after else (others[-1] if others else None)
