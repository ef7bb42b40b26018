"""How long a paddock lasts, as a keeper says it."""

from __future__ import annotations

from typing import NamedTuple

from pigmap.animals import sources
from pigmap.animals.manure import SOURCE_WORDS
from pigmap.ground.lasts import HowLong, Limit, Until
from pigmap.records.keepers_days import USUAL_DAYS, KeepersDays
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import COMMON_PRACTICE, OUR_FIT, OWN_RECORDS, OWN_WORD


class Said(NamedTuple):
    """One figure in words, and where it comes from."""

    words: Text
    sources: tuple[Text, ...]


def days_of(days: float) -> Quantity:
    """Return days as people count them: halves only where they are few."""
    return Quantity(days, "d", 1 if days < 2.75 and abs(days - round(days)) >= 0.05 else 0)


def typed_days(days: float) -> Quantity:
    """Return days to the quarter as somebody typed them."""
    digits = next((each for each in (0, 1) if abs(days * 10**each - round(days * 10**each)) < 1e-6), 2)
    return Quantity(days, "d", digits)


def keeper_words(keeper: KeepersDays | None) -> Said:
    """Return the days that lead, and from whom they are."""
    if keeper is None:
        words = "{days}, since nobody told how long a paddock lasts them and no past stay tells."
        return Said(Text(words, {"days": days_of(USUAL_DAYS)}), (COMMON_PRACTICE,))
    if keeper.said is not None:
        said = Text("{days}, as you said. Your own days lead.", {"days": typed_days(keeper.days)})
        return Said(said, (OWN_WORD,))
    days = days_of(keeper.days)
    values: dict[str, Value] = {"days": days, "each": ", ".join(str(each) for each in keeper.stays)}
    return Said(
        Text(
            "{days}: as long as the last stay.",
            values,
            plural="{days}: the middle one of the last {count} stays ({each}).",
            count=len(keeper.stays),
        ),
        (OWN_RECORDS,),
    )


def rooting_words(found: HowLong) -> Said:
    """Return when more would be rooted than is welcome."""
    welcome = Quantity(found.wanted.rooting, "1")
    until, told = found.rooting, (OWN_RECORDS,) if found.own_pace else (OUR_FIT,)
    if found.wanted.rooting >= 1.0:
        return Said(Text("All of it may be rooted here, so rooting sets no end."), (OWN_WORD,))
    values: dict[str, Value] = {"welcome": welcome}
    if until.days is None:
        return Said(Text("Less than {welcome} is rooted within a year, by a rough figure.", values), told)
    if until.days == 0:
        return Said(Text("More than {welcome} of it is rooted already, by a rough figure.", values), told)
    values |= {"days": days_of(until.days), "least": f"{until.least or 0.0:.0f}"}
    if until.most is None:
        words = "{welcome} is rooted after about {days}, at the soonest after {least}."
        return Said(Text(words, values), told)
    values["most"] = f"{until.most:.0f}"
    return Said(Text("{welcome} is rooted after about {days} ({least} to {most}).", values), told)


def leads_words(found: HowLong) -> Text:
    """Return in one sentence whose days lead and why, and what the pace of this ground would say beside them."""
    keeper = found.keeper
    lead = "Your last stays lead ({days}): what you did counts before {pace} ({says})."
    if keeper is None:
        lead = "The usual days lead ({days}) until you tell some or a stay ends; {pace} only tells ({says})."
    elif keeper.said is not None:
        lead = "Your word leads ({days}): what you typed counts before {pace} ({says})."
    values: dict[str, Value] = {
        "days": typed_days(keeper.days) if keeper is not None else days_of(float(USUAL_DAYS)),
        "pace": Text("the pace that daily checks taught") if found.own_pace else Text("the rough pace from print"),
        "says": _pace_says(found),
    }
    return Text(lead, values)


def _pace_says(found: HowLong) -> Text:
    if found.wanted.rooting >= 1.0:
        return Text("no end: all may be rooted")
    if found.rooting.days is None:
        return Text("no end within a year")
    if found.rooting.days == 0:
        return Text("past already")
    return Text("{days}", {"days": days_of(found.rooting.days)})


def own_pace_words(found: HowLong) -> Text | None:
    """Return that the rough figure goes by this farm's own pace, and may be taken; None where it does not."""
    if not found.own_pace or not found.rooting.days:
        return None
    words = "Rooting goes by what daily checks of this farm have taught: you may take its {days} as your own days."
    return Text(words, {"days": days_of(found.rooting.days)})


def nitrogen_words(found: HowLong) -> Said:
    """Return when a year's nitrogen would lie there."""
    values: dict[str, Value] = {
        "cap": Quantity(found.cap_kg_ha, "kg/ha"),
        "now": Quantity(found.start.n_kg_ha, "kg/ha"),
    }
    told = (SOURCE_WORDS[found.need.manure_source], sources.NITROGEN_CAP)
    if found.nitrogen.days is None:
        return Said(Text("Nitrogen does not come to {cap} there within a year.", values), told)
    values["days"] = days_of(found.nitrogen.days)
    words = "Nitrogen comes to {cap}, the most for a year, after {days}; {now} lie there now."
    return Said(Text(words, values), told)


def carried_words(found: HowLong, until: Until) -> Said:
    """Return when a tank or a feeder is empty, and how often it is filled again in a stay."""
    stay = found.keeper.days if found.keeper is not None else float(USUAL_DAYS)
    is_water = until.limit is Limit.WATER
    lasts = found.need.tank if is_water else found.need.feeder
    times = lasts.refills(stay) if lasts is not None else 0
    values: dict[str, Value] = {
        "days": days_of(until.days or 0.0),
        "hot": days_of(until.least or 0.0),
        "stay": days_of(stay),
    }
    source = found.need.water.source if is_water else sources.FEED_READ
    if is_water:
        words = "The tank lasts {days}, {hot} in hot weather: filled again {count} times in {stay}."
        one = "The tank lasts {days}, {hot} in hot weather: filled again once in {stay}."
        none = "The tank lasts {days}, {hot} in hot weather: enough for {stay}."
    else:
        words = "The feed lasts {days}: filled again {count} times in {stay}."
        one = "The feed lasts {days}: filled again once in {stay}."
        none = "The feed lasts {days}: enough for {stay}."
    said = Text(one, values, plural=words, count=times) if times else Text(none, values)
    return Said(said, (OWN_WORD, source))


def first_words(found: HowLong) -> Text | None:
    """Return what would come to its end first, by name."""
    first = found.first
    if first is None or first.days is None:
        return None
    values: dict[str, Value] = {"days": days_of(first.days)}
    if first.limit is Limit.ROOTING:
        return Text("Rooting would come first, after {days}.", values)
    if first.limit is Limit.NITROGEN:
        return Text("Nitrogen would come first, after {days}.", values)
    if first.limit is Limit.WATER:
        return Text("Water would come first, after {days}, unless it is filled.", values)
    return Text("Feed would come first, after {days}, unless it is filled.", values)


def all_words(found: HowLong) -> list[Said]:
    """Return the keeper's days, then each of the other ways to tell it, the one that comes first named last."""
    said = [keeper_words(found.keeper), rooting_words(found), nitrogen_words(found)]
    said += [carried_words(found, each) for each in (found.water, found.feed) if each is not None]
    first = first_words(found)
    return [*said, Said(first, ())] if first is not None else said
