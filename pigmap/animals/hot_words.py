"""Hot weather as a keeper says it, what it rests on, and what to do."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from pigmap.animals.hot import HotWeather, IndexClass, SowStage, Stress
from pigmap.animals.needs import Needs
from pigmap.text import Quantity, Text, Value

STRESS_WORDS: Mapping[Stress, Text] = MappingProxyType(
    {
        Stress.NONE: Text("not hot"),
        Stress.MILD: Text("warm"),
        Stress.MODERATE: Text("hot"),
        Stress.SEVERE: Text("very hot"),
    }
)
INDEX_WORDS: Mapping[IndexClass, Text] = MappingProxyType(
    {
        IndexClass.NORMAL: Text("normal"),
        IndexClass.ALERT: Text("alert"),
        IndexClass.DANGER: Text("danger"),
        IndexClass.EMERGENCY: Text("emergency"),
    }
)
STAGE_WORDS: Mapping[SowStage, Text] = MappingProxyType(
    {
        SowStage.OPEN: Text("pigs that are not pregnant"),
        SowStage.MID: Text("sows in mid gestation"),
        SowStage.LATE: Text("sows in late gestation"),
    }
)


def hot_line(found: HotWeather) -> Text:
    """Return a hot day in one line: '31 °C on 2 July: water, shade, no move'."""
    values: dict[str, Value] = {"day": found.day}
    if found.max_c is None:
        return Text("Hot weather on {day}: water and shade", values)
    values["most"] = Quantity(found.max_c, "°C", 0)
    if found.dangerous:
        return Text("{most} on {day}: water, shade, wet them", values)
    return Text("{most} on {day}: water and shade", values)


def temperature_words(found: HotWeather, stage: SowStage) -> Text:
    """Return how hot a day is by its temperature alone."""
    if found.max_c is None:
        return Text("Someone said that {day} is hot. Its temperature is not known.", {"day": found.day})
    return Text(
        "By the temperature alone {most} is {how} for {pigs}.",
        {
            "most": Quantity(found.max_c, "°C", 0),
            "how": STRESS_WORDS[found.stress],
            "pigs": STAGE_WORDS[stage],
        },
    )


def index_words(found: HotWeather) -> Text:
    """Return how hot a day is by temperature and humidity together, and what that is made for."""
    if found.both is None:
        return Text("The humidity of the day is not known, so there is no index of both.")
    return Text(
        "With {share} humidity the index of both is {index}: {class}. It was made for cattle; pigs do not sweat, so "
        "dry air is harder on them than it says.",
        {
            "index": f"{found.both:.0f}",
            "class": INDEX_WORDS[found.index_class],
            "share": Quantity((found.humidity_pct or 0.0) / 100.0, "1"),
        },
    )


def what_to_do(found: HotWeather, need: Needs) -> list[Text]:
    """Return what to do for a group on a hot day, the first things first, and the caution."""
    said = [
        Text(
            "Have {water} of water ready, {wallow} more for a wallow, and look twice a day whether it runs.",
            {"water": Quantity(need.hot_drink_l, "L", 0), "wallow": Quantity(need.wallow_l, "L", 0)},
        ),
        Text(
            "Shade for all of them at once: {each} for each lying on its side.",
            {"each": Quantity(need.hot_lying_m2, "m²", 1)},
        ),
        Text("Move and feed them early or late in the day, and watch for panting."),
    ]
    if found.dangerous:
        said.append(Text("Wet the pigs or the wallow, let the wind through their shade, and put off what can wait."))
    said.append(
        Text(
            "A pig that pants hard, staggers or cannot rise: shade, cool water on it little by little, and call a vet."
        )
    )
    return said
