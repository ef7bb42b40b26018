from __future__ import annotations

import json

import pytest

from pigmap.cli.main import main
from pigmap.plugins import Registry
from pigmap.plugins.declared import installed
from tests.plugins.strangers import stranger


class Made:
    api = 1


tint, old = Made(), object()


def _registry() -> Registry:
    return Registry(
        [
            *installed(),
            stranger("tints", "moss", f"{__name__}:tint"),
            stranger("tints", "rest", f"{__name__}:tint"),
            stranger("rules", "old", f"{__name__}:old"),
        ]
    )


def test_parts_are_listed_with_where_they_come_from(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plugins"], _registry()) == 0
    lines = [line.split() for line in capsys.readouterr().out.splitlines()]
    assert ["tints", "rest", "built", "in"] in lines
    assert ["tints", "moss", "stranger"] in lines


def test_faults_of_plugins_are_listed_and_change_no_status(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plugins"], _registry()) == 0
    shown = capsys.readouterr().out
    assert "2 faults of plugins." in shown
    assert "stranger brings tints rest, a name that pigmap already uses." in shown
    assert "it states api = None, this program has 1" in shown


def test_json_has_parts_and_faults(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plugins", "--json"], _registry()) == 0
    listed = json.loads(capsys.readouterr().out)
    assert {"kind": "tints", "name": "moss", "from": "stranger"} in listed["parts"]
    assert {fault["name"] for fault in listed["faults"]} == {"rest", "old"}


def test_without_plugins_there_are_no_faults(capsys: pytest.CaptureFixture[str]) -> None:
    ours = [each for each in installed() if each.dist is not None and each.dist.name == "pigmap"]
    assert main(["plugins"], Registry(ours)) == 0
    assert "0 faults of plugins." in capsys.readouterr().out
