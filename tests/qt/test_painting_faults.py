"""What goes wrong while something is painted ends no program: a painter that was left open would."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from pathlib import Path

import pigmap
from tests.qt.window_farm import make_session

OPENED_LATER = {"pdf.py", "svg.py"}
"""Files that ask a painter to begin, since paper can refuse it; they paint inside ``with`` all the same."""

BROKEN = """
import sys
import time
from datetime import date
from pathlib import Path
from PySide6.QtGui import QPainter, QPixmap
import pigmap.builtin.panels.key as key
from pigmap.qt.starting import application, stage_for
from pigmap.qt.window import Window
from pigmap.session import Session

def broken(painter, *_):
    raise ValueError("no such colour")

app = application()
session = Session.open(Path(sys.argv[1]))
stage = stage_for(session, date(2026, 5, 13))
kept = []
sys.excepthook = lambda *fault: kept.append(fault)  # a report keeps what was being painted alive, too
window = Window(stage)
window.resize(1600, 1000)
window.show()
window.make_rest()
app.processEvents()
key.draw_table = broken
for tint in ("rooting", "rest", "rooting"):
    stage.show_tint(tint)
    painted = len(kept)
    until = time.monotonic() + 20.0
    while len(kept) == painted and time.monotonic() < until:
        app.processEvents()
print("alive", len(kept) >= 3)
window.close_down()
session.close()
"""


def test_every_painter_ends_with_the_block_it_paints_in() -> None:
    loose: list[str] = []
    for path in Path(pigmap.__file__).parent.rglob("*.py"):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        held = {id(item.context_expr) for each in ast.walk(tree) if isinstance(each, ast.With) for item in each.items}
        loose += [
            f"{path.name}:{each.lineno}"
            for each in ast.walk(tree)
            if isinstance(each, ast.Call)
            and isinstance(each.func, ast.Name)
            and each.func.id == "QPainter"
            and id(each) not in held
            and path.name not in OPENED_LATER
        ]
    assert loose == []


def test_a_key_that_cannot_be_drawn_does_not_end_the_program(tmp_path: Path) -> None:
    make_session(tmp_path).close()
    done = subprocess.run(
        [sys.executable, "-c", BROKEN, str(tmp_path / "hill.gpkg")],
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == ["alive", "True"]
