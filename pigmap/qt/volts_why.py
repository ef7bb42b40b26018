"""What the volts that a fence should read rest on, in words: nets, energizer, earth, and what one thing more does."""

from __future__ import annotations

from pigmap.fence.electric.earth import Stakes
from pigmap.fence.electric.expected import Expected
from pigmap.fence.electric.of_paddock import PaddockFence
from pigmap.fence.walked import nets_words
from pigmap.qt.stage import Stage
from pigmap.qt.why import Why
from pigmap.text import Quantity, Text, Value
from pigmap.text.source import METER_DECIDES

WORTH_SAYING_KV = 0.05
"""Less of a change than this is not told. Own choice."""


def volts_why(stage: Stage, fence: PaddockFence, should: Expected, *, in_grass: bool = False) -> Why:
    """Return what the volts at the far end of a fence rest on, and what long grass leaves where told so."""
    grown = Text("In long grass {volts}.", {"volts": should.grown.words}) if in_grass else Text("")
    parts = [
        grown,
        _nets_words(fence, should),
        _energizer_words(fence),
        _clip_words(fence, should),
        *_more_words(should),
    ]
    return Why(" ".join(stage.words(part) for part in parts if part), stage.words(METER_DECIDES))


def _nets_words(fence: PaddockFence, should: Expected) -> Text:
    values: dict[str, Value] = {"nets": nets_words(fence.nets), "far": Quantity(should.far_m, "m", 0)}
    if fence.case.ring:
        return Text("Nets: {nets}, ends joined all round; the far end is {far} along them from the feed.", values)
    return Text("Nets: {nets} in a row; the far end is {far} along them from the feed.", values)


def _energizer_words(fence: PaddockFence) -> Text:
    energizer = fence.energizer
    values: dict[str, Value] = {"energizer": energizer.name, "earth": _earth_words(fence.case.stakes)}
    output = Quantity(energizer.output_j, "J") if energizer.output_j else Quantity(energizer.kv_500 or 0.0, "kV")
    values["output"] = output
    if fence.beside:
        return Text(
            "Fed by {energizer} ({output}), with {count} net of other fences on it; {earth}.",
            values,
            plural="Fed by {energizer} ({output}), with {count} nets of other fences on it; {earth}.",
            count=fence.beside,
        )
    return Text("Fed by {energizer} ({output}); {earth}.", values)


def _earth_words(stakes: Stakes | None) -> Text:
    if stakes is None:
        return Text("nothing told of its earth stakes, so usual ones are taken")
    return Text(
        "{count} earth stake of {length}",
        {"length": Quantity(stakes.long_m, "m", 1)},
        plural="{count} earth stakes of {length}",
        count=stakes.number,
    )


def _clip_words(fence: PaddockFence, should: Expected) -> Text:
    """Return what is left with a clip off, where that tells from a whole ring."""
    if not fence.case.ring or should.opened.words == should.mown.words:
        return Text("")
    return Text("With a clip off {opened} if mown.", {"opened": should.opened.words})


def _more_words(should: Expected) -> list[Text]:
    """Return what one thing more would change, in grass as usual; what changes next to nothing is left out."""
    told = (
        (should.joule_more_kv, "one joule more adds {volts}"),
        (should.stake_more_kv, "one earth stake more adds {volts}"),
        (-should.net_more_kv, "one net more takes {volts}"),
    )
    said: Text | None = None
    for kilovolts, words in told:
        if kilovolts is not None and kilovolts >= WORTH_SAYING_KV:
            part = Text(words, {"volts": Quantity(kilovolts, "kV", 1)})
            said = part if said is None else Text("{said}, {part}", {"said": said, "part": part})
    return [Text("In usual grass {said}.", {"said": said})] if said is not None else []
