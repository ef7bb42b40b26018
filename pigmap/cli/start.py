"""What ``pigmap`` alone does: opens the window on the last farm, or does the job without one."""

from __future__ import annotations

import io
from collections.abc import Callable
from contextlib import redirect_stdout
from datetime import date
from pathlib import Path

from pigmap.cli.display import NO_DISPLAY, without_display
from pigmap.cli.printing import say
from pigmap.errors import DisplayError
from pigmap.plugins import Registry
from pigmap.session.first_farm import sample_folder
from pigmap.session.personal import load_personal
from pigmap.text import Text

SAMPLE_FOLDER = "pigmap-sample"
"""Where the sample farm goes without a display, in the current folder."""

DRAWN = {"picture": "window.png", "sheet": "field-map.pdf"}
"""The commands that draw it there, and the files they make."""


def start(registry: Registry) -> int:
    """Open the window on the last farm, or on the sample farm the first time; return the exit status.

    Without a display the sample farm, a picture of its window and its printed field map are written instead.
    """
    if without_display():
        return _on_paper(registry, NO_DISPLAY)
    run = registry.load("faces", "window")
    try:
        return int(run(_farm_to_open()))
    except DisplayError as reason:
        return _on_paper(registry, reason.message)


def _farm_to_open() -> Path | Callable[[], Path]:
    """Return the farm file, or what makes the sample farm the first time."""
    last = load_personal().last_farm
    if last and Path(last).is_file():
        return Path(last)
    folder = sample_folder()
    kept = sorted(folder.glob("*.gpkg"))
    if kept:
        return kept[0]
    return lambda: _made_in(folder)


def _made_in(folder: Path) -> Path:
    from pigmap.session.sample import write_sample  # most starts do not need it

    say("Making the sample farm.")
    return write_sample(folder, today=date.today()).farm


def _on_paper(registry: Registry, why: Text) -> int:
    from pigmap.cli.main import run_command  # main offers this module's `start`
    from pigmap.session.sample import write_sample

    folder = Path.cwd() / SAMPLE_FOLDER
    paths = write_sample(folder, today=date.today(), replace=True)
    for path in paths:
        say(str(path))
    for command, name in DRAWN.items():
        drawn = folder / name
        with redirect_stdout(io.StringIO()):
            status = run_command(registry, command, [str(paths.farm), "-o", str(drawn)])
        if status:
            return status
        say(str(drawn))
    say(why)
    return 0
