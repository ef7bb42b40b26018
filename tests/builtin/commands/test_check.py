"""The command ``check``, as a person types it."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from PIL import Image

from pigmap.cli.main import main
from pigmap.document.edits import record_stay
from pigmap.records import Check, Group, Paddock, Projection, add
from pigmap.session import Session
from tests.store.made import SQUARE, edit

PLANE = Projection(name="plane", authority="NONE", code=0, definition="", ground_per_grid=1.0)
DAY = date(2026, 5, 1)


@pytest.fixture
def farm(tmp_path: Path) -> Path:
    """Return a farm with sows in a paddock."""
    path = tmp_path / "farm.gpkg"
    with Session.create(path, PLANE, "Farm") as session:
        paddock = Paddock(uid="there", name="Long 1", outline=SQUARE)
        session.do(edit("Begin", add(Group(uid="sows", name="Sows")), add(paddock))).result()
        session.do(record_stay("sows", "there", DAY)).result()
    return path


def _checks(farm: Path) -> list[Check]:
    with Session.open(farm) as session:
        return list(session.farm.checks.values())


def _check(farm: Path, *more: str) -> int:
    return main(["check", str(farm), "--paddock", "long 1", "--on", "2026-05-01", *more])


def test_what_was_seen_is_recorded_for_the_group_that_is_there(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _check(farm, "--kv", "5,5", "--rooting", "2", "--pigs", "8", "--note", "calm") == 0
    assert capsys.readouterr().out == "Daily check of Long 1 on Fri 1 May 2026 recorded.\n"
    (check,) = _checks(farm)
    assert (check.group_uid, check.checked_on, check.all_well) == ("sows", DAY, False)
    assert (check.fence_kv, check.rooting_score, check.pigs_seen, check.note) == (5.5, 2, 8, "calm")


def test_all_well_is_recorded_once_a_day(farm: Path) -> None:
    assert _check(farm, "--all-well") == 0
    assert _check(farm, "--all-well") == 0
    (check,) = _checks(farm)
    assert (check.all_well, check.group_uid) == (True, "sows")


def test_a_photo_goes_with_the_check(farm: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Image.new("RGB", (40, 30)).save(tmp_path / "a.jpg")
    assert _check(farm, "--all-well", "--photo", str(tmp_path / "a.jpg")) == 0
    assert capsys.readouterr().out.splitlines()[-1] == "1 photo kept."
    with Session.open(farm) as session:
        (photo,) = session.farm.photos.values()
        assert (photo.check_uid, photo.paddock_uid) == (next(iter(session.farm.checks)), "there")


def test_a_photo_that_is_none_is_told_and_the_check_stands(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _check(farm, "--kv", "5", "--photo", "nowhere.jpg") == 1
    assert "There is no file nowhere.jpg. Look where it is, and name it there." in capsys.readouterr().err
    assert len(_checks(farm)) == 1


@pytest.mark.parametrize(
    ("given", "said", "status"),
    [
        ((), "Nothing is told of the check. Say --all-well, or give what was seen", 2),
        (("--kv", "much"), "much is no number. Give a number, such as 5.5.", 2),
        (("--pigs", "2.5"), "2.5 is no whole number. Give a whole number, such as 3.", 2),
        (("--rooting", "7"), "The rooting score is 7. Give a number from 0 to 4.", 1),
        (("--kv", "30"), "The fence voltage is 30. Give a number from 0 to 20.", 1),
    ],
)
def test_what_cannot_be_is_refused_in_words_and_nothing_is_recorded(
    farm: Path, given: tuple[str, ...], said: str, status: int, capsys: pytest.CaptureFixture[str]
) -> None:
    assert _check(farm, *given) == status
    assert said in capsys.readouterr().err
    assert _checks(farm) == []


def test_a_paddock_that_is_not_there_is_told_with_those_that_are(
    farm: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", str(farm), "--paddock", "Long 9", "--all-well"]) == 2
    assert "There is no paddock Long 9. It has: Long 1." in capsys.readouterr().err


def test_a_photo_that_is_none_alone_records_nothing(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert _check(farm, "--photo", "nowhere.jpg") == 1
    assert "There is no file nowhere.jpg. Look where it is, and name it there." in capsys.readouterr().err
    assert _checks(farm) == []


def test_one_photo_that_can_be_read_is_a_check(farm: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Image.new("RGB", (40, 30)).save(tmp_path / "a.jpg")
    assert _check(farm, "--photo", "nowhere.jpg", "--photo", str(tmp_path / "a.jpg")) == 1
    assert "1 photo kept." in capsys.readouterr().out
    assert len(_checks(farm)) == 1


def test_of_many_paddocks_the_first_are_named_and_the_rest_are_counted(
    farm: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with Session.open(farm) as session:
        more = [add(Paddock(uid=f"p{each}", name=f"Short {each}", outline=SQUARE)) for each in range(14)]
        session.do(edit("More", *more)).result()
    assert main(["check", str(farm), "--paddock", "Long 9", "--all-well"]) == 2
    assert capsys.readouterr().err.rstrip().endswith("Short 6 and 3 more.")


def test_a_farm_without_paddocks_says_so(farm: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    Session.create(tmp_path / "bare.gpkg", PLANE, "Bare").close()
    assert main(["check", str(tmp_path / "bare.gpkg"), "--paddock", "Long 9", "--all-well"]) == 2
    assert "The farm has no paddock yet. Place one in the window: take Place." in capsys.readouterr().err


def test_a_day_that_is_still_to_come_has_no_check(farm: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(farm), "--paddock", "long 1", "--on", "2100-01-01", "--all-well"]) == 2
    said = capsys.readouterr().err
    assert "Fri 1 Jan 2100 is still to come: nobody can have looked yet. Give the day of the check." in said
    assert _checks(farm) == []


def test_a_check_of_a_day_before_any_pigs_were_there_stands_and_is_told_of(
    farm: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["check", str(farm), "--paddock", "long 1", "--on", "1926-05-01", "--kv", "5"]) == 0
    said = capsys.readouterr()
    assert said.out == "Daily check of Long 1 on Sat 1 May 1926 recorded.\n"
    assert said.err == (
        "Long 1 was checked on Sat 1 May 1926; no pigs are recorded there before Fri 1 May 2026. "
        "If it was so, nothing is to be done; if not, put right the day or the paddock.\n"
    )
    assert len(_checks(farm)) == 1
