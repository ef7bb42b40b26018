from __future__ import annotations

from datetime import date, timedelta

import pytest
import shapely

from pigmap.document.edits import (
    another_stands_here,
    change_net_kind,
    net_damaged,
    net_mended,
    number_all,
    number_net,
    one_damaged,
    retire_nets,
)
from pigmap.errors import EditError, PigmapError
from pigmap.records import Edit, Farm, Net, NetCondition, NetKind, NetUse, Projection, Record, add
from pigmap.records.damage import is_damaged

DAY = date(2026, 5, 13)
LATER = DAY + timedelta(days=3)
LONG = NetKind(uid="long", name="50 m nets", tape="blue", bays_mm=(50_000,))
SHORT = NetKind(uid="short", name="25 m nets", bays_mm=(25_000,))
HERE, THERE = shapely.LineString([(0, 0), (50, 0)]), shapely.LineString([(0, 90), (50, 90)])


def _farm(*rows: Record) -> Farm:
    farm = Farm(document_uid="", projection=Projection(name="", authority="NONE", code=0, definition=""))
    return farm.after([add(row) for row in (LONG, SHORT, *rows)])


def _net(uid: str, number: str = "", kind: str = "long", **columns: object) -> Net:
    return Net(uid=uid, net_kind_uid=kind, number=number, **columns)  # type: ignore[arg-type]


def _use(uid: str, net: str | None, run: shapely.LineString = HERE, *, until: date | None = None) -> NetUse:
    return NetUse(uid=uid, net_uid=net, net_kind_uid="long", paddock_uid=f"p{uid}", run=run, set_on=DAY, taken_on=until)


def _done(farm: Farm, edit: Edit) -> Farm:
    return farm.after(edit(farm))


def _stands(farm: Farm, run: shapely.LineString, on: date) -> str | None:
    (use,) = [use for use in farm.net_uses.values() if use.run.equals(run) and use.stands(on)]
    return use.net_uid


def _refused(farm: Farm, edit: Edit) -> str:
    with pytest.raises(PigmapError) as raised:
        edit(farm)
    return str(raised.value)


def test_a_net_is_damaged_and_mended_and_what_was_mended_is_kept() -> None:
    farm = _done(_farm(_net("a")), net_damaged("a", DAY, "Torn at post 4."))
    assert (farm.nets["a"].condition, farm.nets["a"].note) == (NetCondition.DAMAGED, "Torn at post 4.")
    farm = _done(farm, net_mended("a", LATER))
    assert (farm.nets["a"].condition, farm.nets["a"].damaged_on, farm.nets["a"].note) == (NetCondition.SOUND, None, "")
    (repair,) = farm.net_repairs.values()
    told = repair.net_uid, repair.damaged_on, repair.mended_on, repair.what
    assert told == ("a", DAY, LATER, "Torn at post 4.")


def _damaged(farm: Farm, day: date) -> list[str]:
    return [net.uid for net in farm.nets.values() if is_damaged(farm, net, day)]


def test_a_net_is_damaged_from_the_day_on_that_was_told_until_the_day_it_was_mended() -> None:
    torn = _done(_farm(_net("a"), _net("b")), net_damaged("a", DAY))
    assert [_damaged(torn, DAY + timedelta(days=by)) for by in (-1, 0, 400)] == [[], ["a"], ["a"]]
    mended = _done(torn, net_mended("a", LATER))
    assert [_damaged(mended, day) for day in (DAY, LATER - timedelta(days=1), LATER)] == [["a"], ["a"], []]
    again = _done(mended, net_damaged("a", LATER + timedelta(days=5)))
    assert [_damaged(again, DAY + timedelta(days=by)) for by in (-1, 0, 2, 3, 7, 8)] == [
        [],
        ["a"],
        ["a"],
        [],
        [],
        ["a"],
    ]


def test_of_one_damage_that_is_told_twice_the_earlier_day_counts() -> None:
    farm = _done(_done(_farm(_net("a")), net_damaged("a", LATER)), net_damaged("a", DAY))
    assert farm.nets["a"].damaged_on == DAY
    assert _done(farm, net_damaged("a", LATER)).nets["a"].damaged_on == DAY


def test_a_net_of_which_nobody_told_the_day_is_damaged_throughout() -> None:
    farm = _farm(_net("a", condition=NetCondition.DAMAGED))
    assert _damaged(farm, date(1999, 1, 1)) == ["a"]
    assert _done(farm, net_damaged("a", DAY)).nets["a"].damaged_on is None
    assert _damaged(_done(farm, net_mended("a", DAY)), DAY) == []


def test_a_net_that_was_damaged_as_long_as_it_is_owned_stays_so_in_the_past_when_it_is_mended() -> None:
    first = DAY - timedelta(days=9)
    farm = _farm(_net("a", condition=NetCondition.DAMAGED, first_used_on=first))
    assert [_damaged(_done(farm, net_mended("a", DAY)), day) for day in (first, DAY)] == [["a"], []]


def test_what_was_mended_before_a_damage_does_not_mend_it() -> None:
    farm = _done(_done(_farm(_net("a")), net_damaged("a", LATER, "Torn.")), net_mended("a", DAY, "New clip."))
    assert _damaged(farm, LATER) == ["a"]
    assert [(each.what, each.damaged_on) for each in farm.net_repairs.values()] == [("New clip.", None)]


def test_a_sound_net_that_is_mended_keeps_its_note() -> None:
    farm = _done(_farm(_net("a", note="From the sale.")), net_mended("a", DAY, "New clip."))
    assert farm.nets["a"].note == "From the sale."
    assert [repair.what for repair in farm.net_repairs.values()] == ["New clip."]


def test_damaged_twice_over_says_it_once() -> None:
    farm = _done(_farm(_net("a")), net_damaged("a", DAY, "Torn."))
    assert net_damaged("a", DAY, "Torn.")(farm) == []


def test_of_a_kind_a_net_without_a_number_is_damaged_first() -> None:
    farm = _done(_farm(_net("a", "1"), _net("b"), _net("c"), _use("u", "b")), one_damaged("long", DAY))
    assert [net.uid for net in farm.nets.values() if net.condition is NetCondition.DAMAGED] == ["c"]


def test_one_that_is_damaged_later_only_is_taken_last() -> None:
    farm = _farm(_net("a", condition=NetCondition.DAMAGED, damaged_on=LATER), _net("b", "1"))
    farm = _done(farm, one_damaged("long", DAY))
    assert farm.nets["b"].damaged_on == DAY
    assert _done(farm, one_damaged("long", DAY)).nets["a"].damaged_on == DAY


def test_the_label_of_an_edit_says_from_which_day_a_net_is_damaged() -> None:
    for edit in (net_damaged("a", DAY), one_damaged("long", DAY)):
        assert str(edit.label) == "A net is damaged from 2026-05-13 on."


def test_where_all_are_damaged_no_other_one_can_be() -> None:
    torn = NetCondition.DAMAGED
    both = _farm(_net("a", condition=torn), _net("b", condition=torn))
    assert _refused(both, one_damaged("long", DAY)) == (
        "All 2 nets of the kind 50 m nets are damaged already. "
        "Say first which is mended, or add the nets that are missing."
    )
    assert _refused(_farm(_net("a", condition=torn)), one_damaged("long", DAY)) == (
        "The one net of the kind 50 m nets is damaged already. "
        "Say first which is mended, or add the nets that are missing."
    )
    assert _refused(_farm(), one_damaged("long", DAY)) == (
        "The farm owns no net of the kind 50 m nets. Add the nets that you own first, then say which is damaged."
    )


def test_damaged_nets_go_out_of_use_first_and_all_stay_in_the_farm() -> None:
    nets = (_net("a"), _net("b", "7"), _net("c", condition=NetCondition.DAMAGED), _net("d"))
    farm = _done(_farm(*nets, _use("u", "a")), retire_nets("long", 2, DAY))
    assert {net.uid for net in farm.nets.values() if net.retired_on == DAY} == {"c", "d"}
    assert len(farm.nets) == 4


def test_more_than_are_owned_cannot_go_out_of_use() -> None:
    assert _refused(_farm(_net("a")), retire_nets("long", 2, DAY)) == (
        "The farm owns 1 of the 50 m nets on 2026-05-13: 2 cannot go out of use. "
        "Give a number that is not above 1, or put right how many you own."
    )
    with pytest.raises(EditError) as raised:
        retire_nets("long", 0, DAY)
    assert str(raised.value) == "0 nets cannot go out of use. Give a number of at least 1."


def test_numbers_are_given_and_taken() -> None:
    farm = _done(_farm(_net("a"), _net("b", "4"), _net("c")), number_net("a", " 12 "))
    assert farm.nets["a"].number == "12"
    farm = _done(farm, number_all("long", DAY))
    assert farm.nets["c"].number == "13"
    assert _done(farm, number_net("a", "")).nets["a"].number == ""


def test_two_nets_of_a_kind_do_not_get_one_number() -> None:
    farm = _farm(_net("a"), _net("b", "4"), _net("c", kind="short"))
    assert _refused(farm, number_net("a", "4")) == (
        "Another of the 50 m nets has the number 4 already. "
        "Give it one that is free, such as 5, or change that of the other first."
    )
    assert _done(farm, number_net("c", "4")).nets["c"].number == "4"


def test_the_number_of_a_net_out_of_use_is_free_again() -> None:
    farm = _farm(_net("a", first_used_on=DAY), _net("b", "4", retired_on=DAY))
    assert _done(farm, number_net("a", "4")).nets["a"].number == "4"


def test_two_nets_change_places_from_a_day_on() -> None:
    farm = _farm(_net("a", "1"), _net("b", "2"), _use("u", "a"), _use("v", "b", THERE))
    edit = another_stands_here("u", "b", LATER)
    after = _done(farm, edit)
    before = LATER - timedelta(days=1)
    assert [_stands(after, run, before) for run in (HERE, THERE)] == ["a", "b"]
    assert [_stands(after, run, LATER) for run in (HERE, THERE)] == ["b", "a"]
    assert {row.uid for row in edit(farm)} == {row.uid for row in edit(farm)}  # shown first, then written


def test_from_the_day_it_was_set_no_row_is_split() -> None:
    farm = _done(_farm(_net("a"), _net("b"), _use("u", "a"), _use("v", "b", THERE)), another_stands_here("u", "b", DAY))
    assert {use.uid: use.net_uid for use in farm.net_uses.values()} == {"u": "b", "v": "a"}


def test_a_net_that_was_not_known_to_stand_there_stands_there() -> None:
    farm = _done(_farm(_net("a"), _use("u", None), _use("v", "a", THERE)), another_stands_here("u", "a", DAY))
    assert [_stands(farm, run, DAY) for run in (HERE, THERE)] == ["a", None]


def test_a_net_of_another_kind_stands_with_its_own_kind() -> None:
    farm = _done(_farm(_net("a"), _net("s", kind="short"), _use("u", "a")), another_stands_here("u", "s", DAY))
    assert farm.net_uses["u"].net_kind_uid == "short"


def test_where_the_two_stand_later_follows() -> None:
    soon = _use("w", "b", THERE, until=None)
    farm = _farm(_net("a"), _net("b"), _use("u", "a", until=LATER), soon)
    after = _done(farm, another_stands_here("u", "b", DAY))
    assert after.net_uses["w"].net_uid == "a"


def test_the_net_that_stands_there_already_changes_nothing() -> None:
    assert another_stands_here("u", "a", DAY)(_farm(_net("a"), _use("u", "a"))) == []


def test_no_net_stands_where_it_was_taken_up() -> None:
    farm = _farm(_net("a"), _use("u", None, until=LATER))
    assert _refused(farm, another_stands_here("u", "a", LATER)) == (
        "No net stands there on 2026-05-16: it was taken up on 2026-05-16. "
        "Go to a day from 2026-05-13 on, before it was taken up."
    )


def test_what_is_known_of_a_kind_is_set_at_once() -> None:
    bays = (3571,) * 13 + (3577,)
    edit = change_net_kind("long", name="Long ones", tape="red", bays_mm=bays, height_mm=750, price=120.0)
    kind = _done(_farm(), edit).net_kinds["long"]
    assert (kind.name, kind.tape, kind.bays_mm, kind.height_mm, kind.price) == ("Long ones", "red", bays, 750, 120.0)
    assert str(edit.label) == "Long ones changed."


def _changed(**columns: object) -> Edit:
    values: dict[str, object] = {"name": "50 m nets", "tape": "", "bays_mm": (50_000,), "height_mm": 900, "price": None}
    return change_net_kind("long", **{**values, **columns})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("columns", "words"),
    [
        (
            {"name": "25 m nets", "tape": "red"},
            "Another kind of nets is called 25 m nets already. "
            "Give it a name that tells the two apart, such as 25 m nets, red.",
        ),
        ({"name": " "}, "The net kind has no name. Give it one."),
        (
            {"bays_mm": ()},
            "Net kind 50 m nets has no bays, or one of no length. Give the length of each bay between two posts.",
        ),
        ({"height_mm": 0}, "The height of 50 m nets is 0. Give a number of at least 1."),
        ({"price": -1.0}, "The price of 50 m nets is -1. Give a number of at least 0."),
    ],
)
def test_what_a_kind_cannot_be_is_told(columns: dict[str, object], words: str) -> None:
    assert _refused(_farm(), _changed(**columns)) == words


@pytest.mark.parametrize(
    "edit",
    [
        net_damaged("gone", DAY),
        net_mended("gone", DAY),
        number_net("gone", "4"),
    ],
)
def test_a_net_that_is_gone_is_told(edit: Edit) -> None:
    assert _refused(_farm(), edit) == (
        "The net is not there any more: it was removed meanwhile. Undo brings it back, or choose another net."
    )
