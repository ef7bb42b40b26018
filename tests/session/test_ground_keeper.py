from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import replace
from queue import SimpleQueue

import pytest
import shapely

import pigmap.session.ground_keeper as keeper_module
from pigmap.ground import FieldGround, prepare
from pigmap.records import (
    ChangeSet,
    Farm,
    Forage,
    GroundJob,
    GroundJobKind,
    Group,
    KeepOut,
    PigClass,
    Purpose,
    Reason,
    RowChange,
    StayState,
    Use,
    add,
    change,
    remove,
)
from pigmap.session.ground_changes import touched_fields
from pigmap.session.ground_keeper import GroundKeeper
from pigmap.session.writer import Published
from pigmap.text import Text
from tests.ground.invented import check, farm, field, herd, on, paddock, setting, square, stay, weather

FAR = square(300, 0, 100)


def two_fields() -> Farm:
    return farm(
        *herd("g"),
        *herd("h"),
        field("f"),
        field("far", FAR),
        paddock("p"),
        paddock("q", square(300, 0), "far"),
        stay("a", 0, 5),
        stay("b", 5, 9, square(300, 0), group="h", paddock="q"),
        check("c", 5, 2),
    )


class Shown:
    """Publishes farms as a session does."""

    def __init__(self, farm: Farm, post: Callable[[Callable[[], None]], None] | None = None) -> None:
        self.farm = farm
        self.post = post
        self._listeners: list[Callable[[Published], None]] = []

    def listen(self, fn: Callable[[Published], None], *, first: bool = False) -> Callable[[], None]:
        self._listeners.insert(0 if first else len(self._listeners), fn)
        return lambda: self._listeners.remove(fn)

    def make(self, *rows: RowChange) -> None:
        self.farm = self.farm.after(rows)
        for fn in tuple(self._listeners):
            fn(Published(self.farm, ChangeSet(rows), Text("Something done.")))


class Loop:
    """Stands for the event loop of the window: runs what was posted when it is asked to."""

    def __init__(self) -> None:
        self._posted: SimpleQueue[Callable[[], None]] = SimpleQueue()

    def post(self, fn: Callable[[], None]) -> None:
        self._posted.put(fn)

    def run_one(self) -> None:
        self._posted.get(timeout=10)()

    def run_all(self) -> None:
        while not self._posted.empty():
            self.run_one()


def rest(keeper: GroundKeeper, day: int, field_uid: str = "f") -> int:
    state = keeper.state(field_uid, on(day))
    assert state is not None
    return int(state.cells("rest_days")[3, 3])


def touched(*rows: RowChange) -> set[str]:
    before = two_fields()
    return touched_fields(before, before.after(rows), ChangeSet(rows))


def test_a_stay_touches_the_fields_it_lies_on() -> None:
    assert touched(add(stay("new", 20, 25))) == {"f"}
    assert touched(add(stay("new", 20, 25, square(60, 0, 300)))) == {"f", "far"}
    assert touched(remove(stay("b", 5, 9, square(300, 0), group="h"))) == {"far"}


def test_a_stay_that_is_moved_touches_where_it_was_and_where_it_is() -> None:
    assert touched(change(stay("a", 0, 5), stay("a", 0, 5, square(310, 10)))) == {"f", "far"}


def test_a_stay_ends_the_one_without_a_day_out_of_its_group() -> None:
    before = farm(*herd(), field("f"), field("far", FAR), stay("a", 0, None, state=StayState.RUNNING))
    rows = (add(stay("b", 9, 12, square(300, 0), state=StayState.PLANNED)),)
    assert touched_fields(before, before.after(rows), ChangeSet(rows)) == {"f", "far"}


def test_a_check_touches_its_ground_only_if_it_scored_the_rooting() -> None:
    assert touched(add(check("new", 8, 3))) == {"f"}
    assert touched(add(check("new", 8, None))) == set()
    assert touched(add(check("new", 8, 3, "q"))) == {"far"}


def test_a_weighing_touches_all_ground_of_its_group() -> None:
    event = herd("h")[1]
    assert touched(remove(event)) == {"far"}


def test_a_new_name_or_colour_touches_no_ground() -> None:
    group = herd("h")[0]
    assert touched(change(group, group)) == set()
    assert touched(change(paddock("q"), paddock("q"))) == set()
    assert touched(add(setting("note", '"x"'))) == set()


def test_a_group_of_another_class_touches_all_its_ground() -> None:
    group = herd("h")[0]
    assert touched(change(group, herd("h", pig_class=PigClass.LACTATING)[0])) == {"far"}


def test_a_paddock_that_is_redrawn_touches_ground_only_where_it_was_looked_at() -> None:
    assert touched(change(paddock("q", square(300, 0), "far"), paddock("q", square(310, 0), "far"))) == set()
    assert touched(change(paddock("p"), paddock("p", square(310, 0)))) == {"f", "far"}


def test_five_thousand_stays_at_once_are_sorted_out_quickly() -> None:
    before = two_fields()
    rows = tuple(add(stay(f"n{n}", n, n + 1)) for n in range(5000))
    after = before.after(rows)
    began = time.perf_counter()
    assert touched_fields(before, after, ChangeSet(rows)) == {"f"}
    assert time.perf_counter() - began < 1.0


@pytest.mark.parametrize("key", ["ready cover", "seen days", "cover loss", "cover regrowth", "wood loss"])
def test_weather_and_the_settings_of_the_ground_touch_everything(key: str) -> None:
    assert touched(remove(weather()[0])) == {"f", "far"}
    assert touched(add(setting(key, "0.5"))) == {"f", "far"}


def test_a_field_that_is_reshaped_touches_only_itself() -> None:
    assert touched(change(field("f"), field("f", square(0, 0, 60)))) == {"f"}


def test_a_purpose_touches_the_field_it_is_for() -> None:
    wants = Purpose(
        uid="p",
        field_uid="far",
        from_month_day="01-01",
        to_month_day="12-31",
        purpose=Use.GRAZE_LIGHTLY,
        rest_days_wanted=60,
    )
    assert touched(add(wants)) == {"far"}


def test_what_was_before_touches_the_fields_it_is_told_of() -> None:
    job = GroundJob(uid="j", kind=GroundJobKind.NEVER_USED, shape=shapely.MultiPolygon([square(20, 20)]))
    assert touched(add(job)) == {"f"}
    assert touched(remove(job)) == {"f"}


def test_flood_months_touch_the_fields_they_lie_in_and_a_keep_out_of_the_whole_year_none() -> None:
    flood = KeepOut(uid="k", reason=Reason.FLOOD, shape=square(20, 20), from_month_day="11-01", to_month_day="03-31")
    assert touched(add(flood)) == {"f"}
    assert touched(remove(flood)) == {"f"}
    assert touched(change(flood, replace(flood, shape=square(320, 20)))) == {"f", "far"}
    assert touched(add(replace(flood, from_month_day=None, to_month_day=None))) == set()


def test_rings_and_feed_touch_all_ground_of_their_group_and_the_sward_that_of_its_field() -> None:
    group = herd("h")[0]
    assert isinstance(group, Group)
    assert touched(change(group, replace(group, ringed=True))) == {"far"}
    assert touched(change(group, replace(group, feed_share=0.8))) == {"far"}
    assert touched(change(field("f"), replace(field("f"), forage=Forage.BERMUDA))) == {"f"}
    assert touched(change(field("f"), replace(field("f"), soil="clay"))) == {"f"}


def test_in_line_the_ground_is_there_when_it_is_asked_for() -> None:
    shown = Shown(two_fields())
    keeper = GroundKeeper(shown)
    assert rest(keeper, 9) == 4
    shown.make(add(stay("new", 20, 25)))
    assert rest(keeper, 30) == 5
    shown.make(remove(stay("new", 20, 25)))
    assert rest(keeper, 30) == 25


def test_a_change_elsewhere_leaves_the_ground_as_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[str] = []

    def counted(farm: Farm, field_uid: str, **options: object) -> FieldGround:
        made.append(field_uid)
        return prepare(farm, field_uid)

    monkeypatch.setattr(keeper_module, "prepare", counted)
    shown = Shown(two_fields())
    keeper = GroundKeeper(shown)
    rest(keeper, 9), rest(keeper, 9, "far")
    shown.make(add(stay("new", 20, 25)))
    rest(keeper, 30), rest(keeper, 30, "far")
    assert made == ["f", "far", "f"]


def test_a_new_day_makes_another_ground_of_pigs_that_are_still_there() -> None:
    shown = Shown(two_fields())
    shown.make(add(stay("d", 20, 25, paddock="r", state=StayState.RUNNING)))
    keeper = GroundKeeper(shown)
    for today, occupied in ((22, False), (30, True), (22, False)):
        state = keeper.state("f", on(30), on(today))
        assert state is not None
        assert state.cells("occupied")[3, 3] == occupied


def test_a_running_stay_is_touched_where_its_group_begins_another_and_where_it_is_ended() -> None:
    running = stay("d", 20, 25, square(300, 0), group="k", state=StayState.RUNNING)
    begun = stay("e", 30, None, group="k", state=StayState.RUNNING)
    before = two_fields().after([add(running)])
    rows = [add(begun)]
    assert touched_fields(before, before.after(rows), ChangeSet(tuple(rows))) == {"f", "far"}


def test_a_field_that_is_not_there_has_no_ground() -> None:
    shown = Shown(two_fields())
    keeper = GroundKeeper(shown)
    assert keeper.state("nowhere", on(0)) is None
    rest(keeper, 9, "far")
    shown.make(remove(shown.farm.fields["far"]))
    assert keeper.state("far", on(0)) is None


def test_listeners_hear_which_ground_is_another() -> None:
    shown = Shown(two_fields())
    keeper = GroundKeeper(shown)
    heard: list[str] = []
    unlisten = keeper.listen(heard.append)
    shown.make(add(stay("new", 20, 25)))
    unlisten()
    shown.make(add(stay("newer", 30, 35)))
    assert heard == ["f"]


def test_with_a_window_the_ground_comes_when_it_is_computed() -> None:
    loop = Loop()
    keeper = GroundKeeper(Shown(two_fields(), loop.post))
    heard: list[str] = []
    keeper.listen(heard.append)
    assert keeper.state("f", on(9)) is None
    loop.run_one()
    assert heard == ["f"]
    assert rest(keeper, 9) == 4
    keeper.close()


def test_settle_waits_for_all_that_was_asked_for() -> None:
    loop = Loop()
    shown = Shown(two_fields(), loop.post)
    keeper = GroundKeeper(shown)
    keeper.state("f", on(9)), keeper.state("far", on(9))
    keeper.settle()
    assert (rest(keeper, 9), rest(keeper, 10, "far")) == (4, 1)
    shown.make(add(stay("new", 20, 25)))
    keeper.settle()
    assert rest(keeper, 30) == 5
    loop.run_all()
    keeper.close()


def test_what_was_computed_for_an_older_farm_is_dropped(monkeypatch: pytest.MonkeyPatch) -> None:
    began, go_on = threading.Event(), threading.Event()
    asked_to_stop: list[bool] = []

    def slow(farm: Farm, field_uid: str, *, stop: Callable[[], bool], **options: object) -> FieldGround:
        began.set()
        assert go_on.wait(10)
        asked_to_stop.append(stop())
        return prepare(farm, field_uid)

    monkeypatch.setattr(keeper_module, "prepare", slow)
    loop = Loop()
    shown = Shown(two_fields(), loop.post)
    keeper = GroundKeeper(shown)
    keeper.state("f", on(9))
    assert began.wait(10)
    shown.make(add(stay("new", 20, 25)))
    go_on.set()
    keeper.settle()
    loop.run_all()
    assert asked_to_stop == [True, False]
    assert rest(keeper, 30) == 5
    keeper.close()


def test_a_fault_while_computing_is_told_and_not_swallowed(monkeypatch: pytest.MonkeyPatch) -> None:
    def faulty(*given: object, **options: object) -> FieldGround:
        raise ZeroDivisionError("a fault of the program")

    monkeypatch.setattr(keeper_module, "prepare", faulty)
    loop = Loop()
    keeper = GroundKeeper(Shown(two_fields(), loop.post))
    keeper.state("f", on(9))
    with pytest.raises(ZeroDivisionError, match="a fault of the program"):
        loop.run_one()
    keeper.close()


def test_a_closed_keeper_computes_nothing_more() -> None:
    loop = Loop()
    keeper = GroundKeeper(Shown(two_fields(), loop.post))
    keeper.state("f", on(9))
    keeper.close()
    loop.run_all()
    assert keeper.state("f", on(9)) is None
    keeper.settle()
