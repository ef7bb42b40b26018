from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from pigmap.builtin.commands.sheet import command, paper, scale
from pigmap.cli.usage import reader
from pigmap.errors import SheetError, StoreError, UsageError
from pigmap.plugins import Registry
from pigmap.records import Edit, add
from pigmap.session import Session
from pigmap.text import Text
from tests.drawing.small_farm import small_farm

Run = Callable[..., int]


@pytest.fixture(scope="module")
def farm(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("farm") / "small.gpkg"
    made = small_farm()
    tables = ("fields", "keep_outs", "ways", "places", "net_kinds", "paddocks", "groups", "stays")
    rows = [add(row) for table in tables for row in made.rows(table).values()]
    with Session.create(path, made.projection, "Invented Farm") as session:
        session.do(Edit(Text("The invented farm"), lambda _: rows)).result()
    return path


@pytest.fixture
def run(farm: Path, qapp: object) -> Run:
    def call(*options: str, at: Path = farm) -> int:
        return command.run(reader(command).parse_args([str(at), *options]), Registry())

    return call


def test_the_sheet_is_written_and_its_path_told(run: Run, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "map.pdf"
    assert run("--on", "2025-10-14", "-o", str(out)) == 0
    assert out.read_bytes().startswith(b"%PDF")
    assert capsys.readouterr().out.strip() == str(out)


def test_without_a_field_the_one_of_the_next_move_is_printed(run: Run, tmp_path: Path) -> None:
    out = tmp_path / "map.svg"
    assert run("--on", "2025-10-14", "-o", str(out)) == 0
    assert "<title>Long Field, Tuesday 14 October 2025</title>" in out.read_text(encoding="utf-8")


def test_a_field_is_found_by_its_name_in_any_case(run: Run, tmp_path: Path) -> None:
    out = tmp_path / "map.svg"
    assert run("--on", "2025-10-14", "--field", "barn field", "--scale", "1:2500", "-o", str(out)) == 0
    assert "<title>Barn Field" in out.read_text(encoding="utf-8")


def test_the_whole_farm_goes_on_one_sheet(run: Run, tmp_path: Path) -> None:
    out = tmp_path / "map.svg"
    assert run("--whole", "--paper", "a3", "--on", "2025-10-14", "-o", str(out)) == 0
    written = out.read_text(encoding="utf-8")
    assert 'width="420mm"' in written or 'height="420mm"' in written
    assert "<title>Invented Farm" in written


def test_a_suffix_that_is_unknown_is_refused_with_those_there_are(run: Run, tmp_path: Path) -> None:
    with pytest.raises(UsageError) as refused:
        run("-o", str(tmp_path / "map.docx"))
    assert str(refused.value.message) == "A sheet cannot be written as map.docx."
    assert str(refused.value.remedy) == "End the name in one of: .pdf, .png, .svg."


def test_a_field_that_is_not_there_is_refused_with_those_there_are(run: Run, tmp_path: Path) -> None:
    with pytest.raises(UsageError) as refused:
        run("--field", "Moon", "--on", "2025-10-14", "-o", str(tmp_path / "map.pdf"))
    assert str(refused.value.message) == "There is no field Moon in small.gpkg on 2025-10-14."
    assert str(refused.value.remedy) == "It has: Barn Field, Long Field."


def test_a_day_that_is_none_is_refused_in_words(run: Run, tmp_path: Path) -> None:
    with pytest.raises(UsageError, match="2025-02-30 is not a day of the calendar"):
        run("--on", "2025-02-30", "-o", str(tmp_path / "map.pdf"))


def test_a_scale_too_large_names_the_one_that_fits_and_leaves_no_file(run: Run, tmp_path: Path) -> None:
    with pytest.raises(SheetError) as refused:
        run("--scale", "1:500", "--on", "2025-10-14", "-o", str(tmp_path / "map.pdf"))
    assert "1:500" in str(refused.value.message)
    assert str(refused.value.remedy).startswith("It fits at 1:")
    assert not list(tmp_path.iterdir())


def test_a_farm_without_fields_has_nothing_to_print(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "empty.gpkg"
    Session.create(path, small_farm().projection, "Empty").close()
    with pytest.raises(SheetError) as refused:
        run("-o", str(tmp_path / "map.pdf"), at=path)
    assert "empty.gpkg has no field on" in str(refused.value.message)
    assert "Draw a field in the window" in str(refused.value.remedy)


def test_a_farm_that_is_not_there_is_said_in_words(run: Run, tmp_path: Path) -> None:
    with pytest.raises(StoreError):
        run("-o", str(tmp_path / "map.pdf"), at=tmp_path / "none.gpkg")


def test_papers_and_scales_are_read_as_people_type_them() -> None:
    assert paper("Letter") == "letter"
    assert (scale("1:1000"), scale("2500"), scale("fit")) == (1000, 2500, None)
    with pytest.raises(UsageError, match="There is no paper A9 here") as no_paper:
        paper("A9")
    assert str(no_paper.value.remedy) == "Choose one of: A4, A3, letter, tabloid."
    for typed in ("1:0", "1:x", "big", "1:99", "1:500000"):
        with pytest.raises(UsageError, match="is not a scale to print at") as no_scale:
            scale(typed)
        assert "1:100 to 1:100000" in str(no_scale.value.remedy)


def test_a_date_before_the_first_stay_prints_too(run: Run, tmp_path: Path) -> None:
    out = tmp_path / "map.svg"
    assert run("--on", date(2024, 1, 5).isoformat(), "-o", str(out)) == 0
