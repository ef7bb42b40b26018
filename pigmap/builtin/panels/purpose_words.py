"""What a field is for, in words: the uses, what follows from them and where that comes from, what is unclear."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pigmap.builtin.panels.card_parts import month_day_words
from pigmap.ground.purpose_year import Stretch
from pigmap.ground.purposes import Wanted, usual_rest
from pigmap.ground.tables import ROOTING_WELCOME
from pigmap.qt.stage import Stage
from pigmap.records import GroundCover, Use
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import COMMON_PRACTICE, COVER_ABOVE_75, REST_30_TO_90

USE_WORDS: Mapping[Use, Text] = MappingProxyType(
    {
        Use.GRAZE_LIGHTLY: Text("graze lightly"),
        Use.TURN_OVER: Text("turn over"),
        Use.CLEAR_SCRUB: Text("clear scrub"),
        Use.WINTER_GROUND: Text("winter ground, seeded afterwards"),
        Use.CLOSED: Text("closed: no pigs"),
    }
)


def wanted_words(wanted: Wanted) -> Text:
    """Return what is wanted, and whether that is usual or was typed."""
    values: dict[str, Value] = {
        "days": Quantity(wanted.rest_days, "d"),
        "share": Quantity(wanted.rooting, "1"),
        "rest_from": Text("typed") if wanted.rest_typed else Text("usual"),
        "rooting_from": Text("typed") if wanted.rooting_typed else Text("usual"),
    }
    if wanted.use is Use.CLOSED:
        return Text("Placing pigs there is warned about. Ground counts as rested after {days}.", values)
    if wanted.rooting >= 1.0:
        return Text("{days} of rest wanted ({rest_from}); rooting is welcome, all of it ({rooting_from}).", values)
    return Text("{days} of rest wanted ({rest_from}); up to {share} rooted is welcome ({rooting_from}).", values)


def allowed_words(wanted: Wanted) -> Text:
    """Return how much may be rooted, and who says so: the keeper, or what the field is for."""
    values: dict[str, Value] = {"share": Quantity(wanted.rooting, "1"), "use": Text(str(wanted.use))}
    if wanted.rooting_typed:
        return Text("you allow {share}", values) if wanted.rooting < 1.0 else Text("you allow all of it")
    if wanted.use is Use.CLOSED:
        return Text("closed now")
    return Text("{use} allows {share}", values) if wanted.rooting < 1.0 else Text("{use} allows all of it", values)


def source_words(use: Use, cover: GroundCover) -> Text:
    """Return where the usual figures come from."""
    grazed = use in (Use.GRAZE_LIGHTLY, Use.CLOSED)
    return Text(
        "Usual here: {days} of rest ({rest}); up to {share} rooted ({rooting}). Empty lines keep to it.",
        {
            "days": Quantity(usual_rest(use, cover), "d"),
            "rest": REST_30_TO_90,
            "share": Quantity(ROOTING_WELCOME[use], "1"),
            "rooting": COVER_ABOVE_75 if grazed else COMMON_PRACTICE,
        },
    )


def unclear_words(stage: Stage, stretch: Stretch) -> str:
    """Return what is unclear about some days of the year, and the remedy."""
    values: dict[str, Value] = {
        "first": month_day_words(stage, stretch.first),
        "last": month_day_words(stage, stretch.last),
    }
    if not stretch.uses:
        nothing = (
            "Nothing is said of {first} to {last}: it counts as graze lightly. Let a part reach over it, or add one."
        )
        return stage.words(Text(nothing, values))
    uses = list(dict.fromkeys(stage.words(Text(str(use))) for use in stretch.uses))
    if len(uses) == 1:
        twice = "{first} to {last} is in two parts. The longer rest and the lesser rooting count; let one end sooner."
        return stage.words(Text(twice, values))
    values["uses"] = stage.say(" and ").join(uses)
    several = (
        "{first} to {last} is for {uses}. The longest rest and the least rooting count; let one part end before the "
        "other begins."
    )
    return stage.words(Text(several, values))
