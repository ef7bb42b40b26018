"""Health facts as a keeper says them, each with its source."""

from __future__ import annotations

from datetime import date

from pigmap.animals import sources
from pigmap.animals.health import APART_DAYS, INFECTIVE_WEEKS, ROUNDWORM_YEARS, STANDSTILL_DAYS, PigsHere
from pigmap.text import Text, Value


def roundworm_words(found: PigsHere) -> Text:
    """Return when pigs were last on some ground and what that means for roundworm, apart from the rest of the grass."""
    values: dict[str, Value] = {
        "years": ROUNDWORM_YEARS,
        "least": INFECTIVE_WEEKS[0],
        "most": INFECTIVE_WEEKS[1],
        "day": found.last_on or "",
    }
    if found.within:
        return Text(
            "Pigs were here last on {day}. Eggs of roundworm can live in ground for {years} years and more, and "
            "infect pigs after {least} to {most} warm weeks: rest brings back the grass, not clean "
            "ground. Young pigs come first.",
            values,
        )
    if found.all_known:
        return Text(
            "No pigs are known here within {years} years. Eggs of roundworm can live longer, and come with boots and "
            "gear.",
            values,
        )
    return Text(
        "No pigs are recorded here, but the records do not reach back {years} years, for which eggs of roundworm can "
        "live.",
        values,
    )


def apart_words(until: date) -> Text:
    """Return until when newcomers are kept apart."""
    return Text(
        "Newcomers: keep them apart until {day}, {count} days at the least.", {"day": until, "count": APART_DAYS}
    )


def standstill_words(until: date) -> Text:
    """Return until when pigs stay on the farm after others came; advice only."""
    return Text(
        "Pigs came on: in England none leave before {day}, {count} days. Ask what holds where you are: local rules "
        "come first.",
        {"day": until, "count": STANDSTILL_DAYS},
    )


ROUNDWORM_SOURCE, APART_SOURCE, STANDSTILL_SOURCE = sources.ROUNDWORM, sources.QUARANTINE, sources.STANDSTILL
