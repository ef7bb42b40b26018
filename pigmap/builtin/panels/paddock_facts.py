"""The card of a paddock, or of one stay on it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import date

from pigmap.animals.weight import live_weight
from pigmap.builtin.panels.card_facts import CardDeed, CardFacts, Fact
from pigmap.builtin.panels.card_parts import corners_of, own_deeds
from pigmap.builtin.panels.fence_facts import check_facts, last_check, reckoned, volts_facts, volts_warnings, why_read
from pigmap.builtin.panels.ground_facts import ground_facts
from pigmap.builtin.panels.group_words import pigs_words
from pigmap.builtin.panels.plan_breaches import cannot_wait, said_of
from pigmap.builtin.panels.stay_deeds import plan_deeds
from pigmap.document.edits import nets_are_guessed
from pigmap.drawing.on_day import letter_of
from pigmap.drawing.words import day_words
from pigmap.fence.told import ToldFence, length_mm, told_sides
from pigmap.fence.walked import nets_words
from pigmap.geometry.sides import stands_along
from pigmap.planning.accepted import all_the_same
from pigmap.planning.rule import Breach
from pigmap.qt.nets import Carried, carried
from pigmap.qt.pigs_why import over_words
from pigmap.qt.stage import Stage
from pigmap.qt.whereabouts import Book, book_of
from pigmap.qt.why import Why, joined, why
from pigmap.records import Farm, NetKind, Paddock, Stay, StayState, lasting_on
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import COMMON_PRACTICE, OUR_GUESS, OWN_RECORDS


def paddock_card(stage: Stage, paddock: Paddock, stay: Stay | None = None) -> CardFacts:
    """Return the card of a paddock with one of its stays: the named one, else the one that matters on the day."""
    from pigmap.builtin.panels.roundworm_facts import roundworm_fact  # takes no time at the start

    farm = stage.session.farm
    book = book_of(farm, stage.today)
    stay = stay or _stay_that_matters(stage, paddock)
    group = farm.groups.get(stay.group_uid) if stay else None
    check = last_check(stage, stay)
    volts = reckoned(stage, book, paddock, stay)
    cause = why_read(stage, volts, stay, check)
    said = said_of(stage, paddock.uid, stay.uid if stay else "")
    urgent = [words for words, breach in said.items() if cannot_wait(breach)][:1]
    return CardFacts(
        title=paddock.name,
        second=_status(stage, stay, group.name if group else ""),
        planned=stay is not None and stay.state is StayState.PLANNED,
        sign=(group.colour_index, letter_of(group, farm)) if group else None,
        icon="" if group else "paddock",
        facts=(
            *_net_facts(stage, book, paddock, stay),
            _area_fact(stage, paddock),
            *_stay_facts(stage, stay),
            *check_facts(stage, check, cause),
            *volts_facts(stage, volts),
            *ground_facts(stage, paddock.field_uid, paddock.outline, coming_on=_coming_on(stage, stay)),
            roundworm_fact(stage, paddock.outline, _others_before(stage, stay)),
        ),
        urgent=tuple(urgent),
        warnings=(*volts_warnings(stage, volts, cause), *_warnings(stage, paddock, stay, said, urgent)),
        deeds=_deeds(stage, stay),
        table="paddocks",
        uid=paddock.uid,
        stay_uid=stay.uid if stay else "",
    )


def _stay_that_matters(stage: Stage, paddock: Paddock) -> Stay | None:
    stays = sorted(
        (stay for stay in stage.session.farm.stays.values() if stay.paddock_uid == paddock.uid),
        key=lambda stay: stay.in_on,
    )
    lasting = lasting_on(stage.session.farm, stage.today)
    here = [stay for stay in stays if stay.uid in lasting and lasting[stay.uid].covers(stage.day)]
    later = [stay for stay in stays if stay.uid in lasting and lasting[stay.uid].first > stage.day]
    chosen = here[-1:] or later[:1] or stays[-1:]
    return chosen[0] if chosen else None


def _coming_on(stage: Stage, stay: Stay | None) -> date | None:
    """Return the day a planned group comes, None where it has come by the day that is shown."""
    planned = stay is not None and stay.state is StayState.PLANNED and stay.in_on > stage.day
    return stay.in_on if planned and stay is not None else None


def _others_before(stage: Stage, stay: Stay | None) -> date:
    """Return the day up to which other pigs count as having been there before."""
    covers = stay is not None and stay.in_on <= stage.day and (stay.out_on is None or stage.day < stay.out_on)
    return stay.in_on if covers and stay is not None else stage.day


def _status(stage: Stage, stay: Stay | None, group: str) -> str:
    if stay is None:
        return stage.say("no stay yet")
    first = day_words(stay.in_on, "short", language=stage.language)
    last = day_words(stay.out_on, "short", language=stage.language) if stay.out_on else ""
    if stay.state is StayState.RUNNING:
        return stage.say("{group} since {day}", group=group, day=first)
    if stay.state is StayState.PLANNED:
        return stage.say("planned, {first} to {last}", first=first, last=last)
    return stage.say("{group}, {first} to {last}", group=group, first=first, last=last)


def _own(stage: Stage, words: str, **values: Value) -> Why:
    return why(stage, Text(words, values), OWN_RECORDS)


def _walked_why(stage: Stage, paddock: Paddock) -> Why:
    words = "Its {corners} corners were clicked or walked, and no kind of net was told."
    return _own(stage, words, corners=corners_of(paddock.outline))


def _recorded_why(stage: Stage, paddock: Paddock, recorded: Sequence[tuple[NetKind, int]]) -> Why:
    count = sum(nets for _, nets in recorded)
    words = "{count} written down to stand round {paddock} on {day}, those it shares included: {nets}."
    nets = Text("{nets}", {"nets": nets_words(recorded)})
    if nets_are_guessed(stage.session.farm, paddock.uid):
        guessed = Text(
            "{count} guessed from the length of the sides, those it shares included: {nets}. Set them under Nets that "
            "stand.",
            {"count": count, "nets": nets},
        )
        return why(stage, guessed, OUR_GUESS)
    return _own(stage, words, count=count, paddock=paddock.name, day=stage.day, nets=nets)


def _counted_why(stage: Stage, paddock: Paddock, kind: NetKind, nets: Carried) -> Why:
    """Return what the nets of a paddock rest on: the way round it, the nets' length, and what stands already."""
    farm = stage.session.farm
    return _own(
        stage,
        "{round} all round, nets of {length}. {leave} stand already along its sides; whole nets close the rest: "
        "{carry}.",
        round=Quantity(paddock.outline.exterior.length * farm.projection.ground_per_grid, "m", 0),
        length=Quantity(kind.length_m, "m", 0),
        leave=nets.leave,
        carry=nets.carry,
    )


def _stay_why(stage: Stage, stay: Stay) -> Why:
    """Return what the days of a stay rest on, and what its pigs weigh on that ground."""
    farm = stage.session.farm
    days = _own(stage, "From {first} to {last}, the day they leave.", first=stay.in_on, last=stay.out_on or stay.in_on)
    weight = live_weight(farm, stay.group_uid, stage.day) if stay.group_uid in farm.groups else None
    if weight is None or not weight.pigs:
        return days
    ground_m2 = stay.ground.area * farm.projection.ground_per_grid**2
    over = why(stage, over_words(weight, ground_m2), OWN_RECORDS if weight.weighed else COMMON_PRACTICE)
    return joined(days, over)


def _net_facts(stage: Stage, book: Book, paddock: Paddock, stay: Stay | None) -> tuple[Fact, ...]:
    farm = stage.session.farm
    kind = farm.net_kinds.get(paddock.net_kind_uid or "")
    if kind is None:
        return (Fact(stage.say("Nets"), stage.say("corners as walked"), why=_walked_why(stage, paddock)),)
    parts = (stage.words(Text("{length}", {"length": Quantity(kind.length_m, "m")})), kind.tape and f"{kind.tape} tape")
    beside = ", ".join(part for part in parts if part)
    told = told_sides(farm, paddock)
    if told:
        long, wide = (nets_words([(each.kind, each.nets) for each in side]) for side in told[:2])
        beside = stage.words(Text("{long} by {wide}", {"long": long, "wide": wide}))
    recorded = _recorded(stage, paddock) if stay is not None else ()
    if recorded:
        count = sum(nets for _, nets in recorded)
        figure = stage.words(Text("{count} net stands", plural="{count} nets stand", count=count))
        if len(recorded) > 1:
            beside = stage.words(nets_words(recorded))
        return (Fact(stage.say("Nets"), figure, beside, _recorded_why(stage, paddock, recorded)),)
    before = _before(book, stay) if stay else None
    nets = carried(farm, before, stay, stage.today) if stay else None
    if nets is None:
        return (
            Fact(
                stage.say("Nets"),
                kind.name,
                beside,
                _own(stage, "The kind of net that it was placed with: {kind}.", kind=kind.name),
            ),
        )
    if stay is not None and stay.state is not StayState.PLANNED:
        count = nets.carry + nets.leave
        figure = stage.words(Text("{count} net stood", plural="{count} nets stood", count=count))
        if stay.state is StayState.RUNNING:
            figure = stage.words(Text("{count} net stands", plural="{count} nets stand", count=count))
    elif nets.leave:
        figure = stage.say("carry {carry}, leave {leave}", carry=nets.carry, leave=nets.leave)
    else:
        figure = stage.words(Text("carry {count}", plural="carry {count}", count=nets.carry))
    return (Fact(stage.say("Nets"), figure, beside, _counted_why(stage, paddock, kind, nets)),)


def _recorded(stage: Stage, paddock: Paddock) -> tuple[tuple[NetKind, int], ...]:
    """Return the nets that are written down to stand round a paddock on the shown day, those it shares included."""
    farm = stage.session.farm
    there = [use for use in farm.net_uses.values() if use.stands(stage.day) and use.net_kind_uid in farm.net_kinds]
    own = [use for use in there if use.paddock_uid == paddock.uid]
    shared = [use for use in there if use not in own and stands_along(use.run, paddock.outline)] if own else []
    counted = Counter(use.net_kind_uid for use in (*own, *shared))
    return tuple((farm.net_kinds[uid], nets) for uid, nets in counted.items())


def _before(book: Book, stay: Stay) -> Stay | None:
    return next((move.from_stay for move in book.moves(stay.group_uid) if move.to_stay.uid == stay.uid), None)


def _sides_m(farm: Farm, paddock: Paddock, kind: NetKind | None) -> tuple[float, ...]:
    """Return how long the sides of a rectangle of whole nets are; nothing for others."""
    told = told_sides(farm, paddock)
    if told and ToldFence.of(paddock.outline, told, farm.projection.ground_per_grid) is not None:
        return tuple(length_mm(side) / 1000 for side in told[:2])
    if kind is not None and paddock.nets_long and paddock.nets_wide:
        return paddock.nets_long * kind.length_m, paddock.nets_wide * kind.length_m
    return ()


def _area_fact(stage: Stage, paddock: Paddock) -> Fact:
    farm = stage.session.farm
    area = paddock.outline.area * farm.projection.ground_per_grid**2
    kind = farm.net_kinds.get(paddock.net_kind_uid or "")
    beside = ""
    sides = _sides_m(farm, paddock, kind)
    if sides:
        long, wide = (Quantity(side, "m") for side in sides)
        number = stage.words(Text("{long}", {"long": long})).split(" ")[0]
        beside = stage.words(Text("{long} \u00d7 {wide}", {"long": number, "wide": wide}))
    return Fact(
        stage.say("Area"),
        stage.words(Text("{area}", {"area": Quantity(area, "m²")})),
        beside,
        _area_why(stage, paddock),
    )


def _area_why(stage: Stage, paddock: Paddock) -> Why:
    words = "Measured from its {corners} corners, on the ground."
    return _own(stage, words, corners=corners_of(paddock.outline))


def _stay_facts(stage: Stage, stay: Stay | None) -> tuple[Fact, ...]:
    if stay is None or stay.out_on is None:
        return ()
    days = stage.words(Text("{days}", {"days": Quantity((stay.out_on - stay.in_on).days, "d")}))
    return (Fact(stage.say("Stay"), days, pigs_words(stage, stay.group_uid), _stay_why(stage, stay)),)


def _warnings(
    stage: Stage, paddock: Paddock, stay: Stay | None, said: Mapping[str, Breach], told: Sequence[str]
) -> tuple[str, ...]:
    """Return what is said of a paddock, but for what is told already, and the reason that no breach carries."""
    found = [words for words, breach in said.items() if words not in told and not _is_told_by_volts(breach)]
    why = stay.why_planned if stay is not None else paddock.note
    if why and not any(breach.accepted == why for breach in said.values()):
        found.append(stage.words(all_the_same(why)))
    return tuple(found)


def _is_told_by_volts(breach: Breach) -> bool:
    """Whether a breach is a little reading, of which the card says what it is likely due to."""
    return breach.caution == "W8" and breach.weight == "care"


def _deeds(stage: Stage, stay: Stay | None) -> tuple[CardDeed, ...]:
    if stage.session.read_only:
        return ()
    deeds = []
    if stay is not None and stay.state is not StayState.PAST and stay.out_on is not None:
        deeds += [CardDeed("day less", stage.say("A day less")), CardDeed("day more", stage.say("A day more"))]
        if stay.state is StayState.PLANNED and stay.in_on <= stage.today:
            deeds.append(CardDeed("began", stage.say("They moved today")))
    if stay is not None and stay.state is StayState.RUNNING:
        deeds.append(CardDeed("left", stage.say("They left today")))
        deeds.append(CardDeed("here", stage.say("It stands here"), stage.say("It stands here: put it where it is")))
        deeds += own_deeds(stage, "nets") if stage.session.farm.net_kinds else ()
        deeds += own_deeds(stage, "fed") if stage.session.farm.energizers else ()
    deeds += plan_deeds(stage, stay)
    return (*deeds, CardDeed("rename", stage.say("Rename")), CardDeed("remove", stage.say("Remove")))
