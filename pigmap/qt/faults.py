"""A fault of the program: one sentence in the message bar, and a report in a file; the window stays open."""

from __future__ import annotations

import sys
import traceback
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from types import TracebackType

from pigmap import __version__
from pigmap.errors import PigmapError
from pigmap.paths import data_folder
from pigmap.qt.following import sentence
from pigmap.qt.stage import Stage
from pigmap.text import Text


def catch_faults(stage: Stage) -> Callable[[], None]:
    """Have faults told in the message bar from now on; return how to stop that."""
    before = sys.excepthook

    def hook(kind: type[BaseException], error: BaseException, trace: TracebackType | None) -> None:
        if issubclass(kind, KeyboardInterrupt):
            before(kind, error, trace)
        else:
            tell_fault(stage, error)

    sys.excepthook = hook

    def stop() -> None:
        sys.excepthook = before

    return stop


def tell_fault(stage: Stage, error: BaseException) -> None:
    """Say what went wrong: an error in words as it is, anything else with a report beside it."""
    if isinstance(error, PigmapError):
        stage.notice(sentence(error), "refused")
        return
    report = write_report(error)
    if report is None:
        stage.notice(
            Text("The program has a fault: {what}. What was done is on disk.", {"what": type(error).__name__}),
            "refused",
        )
        return
    stage.notice(
        Text(
            "The program has a fault; what was done is on disk. A report for its makers is in {file}.",
            {"file": str(report)},
        ),
        "refused",
    )


def write_report(error: BaseException) -> Path | None:
    """Write what makers need to know of a fault into a file; None where even that cannot be done."""
    now = datetime.now()
    path = data_folder() / "reports" / f"{now:%Y-%m-%d %H-%M-%S}.txt"
    lines = [
        f"pigmap {__version__}, Python {sys.version.split()[0]}, {sys.platform}, {now:%Y-%m-%d %H:%M}",
        "",
        *traceback.format_exception(error),
    ]
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("\n".join(lines), encoding="utf-8")
    except OSError:
        return None
    return path
