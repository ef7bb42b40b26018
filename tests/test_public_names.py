from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator
from types import ModuleType

import pytest

import pigmap
from pigmap.plugins import API, KINDS
from pigmap.plugins.declared import installed
from pigmap.plugins.registry import Registry

PROMISED = {
    "commands": ("api", "name", "summary", "options", "run"),
    "tints": ("api", "name", "title", "unit", "clods", "steps", "key"),
    "formats": ("api", "name", "suffixes", "layers", "read"),
    "rules": ("api", "name", "title", "breaches"),
}
"""What each contract that strangers were told of asks for."""


def _packages() -> Iterator[ModuleType]:
    for found in pkgutil.walk_packages(pigmap.__path__, "pigmap."):
        if found.ispkg:
            yield importlib.import_module(found.name)


def test_every_name_that_a_package_offers_is_there() -> None:
    missing = [
        f"{package.__name__}.{name}"
        for package in _packages()
        for name in getattr(package, "__all__", ())
        if not hasattr(package, name)
    ]
    assert not missing


@pytest.mark.parametrize("kind", PROMISED)
def test_our_own_parts_keep_the_contract_that_strangers_keep(kind: str) -> None:
    registry = Registry(each for each in installed() if each.dist is not None and each.dist.name == "pigmap")
    names = [part.name for part in registry.parts(kind)]
    assert names
    for name in names:
        part = registry.load(kind, name)
        assert [each for each in PROMISED[kind] if not hasattr(part, each)] == [], f"{kind} {name}"
        assert (part.api, part.name) == (API, name)


def test_every_kind_names_its_contract() -> None:
    for kind in KINDS.values():
        contract = kind.what.partition("`")[2].rstrip("`")
        if contract:
            module, _, name = contract.rpartition(".")
            assert hasattr(importlib.import_module(module), name), kind.what
