"""What the contributed rules say about the farm, asked once for each of its states."""

from __future__ import annotations

from datetime import date
from weakref import WeakKeyDictionary

from pigmap.errors import PluginError
from pigmap.planning.accepted import all_the_same, with_reasons
from pigmap.planning.cautions import OVER
from pigmap.planning.rule import Breach, Rule, asked
from pigmap.qt.stage import Stage
from pigmap.session.known_slopes import known_slopes

_ASKED: WeakKeyDictionary[Stage, tuple[tuple[object, ...], tuple[Breach, ...]]] = WeakKeyDictionary()


def breaches(stage: Stage) -> tuple[Breach, ...]:
    """Return every breach, plans' earliest first; a rule that cannot be loaded is left out."""
    session = stage.session
    slopes = known_slopes(session)
    key = (session.farm.document_uid, session.farm.revision, stage.today, *sorted(slopes))
    kept = _ASKED.get(stage)
    if kept is not None and kept[0] == key:
        return kept[1]
    found: list[Breach] = []
    for part in session.registry.parts("rules"):
        try:
            rule: Rule = session.registry.load("rules", part.name)
        except PluginError:
            continue
        found += asked(rule, session.farm, stage.today, slopes)
    told = with_reasons(session.farm, found)
    ordered = tuple(sorted(told, key=lambda breach: (breach.weight != "plan", str(breach.day or date.max))))
    _ASKED[stage] = (key, ordered)
    return ordered


def planned_breaches(stage: Stage) -> tuple[Breach, ...]:
    """Return the breaches of plans from today on, but for those that were accepted with a reason."""
    return tuple(
        breach
        for breach in breaches(stage)
        if breach.weight == "plan" and not breach.accepted and (breach.day is None or breach.day >= stage.today)
    )


def said_of(stage: Stage, *uids: str) -> dict[str, Breach]:
    """Return the breaches about some rows by what is said of each, what holds a plan or is a fact first.

    Each is told with its remedy, or with the reason that was given.
    """
    about = [breach for breach in breaches(stage) if any(breach.is_about(uid) for uid in uids)]
    about.sort(key=lambda breach: breach.weight == "care")
    said: dict[str, Breach] = {}
    for breach in about:
        after = all_the_same(breach.accepted) if breach.accepted else breach.remedy
        said.setdefault(f"{stage.words(breach.words)} {stage.words(after)}".strip(), breach)
    return said


def cannot_wait(breach: Breach) -> bool:
    """Whether a breach is a caution about a live fence that stands or is planned, and nobody gave a reason."""
    return bool(breach.caution) and breach.weight != "care" and not breach.accepted and breach.remedy != OVER
