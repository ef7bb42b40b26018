from __future__ import annotations

from pathlib import Path

from pigmap.document.edits import rename
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
