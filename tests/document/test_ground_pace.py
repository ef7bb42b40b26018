from __future__ import annotations

from pigmap.document.edits.ground_pace import keep_pace
from pigmap.drawing.words import render
from pigmap.records import Farm
from tests.ground.invented import farm, field, setting


def settings_after(made: Farm, **numbers: float | None) -> dict[str, tuple[object, str]]:
    edit = keep_pace(**numbers)  # type: ignore[arg-type]
    after = made.after(edit.changes(made))
    return {row.key: (row.value, row.unit) for row in after.settings.values()}


def test_numbers_that_were_learned_are_set_together() -> None:
    made = farm(field(), setting("wood loss", "0.5"))
    assert settings_after(made, loss=0.2000000001, regrowth=0.004) == {
        "cover loss": (0.2, "m²/(kg·d)"),
        "cover regrowth": (0.004, "1/(°C·d)"),
        "wood loss": (0.5, ""),
    }
    assert settings_after(made, loss=0.2, regrowth=0.004, wood=0.8)["wood loss"] == (0.8, "")


def test_the_same_numbers_again_change_nothing() -> None:
    made = farm(field())
    edit = keep_pace(loss=0.2, regrowth=0.004, wood=0.8)
    again = made.after(edit.changes(made))
    assert list(edit.changes(again)) == []
    assert render(edit.label) == "How fast green goes and comes back, as daily checks tell."
