"""A few of each fault, so that a loss is seen soon; many of them: ``python -m tests.faults --full``."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from tests.faults.damage import damaged_files
from tests.faults.full_disk import full_disks
from tests.faults.merged import merged_copies
from tests.faults.migration import broken_migrations
from tests.faults.power import WEAK, power_cuts
from tests.faults.undoing import random_steps


def test_the_power_fails_and_every_acknowledged_edit_is_there(tmp_path: Path) -> None:
    counts = power_cuts(tmp_path, 20)
    assert counts.holds, counts.seen


def test_with_weaker_settings_edits_are_lost_and_that_is_seen(tmp_path: Path) -> None:
    counts = power_cuts(tmp_path, 8, writing=WEAK["no syncs"])
    assert not counts.holds


def test_the_disk_is_full_and_it_goes_on_once_there_is_room(tmp_path: Path) -> None:
    counts = full_disks(tmp_path, 8)
    assert counts.holds, counts.seen


def test_a_damaged_file_is_never_accepted_without_a_word(tmp_path: Path) -> None:
    counts = damaged_files(tmp_path, 10)
    assert counts.holds, counts.seen
    assert counts.told["rescued files"] > 0


@pytest.mark.skipif(sys.platform == "win32", reason="forks and kills processes")
def test_a_file_that_is_being_brought_up_to_date_is_whole_whenever_the_program_is_killed(tmp_path: Path) -> None:
    counts = broken_migrations(tmp_path, 3)
    assert counts.holds, counts.seen


def test_edits_undone_and_redone_at_random_are_those_of_a_plain_model(tmp_path: Path) -> None:
    counts = random_steps(tmp_path, 50)
    assert counts.holds, counts.seen


def test_copies_that_were_edited_apart_end_alike_and_what_both_changed_is_listed(tmp_path: Path) -> None:
    counts = merged_copies(tmp_path, 3)
    assert counts.holds, counts.seen
