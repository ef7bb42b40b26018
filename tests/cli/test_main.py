from __future__ import annotations

import argparse
import os
import subprocess
import sys
from importlib.metadata import EntryPoint

import pytest

import pigmap
from pigmap.cli.main import main
from pigmap.errors import EditError
from pigmap.plugins import Registry
from pigmap.plugins.declared import installed
from tests.plugins.strangers import stranger


class Greet:
    api = 1
    name = "greet"
    summary = "greets the pigs"

    def options(self, parser: argparse.ArgumentParser) -> None:
        parser.add_argument("--times", type=int, default=1)
        parser.add_argument("--whom", choices=["sows", "weaners"])

    def run(self, given: argparse.Namespace, registry: Registry) -> int:
        if given.times < 0:
            raise EditError("The pigs cannot be greeted {times} times.", remedy="Greet them once.", times=given.times)
        if given.times == 0:
            raise ZeroDivisionError("no greeting")
        sys.stdout.write("hello\n" * given.times)
        return 0


greet = Greet()


def _registry(*entries: EntryPoint) -> Registry:
    ours = [
        each for each in installed() if each.group == "pigmap.commands" and each.dist and each.dist.name == "pigmap"
    ]
    return Registry([*ours, stranger("commands", "greet", f"{__name__}:greet"), *entries])


def test_help_lists_every_command_with_its_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--help"], _registry()) == 0
    shown = capsys.readouterr().out
    assert "greet" in shown
    assert "greets the pigs" in shown
    for part in Registry().parts("commands"):
        assert f"  {part.name} " in shown


def test_a_command_that_cannot_be_loaded_is_listed_with_the_reason(capsys: pytest.CaptureFixture[str]) -> None:
    registry = _registry(stranger("commands", "torn", "no.such.module:command"))
    assert main(["--help"], registry) == 0
    assert "stranger: commands torn cannot be used: ModuleNotFoundError" in capsys.readouterr().out


def test_a_command_that_cannot_be_loaded_says_so_and_ends_with_1(capsys: pytest.CaptureFixture[str]) -> None:
    registry = _registry(stranger("commands", "torn", "no.such.module:command"))
    assert main(["torn"], registry) == 1
    said = capsys.readouterr().err
    assert "stranger: commands torn cannot be used" in said
    assert "Everything else works without it" in said


def test_the_version_is_that_of_the_package(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"], _registry()) == 0
    assert capsys.readouterr().out == f"pigmap {pigmap.__version__}\n"


def test_help_of_one_command_lists_its_options(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["help", "greet"], _registry()) == 0
    assert "--times" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("given", "message", "remedy"),
    [
        (["gree"], "There is no command gree.", "Did you mean greet? See: pigmap --help"),
        (["zzzzzz"], "There is no command zzzzzz.", "There are: books, check, export,"),
        (["--loud"], "pigmap has no option --loud.", "Options follow a command. See: pigmap --help"),
        (["greet", "--tims", "2"], "pigmap greet: unrecognized arguments: --tims 2.", "See: pigmap greet --help"),
        (["greet", "--times", "x"], "argument --times: 'x' is not a whole number.", "See: pigmap greet --help"),
        (["greet", "--whom", "ox"], "argument --whom: there is no 'ox'; choose from", "See: pigmap greet --help"),
    ],
    ids=["near name", "no near name", "option first", "unknown option", "no number", "no such choice"],
)
def test_wrong_usage_is_said_in_words_with_status_2(
    given: list[str], message: str, remedy: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(given, _registry()) == 2
    said = capsys.readouterr().err
    assert message in said
    assert remedy in said
    assert "invalid" not in said
    assert "error" not in said


def test_a_refusal_is_said_on_standard_error_with_status_1(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["greet", "--times", "-1"], _registry()) == 1
    shown = capsys.readouterr()
    assert shown.err == "The pigs cannot be greeted -1 times. Greet them once.\n"
    assert shown.out == ""


def test_a_strangers_command_that_fails_names_its_shipper(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["greet", "--times", "0"], _registry()) == 1
    said = capsys.readouterr().err
    assert "stranger: command greet stopped half way: ZeroDivisionError: no greeting." in said
    assert "Its maker can mend it" in said


def test_with_nothing_installed_it_says_how_to_install(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["ground"], Registry([])) == 1
    said = capsys.readouterr().err
    assert "the program is not installed where it runs" in said
    assert "python -m pip install -e ." in said


def test_a_reader_that_leaves_early_ends_it_quietly() -> None:
    with subprocess.Popen(
        [sys.executable, "-m", "pigmap", "plugins"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=os.environ
    ) as child:
        assert child.stdout is not None
        assert child.stderr is not None
        child.stdout.close()
        said = child.stderr.read()
        child.wait()
    assert said == b""
    assert child.returncode == 1
