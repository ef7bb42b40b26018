from __future__ import annotations

import pytest

from pigmap import plugins
from pigmap.errors import PluginError
from pigmap.plugins import API, KINDS, Registry
from tests.plugins.strangers import entry, stranger


class Part:
    def __init__(self, api: int | None) -> None:
        self.api = api


good, old, new, silent = Part(API), Part(API - 1), Part(API + 1), object()


def test_every_public_name_is_there() -> None:
    assert all(hasattr(plugins, name) for name in plugins.__all__)


def test_the_promised_kinds_are_the_five_that_strangers_were_told_of() -> None:
    assert [name for name, kind in KINDS.items() if kind.promised] == [
        "commands",
        "tints",
        "formats",
        "planners",
        "rules",
    ]


def test_a_strangers_part_stands_behind_our_own_and_loads() -> None:
    registry = Registry([stranger("tints", "amber", f"{__name__}:good"), entry("tints", "rest", "x:y", "pigmap")])
    assert [(part.name, part.built_in) for part in registry.parts("tints")] == [("rest", True), ("amber", False)]
    assert registry.load("tints", "amber").api == API
    assert not registry.faults


def test_nothing_is_loaded_before_it_is_used() -> None:
    registry = Registry([stranger("tints", "gone", "no.such.module:tint")])
    assert [part.name for part in registry.parts("tints")] == ["gone"]
    assert not registry.faults


def test_a_part_is_loaded_once() -> None:
    registry = Registry([stranger("rules", "mine", f"{__name__}:good")])
    assert registry.load("rules", "mine") is registry.load("rules", "mine")


def test_a_name_that_is_taken_is_left_out_in_words() -> None:
    registry = Registry(
        [stranger("tints", "rest", f"{__name__}:good"), entry("tints", "rest", f"{__name__}:old", "pigmap")]
    )
    (fault,) = registry.faults
    assert str(fault.reason.message) == "stranger brings tints rest, a name that pigmap already uses."
    assert str(fault.reason.remedy) == "It is left out; its maker can choose another name."
    assert [part.shipper for part in registry.parts("tints")] == ["pigmap"]


def test_a_distribution_that_is_found_twice_is_no_clash() -> None:
    twice = [entry("tints", "rest", "x:y", "pigmap"), entry("tints", "rest", "x:y", "pigmap")]
    registry = Registry(twice)
    assert not registry.faults
    assert len(list(registry.parts("tints"))) == 1


def test_a_kind_that_is_not_known_is_a_fault_that_names_the_known_ones() -> None:
    registry = Registry([stranger("teapots", "brown", "x:y")])
    (fault,) = registry.faults
    assert str(fault.reason.message) == "stranger declares brown as pigmap.teapots, which is no kind of part."
    assert "Its maker can choose one of: commands, tints," in str(fault.reason.remedy)


@pytest.mark.parametrize(
    ("target", "why"),
    [
        ("no.such.module:part", "ModuleNotFoundError: No module named 'no'"),
        (f"{__name__}:missing", "AttributeError: module"),
        (f"{__name__}:old", f"it states api = {API - 1}, this program has {API}"),
        (f"{__name__}:new", f"it states api = {API + 1}, this program has {API}"),
        (f"{__name__}:silent", f"it states api = None, this program has {API}"),
    ],
    ids=["no module", "no such name", "older contract", "newer contract", "no contract"],
)
def test_a_part_that_cannot_be_used_is_a_fault_with_the_reason(target: str, why: str) -> None:
    registry = Registry([stranger("commands", "torn", target)])
    with pytest.raises(PluginError) as caught:
        registry.load("commands", "torn")
    assert str(caught.value.message).startswith(f"stranger: commands torn cannot be used: {why}")
    assert str(caught.value.remedy) == "Everything else works without it; its maker can mend it."
    assert [fault.part.name for fault in registry.faults] == ["torn"]


def test_kinds_of_our_own_state_no_version() -> None:
    registry = Registry([stranger("tools", "spade", f"{__name__}:silent")])
    assert registry.load("tools", "spade") is silent


def test_a_name_that_nobody_has_is_answered_with_those_there_are() -> None:
    registry = Registry([stranger("tints", "moss", "x:y"), stranger("tints", "amber", "x:y")])
    with pytest.raises(PluginError) as caught:
        registry.load("tints", "mos")
    assert str(caught.value) == "There is no mos among the tints. There are: amber, moss."


def test_with_nothing_declared_it_says_how_to_install() -> None:
    with pytest.raises(PluginError) as caught:
        Registry([]).load("tints", "rest")
    assert str(caught.value.message) == "No tints are declared: the program is not installed where it runs."
    assert str(caught.value.remedy) == "Install it once, with: python -m pip install -e ."
