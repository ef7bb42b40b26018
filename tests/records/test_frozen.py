import copy
import dataclasses
import pickle
import re
from dataclasses import field, fields, replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from pigmap.errors import RecordError
from pigmap.records import Check
from pigmap.records.frozen import dataclass, in_order


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """Something with a name."""

    kind: str = "post"
    marks: list[int] = field(default_factory=list, compare=False)


@dataclass(frozen=True, slots=True)
class Post(Named):
    """A post, its place in front of what it inherits."""

    x_m: float
    y_m: float = 2.0

    def __post_init__(self) -> None:
        if self.x_m < 0:
            raise ValueError(self.x_m)


@dataclass(frozen=True, slots=True, eq=False)
class Single:
    """Known by what it is alone."""

    value: int


@dataclass(frozen=True)
class Open:
    """Without slots."""

    value: int
    other: int = dataclasses.field(default=3, repr=False)


def test_values_go_in_by_place_and_by_name() -> None:
    assert Post(1.0) == Post(x_m=1.0, y_m=2.0, kind="post")
    assert Post(1.0, 5.0, kind="rod").kind == "rod"
    assert [each.name for each in fields(Post)] == ["kind", "marks", "x_m", "y_m"]
    assert Post.__match_args__ == ("x_m", "y_m")


def test_what_a_default_makes_is_made_for_each() -> None:
    assert Post(1.0).marks == []
    assert Post(1.0).marks is not Post(1.0).marks


@pytest.mark.parametrize("given", [{}, {"x_m": 1.0, "z_m": 1.0}])
def test_a_value_too_few_or_too_many_is_refused(given: dict[str, Any]) -> None:
    for _ in range(2):  # the first instance is made another way
        with pytest.raises(TypeError, match=r"Post\.__init__"):
            Post(**given)


def test_what_follows_on_making_runs_every_time() -> None:
    for _ in range(2):
        with pytest.raises(ValueError, match="-1"):
            Post(-1.0)


def test_nothing_can_be_changed_or_deleted() -> None:
    post = Post(1.0)
    with pytest.raises(dataclasses.FrozenInstanceError, match="x_m"):
        post.x_m = 2.0  # type: ignore[misc]
    with pytest.raises(dataclasses.FrozenInstanceError, match="x_m"):
        del post.x_m
    assert not hasattr(post, "__dict__")


def test_equal_values_are_equal_and_of_one_hash() -> None:
    assert Post(1.0, marks=[1]) == Post(1.0, marks=[2])
    assert len({Post(1.0), Post(1.0), Post(2.0)}) == 2
    assert Post(1.0) != Post(2.0)
    assert Post(1.0) != Post(1.0, kind="rod")
    assert Open(1) == Open(1)
    assert hash(Open(1)) == hash(Open(1))


def test_without_equality_only_the_same_is_equal() -> None:
    single = Single(1)
    assert single != Single(1)
    assert {single} == {single}


def test_it_is_written_out_as_it_is_made() -> None:
    assert repr(Post(1.0)) == "Post(kind='post', marks=[], x_m=1.0, y_m=2.0)"
    assert repr(Open(1)) == "Open(value=1)"


@pytest.mark.parametrize("one", [Post(1.0, kind="rod"), Open(4, 5)])
def test_it_can_be_copied_pickled_and_replaced(one: Any) -> None:
    for other in (copy.copy(one), copy.deepcopy(one), pickle.loads(pickle.dumps(one)), replace(one)):
        assert other == one
        assert other is not one
    assert replace(Post(1.0), y_m=3.0) == Post(1.0, 3.0)


def test_what_is_made_of_values_in_order_is_the_same_and_is_checked_too() -> None:
    values = {"uid": "a", "paddock_uid": "p", "checked_on": date(2026, 5, 1), "fence_kv": 6.5, "note": "wet"}
    plain = Check(**values)  # type: ignore[arg-type]
    made = in_order(Check)(*(getattr(plain, each.name) for each in fields(Check)))
    assert made == plain
    assert replace(made, note="dry") == replace(plain, note="dry")
    with pytest.raises(RecordError, match="fence voltage is 99"):
        in_order(Check)(*({**dataclasses.asdict(plain), "fence_kv": 99.0}.values()))


def test_a_class_that_can_change_is_none_of_these() -> None:
    with pytest.raises(TypeError, match="not frozen"):
        dataclass(frozen=False)


def test_a_class_keeps_its_own_methods() -> None:
    @dataclass(frozen=True)
    class Own:
        value: int

        def __repr__(self) -> str:
            return f"own {self.value}"

    assert repr(Own(2)) == "own 2"


def test_modules_with_nothing_but_frozen_dataclasses_make_them_this_way() -> None:
    slow = []
    for path in (Path(__file__).parents[1] / "pigmap").rglob("*.py"):
        source = path.read_text(encoding="utf-8")
        made = re.findall(r"^@dataclass\b.*$", source, re.MULTILINE)
        by_standard = re.search(r"^from dataclasses import .*\bdataclass\b", source, re.MULTILINE)
        if made and by_standard and all("frozen=True" in each for each in made):
            slow.append(path.name)
    assert not slow, f"{slow}: take dataclass from pigmap.records.frozen"
