"""The window on a farm, as the program shows it, for measuring."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path

from pigmap.qt.following import follow
from pigmap.qt.jobs import Poster
from pigmap.qt.starting import application, stage_for
from pigmap.qt.window import Window
from pigmap.session import Session


@contextmanager
def shown_window(farm: Path, size: tuple[int, int] = (1920, 1080)) -> Iterator[Window]:
    """Show the window, complete."""
    app = application()
    poster = Poster(app)
    with Session.open(farm, post=poster.post) as session:
        stage = stage_for(session, date.today())
        stop = follow(stage)
        window = Window(stage)
        window.resize(*size)
        window.show()
        window.make_rest()
        for _ in range(3):
            app.processEvents()
            window.map.settle()
        yield window
        stop()
        window.close_down()
        window.close()
