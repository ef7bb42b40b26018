from __future__ import annotations

import sys
from pathlib import Path

import pytest

from tests.faults import importers
from tests.faults.importers import broken_files, run

if sys.platform == "win32":
    pytest.skip("forks and kills processes", allow_module_level=True)


def test_files_that_are_broken_at_random_are_taken_or_refused_in_words() -> None:
    counts = run(2.0)
    assert counts.holds, counts.seen
    assert counts.told["refused"] > 0
    assert counts.told["taken"] > 0


def test_a_fault_and_a_hang_would_be_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(importers, "taken", lambda *_: [][0])
    assert broken_files(tmp_path, 2).bad["fault"] == 2
    monkeypatch.setattr(importers, "LONGEST_S", 0.1)
    monkeypatch.setattr(importers, "taken", lambda *_: __import__("time").sleep(60))
    assert broken_files(tmp_path, 1).bad["hang"] == 1
