"""Feed, water and drinkers of a group, in rows."""

from __future__ import annotations

from collections.abc import Iterator

from pigmap.animals import sources
from pigmap.animals.left import Left, feeder_left, tank_left
from pigmap.animals.needs import Needs, needs
from pigmap.animals.tables import GROWING_CLASSES
from pigmap.builtin.panels.card_facts import Fact
from pigmap.drawing.words import day_words
from pigmap.ground.lasts_words import days_of
from pigmap.qt.stage import Stage
from pigmap.qt.why import why
from pigmap.records import Group
from pigmap.records.keepers_days import USUAL_DAYS, keepers_days
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import COMMON_PRACTICE, OWN_WORD


def figure(stage: Stage, words: str, **values: Value) -> str:
    """Return a figure in words."""
    return stage.words(Text(words, values))


def feed(stage: Stage, need: Needs) -> Fact:
    """Return what they eat in a day."""
    each = Quantity(need.feed_kg / need.weight.pigs, "kg", 1)
    values: dict[str, Value] = {"each": each, "count": need.weight.pigs}
    if need.group.feed_kg is not None:
        reason = why(stage, Text("{each} for each of {count}, as you said.", values), OWN_WORD)
    else:
        words = "{each} for each of {count}: what pigs of that weight eat, with a twentieth spilled."
        if need.group.feed_share is not None:
            values["share"] = Quantity(need.group.feed_share, "1")
            words = "{each} for each of {count}: {share} of what pigs of that weight eat, with a twentieth spilled."
        reason = why(stage, Text(words, values), *_feed_sources(need))
    shown = figure(stage, "{feed} a day", feed=Quantity(need.feed_kg, "kg", 0))
    return Fact(stage.say("Feed"), shown, figure(stage, "{each} each", each=each), reason)


def _feed_sources(need: Needs) -> tuple[Text, ...]:
    grows = need.group.pig_class in GROWING_CLASSES
    return (sources.FEED_READ, sources.FEED_RECALLED) if grows else (COMMON_PRACTICE,)


def _stay_days(stage: Stage, need: Needs) -> float:
    known = keepers_days(stage.session.farm, need.group.uid, stage.day)
    return known.days if known is not None else float(USUAL_DAYS)


def _refilled(stage: Stage, times: int) -> str:
    if not times:
        return stage.say("enough for a stay")
    return stage.words(Text("filled again once in a stay", plural="filled again {count} times in a stay", count=times))


def feeder(stage: Stage, need: Needs) -> Iterator[Fact]:
    """Yield for how long what is carried to them is there."""
    if need.feeder is None:
        return
    since = feeder_left(stage.session.farm, need, stage.day)
    if since is not None:
        yield _counted(stage, stage.say("Feeder"), since, Quantity(since.amount, "kg", 0))
        return
    shown = figure(stage, "lasts {days}", days=days_of(need.feeder.days))
    values: dict[str, Value] = {
        "all": Quantity(need.group.feeder_kg or 0, "kg", 0),
        "daily": Quantity(need.feed_kg, "kg", 0),
    }
    reason = why(stage, Text("{all} are carried to them at a time, {daily} are eaten in a day.", values), OWN_WORD)
    yield Fact(stage.say("Feeder"), shown, _refilled(stage, need.feeder.refills(_stay_days(stage, need))), reason)


def water(stage: Stage, need: Needs) -> Fact:
    """Return what they drink in a day."""
    values: dict[str, Value] = {
        "least": Quantity(need.water.least_l, "L", 1),
        "most": Quantity(need.water.most_l, "L", 1),
        "hot": Quantity(need.water.hot_l, "L", 1),
    }
    words = "One drinks {least} to {most} a day in mild weather, up to {hot} in hot. The most of it is planned with."
    reason = why(stage, Text(words, values), need.water.source, sources.WATER_HOT)
    beside = figure(stage, "{water} in hot weather", water=Quantity(need.hot_drink_l, "L", 0))
    return Fact(
        stage.say("Water"), figure(stage, "{water} a day", water=Quantity(need.drink_l, "L", 0)), beside, reason
    )


def tank(stage: Stage, need: Needs) -> Iterator[Fact]:
    """Yield when the tank is empty."""
    if need.tank is None:
        return
    since = tank_left(stage.session.farm, need, stage.day)
    if since is not None:
        yield _counted(stage, stage.say("Tank"), since, Quantity(since.amount, "L", 0), need.water.source)
        return
    shown = figure(stage, "empty in {days}", days=days_of(need.tank.days))
    hot = figure(stage, "{days} in hot weather", days=days_of(need.tank.hot_days))
    values: dict[str, Value] = {
        "all": Quantity(need.group.tank_l or 0, "L", 0),
        "daily": Quantity(need.drink_l, "L", 0),
        "refilled": _refilled(stage, need.tank.refills(_stay_days(stage, need))),
    }
    words = "{all} are carried at a time, {daily} are drunk in a day at the most: {refilled}. A wallow comes on top."
    yield Fact(stage.say("Tank"), shown, hot, why(stage, Text(words, values), OWN_WORD, need.water.source))


def _counted(stage: Stage, label: str, left: Left, amount: Quantity, *sources: Text) -> Fact:
    """Return for how long there is some left, counted from the day it was filled."""
    filled = day_words(left.filled_on, "short", language=stage.language)
    values: dict[str, Value] = {"day": filled, "left": amount}
    beside = figure(stage, "filled {day}", day=filled)
    if left.days <= 0:
        words = (
            "Filled on {day}; with the most that they take in a day nothing is left. What is really in it comes first."
        )
        return Fact(label, stage.say("empty by the count"), beside, why(stage, Text(words, values), OWN_WORD, *sources))
    words = "Filled on {day}; with the most that they take in a day {left} are left. What is really in it comes first."
    if left.hot_days != left.days:
        values["hot"] = days_of(left.hot_days)
        words += " In hot weather it is empty in {hot}."
    shown = figure(stage, "empty in {days}", days=days_of(left.days))
    return Fact(label, shown, beside, why(stage, Text(words, values), OWN_WORD, *sources))


def carried_facts(stage: Stage, group: Group) -> list[Fact]:
    """Return what is left in tank and feeder, where somebody told when they were filled."""
    if group.tank_filled_on is None and group.feeder_filled_on is None:
        return []
    need = needs(stage.session.farm, group.uid, stage.day)
    told = [tank(stage, need)] if group.tank_filled_on is not None else []
    told += [feeder(stage, need)] if group.feeder_filled_on is not None else []
    return [fact for facts in told for fact in facts] if need.weight.pigs else []


def empty_care(stage: Stage, group: Group) -> tuple[str, ...]:
    """Return that tank or feeder is empty by the count, or will be within the day."""
    farm, day = stage.session.farm, stage.day
    if group.tank_filled_on is None and group.feeder_filled_on is None:
        return ()
    need = needs(farm, group.uid, day)
    left = ((Text("Tank"), tank_left(farm, need, day)), (Text("Feeder"), feeder_left(farm, need, day)))
    short = [(what, each) for what, each in left if each is not None and each.days < 1.0]
    words = {True: "{what}: empty by the count. Look, and fill it.", False: "{what}: empty within the day. Fill it."}
    return tuple(figure(stage, words[each.days <= 0], what=what) for what, each in short)


def drinkers(stage: Stage, need: Needs) -> Fact:
    """Return how many drinkers they want."""
    least, most = need.flow_ml
    values: dict[str, Value] = {"least": f"{least / 1000:.1f}", "most": Quantity(most / 1000, "L", 1)}
    words = "One drinker for 15 pigs, for 10 just weaned, and at least 2. From each {least} to {most} a minute."
    reason = why(stage, Text(words, values), sources.DRINKERS)
    told = need.group.drinkers
    beside = "" if told is None else stage.say("{count} there", count=told)
    return Fact(stage.say("Drinkers"), stage.say("{count} wanted", count=need.drinkers_wanted), beside, reason)


def wallow(stage: Stage, need: Needs) -> Fact:
    """Return the water that a wallow takes."""
    reason = why(
        stage, Text("A wallow can take more water than they drink. Not where a water-course is near."), sources.WALLOW
    )
    shown = figure(stage, "{water} a day", water=Quantity(need.wallow_l, "L", 0))
    return Fact(stage.say("Wallow"), shown, stage.say("in hot weather"), reason)


def drinkers_care(stage: Stage, group: Group) -> tuple[str, ...]:
    """Return that drinkers are too few, where somebody told how many there are."""
    need = needs(stage.session.farm, group.uid, stage.day)
    if not need.drinkers_short:
        return ()
    return (
        stage.say(
            "Drinkers: {there} there, {wanted} wanted for {pigs} pigs",
            there=need.group.drinkers or 0,
            pigs=need.weight.pigs,
            wanted=need.drinkers_wanted,
        ),
    )
