from __future__ import annotations

from datetime import datetime, timedelta

from pigmap.builtin.reports.field_map import report
from pigmap.builtin.reports.sheet_nets import net_lines
from pigmap.document.edits import add_net_kind, place_paddock, record_stay
from pigmap.drawing.on_day import on_day
from pigmap.drawing.page import SheetRequest, Words
from pigmap.drawing.words import render
from pigmap.geometry.rectangle import Rectangle
from pigmap.records import Edit
from tests.document.example_farm import DAY, GROUP, KIND, OTHERS, PADDOCK, done, example, square

MOVE = DAY + timedelta(days=5)
OLD = Rectangle(10.0, 10.0, 0.0, 100_000, 50_000)
MIDDLE = Rectangle(35.0, 60.0, 0.0, 50_000, 50_000)


def _lines(*edits: Edit, old_kind: str = KIND, old: Rectangle = OLD) -> list[tuple[str, str]]:
    """Return what is done with which nets when the group moves to the middle of the long side of its paddock."""
    farm = done(
        example(),
        add_net_kind("25 m nets", (3572,) * 6 + (3568,), tape="white", uid="short"),
        place_paddock(old, net_kind_uid=old_kind, uid="long"),
        record_stay(GROUP, "long", DAY),
        *edits,
        place_paddock(MIDDLE, net_kind_uid=KIND, group_uid=GROUP, in_on=MOVE, uid="next"),
    )
    shown = on_day(farm, DAY)
    (coming,) = shown.planned
    return [(render(line.deed), render(line.nets)) for line in net_lines(farm, coming, shown.running, ())]


def test_nets_that_both_use_in_part_are_left_and_not_taken_up() -> None:
    assert _lines() == [
        ("set", "3 \N{MULTIPLICATION SIGN} 50 m, blue tape"),
        ("leave", "2 \N{MULTIPLICATION SIGN} 50 m, blue tape"),
        ("take up", "4 \N{MULTIPLICATION SIGN} 50 m, blue tape"),
    ]


def test_nets_that_are_left_are_of_the_kind_that_stands() -> None:
    assert _lines(old_kind="short")[1:] == [
        ("leave", "2 \N{MULTIPLICATION SIGN} 25 m, white tape"),
        ("take up", "10 \N{MULTIPLICATION SIGN} 25 m, white tape"),
    ]


def test_nets_of_two_kinds_that_are_left_are_told_apart() -> None:
    beside = Rectangle(85.0, 60.0, 0.0, 50_000, 50_000)
    later = DAY + timedelta(days=1)
    lines = _lines(place_paddock(beside, net_kind_uid="short", uid="c"), record_stay(OTHERS, "c", later))
    assert [nets for deed, nets in lines if deed == "leave"] == [
        "2 \N{MULTIPLICATION SIGN} 50 m, blue tape",
        "2 \N{MULTIPLICATION SIGN} 25 m, white tape",
    ]
    assert lines[-1] == ("take up", "4 \N{MULTIPLICATION SIGN} 50 m, blue tape")


def test_a_paddock_of_unknown_nets_is_told_of_by_length() -> None:
    beside = Rectangle(85.0, 60.0, 0.0, 50_000, 50_000)
    lines = _lines(place_paddock(beside, uid="c"), record_stay(OTHERS, "c", DAY))
    assert [deed for deed, _ in lines] == ["set", "leave", "stays", "take up"]


def test_on_a_day_to_come_the_paddock_that_will_stand_then_counts() -> None:
    farm = done(
        example(),
        record_stay(GROUP, PADDOCK, DAY),
        place_paddock(square(1), net_kind_uid=KIND, group_uid=GROUP, in_on=MOVE, uid="next"),
        place_paddock(square(2), net_kind_uid=KIND, group_uid=GROUP, in_on=MOVE + timedelta(days=5), uid="then"),
    )
    field = farm.paddocks["next"].field_uid
    request = SheetRequest(day=MOVE + timedelta(days=1), today=DAY, printed_at=datetime(2026, 5, 1, 7), field_uid=field)
    words = [item.words for item in report.make(farm, {}, request).items if isinstance(item, Words)]
    assert words[words.index("set") + 1] == "3 \N{MULTIPLICATION SIGN} 50 m, blue tape"
    assert words[words.index("leave") + 1] == "1 \N{MULTIPLICATION SIGN} 50 m, blue tape"
