from __future__ import annotations

from pathlib import Path

from pigmap.document.edits import move_paddock, place_paddock, remove, rename, reshape_field
from pigmap.geometry.rectangle import Rectangle
from pigmap.records import Edit, add
from pigmap.session import Session
from pigmap.session.history import steps_back
from pigmap.text import Text
from tests.document.example_farm import FIELD, example


def test_steps_lead_back_to_before_an_edit_also_after_undo_and_redo(tmp_path: Path) -> None:
    made = example()
    rows = [add(row) for row in made.fields.values()]
    with Session.create(tmp_path / "a.gpkg", made.projection, "Invented Farm") as session:
        session.do(Edit(Text("The fields"), lambda _: rows)).result()
        for name in ("One", "Two", "Three", "Four"):
            session.do(rename("fields", FIELD, name)).result()
        session.undo().result()
        session.undo().result()
        session.redo().result()
        entries = session.history()
        by_name = {str(entry.label): entry.edit_uid for entry in entries}
        steps = {words: steps_back(entries, uid) for words, uid in by_name.items()}
        two = next(count for words, count in steps.items() if "Two" in words)
        assert two == 2
        for _ in range(two):
            session.undo().result()
        assert session.farm.fields[FIELD].name == "One"


def test_what_was_taken_back_is_no_step_any_more(tmp_path: Path) -> None:
    made = example()
    rows = [add(row) for row in made.fields.values()]
    with Session.create(tmp_path / "a.gpkg", made.projection, "Invented Farm") as session:
        session.do(Edit(Text("The fields"), lambda _: rows)).result()
        session.do(rename("fields", FIELD, "One")).result()
        gone = session.history()[0].edit_uid
        session.undo().result()
        assert steps_back(session.history(), gone) == 0
        assert steps_back(session.history(), session.history()[-1].edit_uid) == 0  # the making of the file


def test_what_is_taken_back_is_called_by_its_name_and_so_in_the_history(tmp_path: Path) -> None:
    made = example()
    fields = [add(row) for row in made.fields.values()]
    rectangle = Rectangle(100.0, 100.0, 0.0, 50_000, 50_000)
    with Session.create(tmp_path / "a.gpkg", made.projection, "Invented Farm") as session:
        session.do(Edit(Text("The fields"), lambda _: fields)).result()
        placed = session.do(place_paddock(rectangle, field_uid=FIELD)).result()
        (paddock,) = session.farm.paddocks.values()
        assert str(placed.label) == f"{paddock.name} placed."
        assert str(session.history()[0].label) == f"{paddock.name} placed."
        assert str(session.undo().result().label) == f"{paddock.name} placed."
        session.redo().result()
        session.do(move_paddock(paddock.uid, 1.0, 0.0)).result()
        assert str(session.undo_label) == f"{paddock.name} moved."
        session.do(remove("paddocks", paddock.uid)).result()
        assert str(session.undo().result().label) == f"{paddock.name} removed."
        assert str(session.do(reshape_field(FIELD, session.farm.fields[FIELD].outline.buffer(5))).result().label) == (
            f"{session.farm.fields[FIELD].name} reshaped."
        )
