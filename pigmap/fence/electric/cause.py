"""Why a fence reads other than it should: what is likely, and what to look at first. A guess, told as one."""

from __future__ import annotations

from typing import NamedTuple

from pigmap.fence.electric.case import Case, Fault, Level, level_of, volts
from pigmap.fence.electric.earth import EarthLevel, earth_level
from pigmap.fence.electric.expected import Expected
from pigmap.fence.electric.line import Spot
from pigmap.fence.electric.tables import EARTH_WARN_KV, GOOD_KV, SOIL_SPOT_OHM, STOP_KV, WARN_KV, Growth
from pigmap.text import Quantity, Text

ROUGH = 0.15
"""So far a reading may be from the estimate before it means anything, as a share. Own choice: the share of the peak
that is left was 0.82 to 0.91, and inductance adds up to 9 %."""
NOTHING_KV = 0.5
"""Less than this is next to nothing on any tester [kV]. Own choice."""
MOST_SPOTS = 6
"""More places than this explain nothing any more. Own choice."""


class Read(NamedTuple):
    """What was read and seen at a fence."""

    far_kv: float
    """At the far end [kV]."""
    earth_kv: float | None = None
    """In the test of the earth stakes [kV]."""
    soil_on_net: bool | None = None


class Cause(NamedTuple):
    """What is likely, and what to look at first."""

    words: Text
    look_first: Text
    judged: Text = Text("less than it should be")
    """The reading itself, in a few words."""

    @property
    def both(self) -> Text:
        """Return the two as one text."""
        return Text("{words} {look}", {"words": self.words, "look": self.look_first})


def likely_cause(case: Case, should: Expected, read: Read) -> Cause | None:
    """Return why a fence may read other than it should; None where it reads about as it should, and enough."""
    if read.far_kv < NOTHING_KV and should.grown.low_kv >= NOTHING_KV:
        return Cause(
            Text("Next to nothing arrives. Likely the energizer is off or its battery is empty, or a clip is off."),
            Text("Read at the energizer first, then from clip to clip away from it."),
        )
    if read.far_kv > should.mown.high_kv * (1 + ROUGH):
        return _too_high()
    low = read.far_kv < should.grown.low_kv * (1 - ROUGH)
    if low or (read.far_kv < GOOD_KV and read.far_kv < should.mown.low_kv * (1 - ROUGH)):
        return _seen(read) or (_too_low(case, read) if low else _grass())
    return None


def too_little(far_kv: float) -> Cause | None:
    """Return what to do about a reading that is too little whatever feeds the fence [kV]; None where it is enough."""
    level = level_of(far_kv)
    if level is Level.STOP:
        words = Text("Under {least} at the far end: do not rely on this fence.", {"least": Quantity(STOP_KV, "kV", 0)})
    elif level is Level.WARN:
        words = Text("Under {least} at the far end is little for pigs.", {"least": Quantity(WARN_KV, "kV", 0)})
    else:
        return None
    return Cause(words, _WALK, Text("too little"))


def spots_that_do_it(case: Case, read_kv: float) -> int | None:
    """Return how many places with soil on the bottom strand, spread over the fence, bring it down to a reading [kV].

    The fence is taken as grown into as usual; None where `MOST_SPOTS` would not do it.
    """
    for count in range(1, MOST_SPOTS + 1):
        spots = tuple(Spot(case.length_m * (at + 0.5) / count, SOIL_SPOT_OHM) for at in range(count))
        if volts(case, Growth.MEDIUM, Fault(spots)).far_kv <= read_kv:
            return count
    return None


_WALK = Text("Walk the fence: the bottom strand first, then the clips, then the earth stakes.")


def _too_high() -> Cause:
    return Cause(
        Text(
            "Higher than the whole fence should read. Perhaps a clip is off and only the near part was read, or the "
            "tester had no earth, or the energizer gives more than was told."
        ),
        Text("Read again at the far end, with the probe in damp ground."),
        Text("more than it should be"),
    )


def _seen(read: Read) -> Cause | None:
    """Return what was seen or read already that explains a low reading."""
    if read.soil_on_net:
        return Cause(
            Text("Soil lies on the net: that likely takes most of it."),
            Text("Clear the bottom strand, then read again."),
        )
    if read.earth_kv is not None and earth_level(read.earth_kv) is not EarthLevel.GOOD:
        values = {"earth": Quantity(read.earth_kv, "kV"), "most": Quantity(EARTH_WARN_KV, "kV")}
        return Cause(
            Text("The earth stakes read {earth}, more than {most}: likely much is lost there.", values),
            Text("Wet the ground round the earth stakes or set one more, then test them again."),
        )
    return None


def _grass() -> Cause:
    return Cause(
        Text("Long or wet grass in the mesh would make it so."), Text("Mow or trim along the net, then read again.")
    )


def _too_low(case: Case, read: Read) -> Cause:
    count = spots_that_do_it(case, read.far_kv)
    if count is None:
        return Cause(
            Text("Lower than grass and soil alone would make it. Likely a clip is off or a wire is broken."), _WALK
        )
    return Cause(
        Text(
            "Lower than long grass alone would make it. Likely soil or a wet branch is on the bottom strand: {count} "
            "such place would do it.",
            plural="Lower than long grass alone would make it. Likely soil or wet branches are on the bottom strand: "
            "{count} such places would do it.",
            count=count,
        ),
        _WALK,
    )
