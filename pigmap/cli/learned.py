"""What daily checks say of a farm's pace, as a command prints it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from math import exp

from pigmap.cli.printing import Row, print_rows, remark, say
from pigmap.document.edits.ground_pace import keep_pace
from pigmap.errors import EditError
from pigmap.ground.fitting import LEAST_AFTER_REST, LEAST_VISITS, LEAST_WOOD_VISITS, Learned, Number, learned
from pigmap.records import Farm
from pigmap.session import Session
from pigmap.text import Quantity, Text

_COLUMNS = ("day", "field", "paddock", "seen", "expected", "learned")


def tell_learned(session: Session, today: date, *, keep: bool, as_json: bool) -> None:
    """Print what was seen against what was expected, and the fitted numbers; on wish compute with them from now on.

    Raises
    ------
    EditError
        If there are too few checks for numbers that are to be kept.
    """
    found = learned(session.farm, today)
    print_rows(_COLUMNS, _rows(session.farm, found), as_json=as_json)
    tell = remark if as_json else say
    for words in _words(found):
        tell(words)
    if keep:
        _keep(session, found)
        tell(Text("The ground is computed with these numbers from now on."))


def _rows(farm: Farm, found: Learned) -> Iterator[Row]:
    for row in found.rows:
        paddock = farm.paddocks.get(row.check.paddock_uid)
        yield {
            "day": row.check.checked_on,
            "field": farm.fields[row.field_uid].name,
            "paddock": paddock.name if paddock is not None else None,
            "seen": row.seen,
            "expected": round(row.expected, 2),
            "learned": round(row.learned, 2) if row.learned is not None else None,
        }


def _words(found: Learned) -> Iterator[Text]:
    yield found.words
    if found.rms is None:
        return
    yield Text(
        "What is computed is mostly off by up to {after} of the ground; with the numbers from print by up to {before}.",
        {"after": Quantity(found.rms, "1"), "before": Quantity(found.rms_before, "1")},
    )
    yield _number(Text("Loss [m²/(kg·d)]"), found.loss, LEAST_VISITS)
    yield _number(Text("Regrowth [1/(°C·d)]"), found.regrowth, LEAST_AFTER_REST)
    yield _number(Text("Loss under trees, times"), found.wood, LEAST_WOOD_VISITS)


def _number(name: Text, number: Number, least: int) -> Text:
    printed = f"{number.printed:.4g}"
    if number.log_se is None:
        where = Text("in woods") if name.id.startswith("Loss under") else Text("after a rest")
        return Text(
            "{name}: {printed}, as from print; it takes {least} checks {where} to learn it.",
            {"name": name, "printed": printed, "least": least, "where": where},
        )
    return Text(
        "{name}: {value}, give or take a factor of {factor}; from print {printed}.",
        {"name": name, "value": f"{number.value:.4g}", "factor": f"{exp(number.log_se):.2f}", "printed": printed},
    )


def _keep(session: Session, found: Learned) -> None:
    if not found.is_fitted:
        raise EditError(
            "Nothing was learned that could be kept: {words}",
            remedy="Come back when there are {least} checks.",
            words=found.words,
            least=LEAST_VISITS,
        )
    wood = found.wood.value if found.wood.log_se is not None else None
    session.do(keep_pace(loss=found.loss.value, regrowth=found.regrowth.value, wood=wood)).result()
