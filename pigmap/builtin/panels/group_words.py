"""What a group's card says, in words: taken from the farm and the shown day, without any drawing."""

from __future__ import annotations

from datetime import date

from pigmap.animals.hot import hot_days
from pigmap.animals.hot_short import hot_short
from pigmap.animals.weight import Weight, live_weight
from pigmap.drawing.on_day import letter_of
from pigmap.drawing.tokens import ROOTING_WORDS
from pigmap.drawing.words import day_words
from pigmap.qt.nets import carried_on
from pigmap.qt.stage import Stage
from pigmap.qt.whereabouts import Book, Whereabouts, short_name
from pigmap.records import Check, Group
from pigmap.records.frozen import dataclass
from pigmap.text import Quantity, Text

WEEK = 7


@dataclass(frozen=True, slots=True)
class GroupWords:
    """One card, ready to be written."""

    uid: str
    letter: str
    colour_index: int
    name: str
    pigs: str
    pigs_short: str
    place: str
    day_of: str
    day_number: int
    days: int | None
    reading: str
    cares: tuple[str, ...]
    """What wants a hand."""
    move_day: str
    move_weekday: str
    move_to: str
    """Where and with how many nets, after the day."""
    move_to_short: str

    @property
    def spoken(self) -> str:
        """All of it, for a screen reader."""
        parts = (self.name, self.pigs, self.place, self.day_of, self.reading, *self.cares)
        return ", ".join(part for part in (*parts, f"{self.move_day} {self.move_to}".strip()) if part)


def group_words(stage: Stage, book: Book, group: Group) -> GroupWords:
    """Return what the card of a group says on the day that is shown."""
    there = book.whereabouts(group, stage.day)
    paddock = book.paddock_of(there.stay)
    move_day, weekday, move_to, move_short = _move(stage, book, there)
    return GroupWords(
        uid=group.uid,
        letter=letter_of(group, stage.session.farm),
        colour_index=group.colour_index,
        name=group.name,
        pigs=pigs_words(stage, group.uid),
        pigs_short=pigs_words(stage, group.uid, each=False),
        place=paddock.name if paddock else stage.say("nowhere on this day"),
        day_of=_day_of(stage, there),
        day_number=there.day_of_stay,
        days=there.days_of_stay,
        reading=_reading(stage, there),
        cares=_cares(stage, there),
        move_day=move_day,
        move_weekday=weekday,
        move_to=move_to,
        move_to_short=move_short,
    )


def pigs_words(stage: Stage, group_uid: str, *, each: bool = True) -> str:
    """Return how many pigs a group is on the shown day and how heavy each; without the word `each` where told so."""
    weight = live_weight(stage.session.farm, group_uid, stage.day)
    if not weight.pigs:
        return stage.say("no pigs on this day")
    pigs = stage.words(Text("{count} pig", plural="{count} pigs", count=weight.pigs))
    if not weight.mean_kg:
        return pigs
    mean = mean_weight(weight)
    return stage.say(
        "{pigs}, {weight} each" if each and weight.pigs > 1 else "{pigs}, {weight}", pigs=pigs, weight=mean
    )


def mean_weight(weight: Weight) -> Text:
    """Return what one pig weighs; one that nobody weighed yet weighs about what such pigs do."""
    words = "{weight}" if weight.weighed else "about {weight}"
    return Text(words, {"weight": Quantity(weight.mean_kg, "kg")})


def _day_of(stage: Stage, there: Whereabouts) -> str:
    if there.stay is None:
        return ""
    if there.days_of_stay is None:
        return stage.say("day {number}", number=there.day_of_stay)
    return stage.say("day {number} of {days}", number=there.day_of_stay, days=there.days_of_stay)


def _reading(stage: Stage, there: Whereabouts) -> str:
    if there.stay is None:
        return ""
    if stage.day > stage.today:
        return stage.say("planned")
    if there.check is None:
        return stage.say("not checked") if stage.day == stage.today else stage.say("as recorded")
    return reading_words(stage, there.check)


def reading_words(stage: Stage, check: Check) -> str:
    """Return the reading of a daily check that matters most, with its day."""
    when = when_words(stage, check.checked_on)
    if check.fence_kv is not None:
        return stage.say("{volts} {when}", volts=Quantity(check.fence_kv, "kV"), when=when)
    if check.tester_lights is not None:
        return stage.words(
            Text("{count} light {when}", {"when": when}, plural="{count} lights {when}", count=check.tester_lights)
        )
    if check.rooting_score is not None:
        return stage.say("{share} rooted {when}", share=ROOTING_WORDS[check.rooting_score], when=when)
    return stage.say("all well {when}", when=when) if check.all_well else stage.say("checked {when}", when=when)


def when_words(stage: Stage, day: date) -> str:
    """Return a past day as a person says it on the shown day: today, on Monday, on 2 Jun."""
    ago = (stage.day - day).days
    if ago == 0:
        return stage.say("today") if stage.day == stage.today else stage.say("that day")
    weekday, number, month = day_words(day, "long", language=stage.language).split(" ", 2)
    if 0 < ago < WEEK:
        return stage.say("on {weekday}", weekday=weekday)
    return stage.say("on {day} {month}", day=number, month=month[:3])


def _cares(stage: Stage, there: Whereabouts) -> tuple[str, ...]:
    cares = [stage.words(text) for text in _late(there)] if stage.day == stage.today else []
    cares += [stage.words(text) for text in _hot(stage, there)]
    check = there.check
    if check is None or stage.day > stage.today:
        return tuple(cares)
    if check.water_ok is False:
        cares.append(stage.say("Water was not well: see to it"))
    if check.soil_on_net:
        cares.append(stage.say("Soil on the net: clear it"))
    if check.damage:
        cares.append(check.damage)
    counted = live_weight(stage.session.farm, there.group.uid, check.checked_on).pigs
    if check.pigs_seen is not None and check.pigs_seen < counted:
        cares.append(stage.say("{seen} of {pigs} pigs counted", seen=check.pigs_seen, pigs=counted))
    return tuple(cares)


def _hot(stage: Stage, there: Whereabouts) -> list[Text]:
    """Return what a hot day asks for, today and on days to come."""
    if there.stay is None or stage.day < stage.today:
        return []
    return [hot_short(each) for each in hot_days(stage.session.farm, there.group, stage.day, days=1)]


def _late(there: Whereabouts) -> list[Text]:
    if there.stay is None or there.stay.out_on is None or there.next_stay is not None:
        return []
    left = (there.stay.out_on - there.day).days
    if left > 1:
        return []
    return [Text("No next paddock: place one")]


def _move(stage: Stage, book: Book, there: Whereabouts) -> tuple[str, str, str, str]:
    after = there.next_stay
    if after is None:
        none = stage.say("No next paddock yet") if there.stay else ""
        return "", "", none, none
    paddock = book.paddock_of(after)
    day = day_words(after.in_on, "short", language=stage.language)
    if paddock is None:
        return day, day.split(" ", 1)[0], "", ""
    # They take longest: the first frame goes before, and nobody reads them while weeks pass by.
    later = stage.coming_up or stage.playback.running
    nets = carried_on(book, there.stay, after) if not later else None
    full, short = paddock.name, short_name(paddock.name, book.field_of(paddock))
    now = book.paddock_of(there.stay)
    if now is None or now.field_uid != paddock.field_uid:
        short = full
    words = [_to(stage, name, nets.carry if nets else None) for name in (full, short)]
    return day, day.split(" ", 1)[0], words[0], words[1]


def _to(stage: Stage, name: str, nets: int | None) -> str:
    if nets is None:
        return stage.say("to {paddock}", paddock=name)
    return stage.say("to {paddock}, carry {count}", paddock=name, count=nets)
