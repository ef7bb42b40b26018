"""Show one farm in a window: session and window are made, tied together, and taken down cleanly."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer
from PySide6.QtWidgets import QApplication, QWidget

from pigmap.drawing.english import sort_of
from pigmap.errors import StoreError
from pigmap.qt import collecting
from pigmap.qt.faults import catch_faults
from pigmap.qt.files import usual_language
from pigmap.qt.following import follow
from pigmap.qt.jobs import Jobs, Poster, Progress, Stop
from pigmap.qt.stage import Stage
from pigmap.qt.starting import application, let_go, show_usual, stage_for, take_down, theme_named
from pigmap.qt.watching import Watching
from pigmap.qt.window import Window
from pigmap.records.later_rows import are_read
from pigmap.session import Session
from pigmap.session.images import FarmImages
from pigmap.session.opening import Opening
from pigmap.session.personal import load_personal, save_personal
from pigmap.text import Text

if TYPE_CHECKING:
    from pigmap.session.new_farm import Made

SMALL_PICTURES_MS = 3000
"""How long after the start small pictures of images are made that have none yet [ms]."""
SOUND_MS = 20_000
"""How long after the start the farm file is looked through [ms]: once the start's own work is done."""
LOOK_MS = 1000
"""How often edits of other programs are looked for, and whether a new day began [ms]."""


def show(opening: Opening, waiting: QWidget | None = None) -> int:
    """Show the farm that is being opened, and those started from it, until the window is closed; return the status.

    A window that was shown meanwhile goes once that of the farm is there.
    """
    asked: list[Made] = []
    status = _shown(opening, Text(""), asked, waiting)
    while asked:
        collecting.let_go()
        made = asked.pop()
        status = _shown(Opening(made.path, made.as_of), made.words, asked)
    return status


def _shown(opening: Opening, words: Text, asked: list[Made], waiting: QWidget | None = None) -> int:
    """Show one farm; where it cannot be opened, show why and the ways back."""
    try:
        return show_one(opening, words, asked, waiting)
    except StoreError as why:
        from pigmap.qt.refused_farm import ask_way_back  # most farms open

        if waiting is not None:
            waiting.deleteLater()
        made = ask_way_back(opening.path, why)
        if made is None:
            raise
        asked.append(made)
        return 1


def show_one(opening: Opening, words: Text, asked: list[Made], waiting: QWidget | None = None) -> int:
    """Show one farm until its window is closed, or until another is asked for; return the exit status.

    Parameters
    ----------
    opening
        The farm, as it is being read.
    words
        What to say of it once it is shown.
    asked
        Takes the farm that is to be shown next.
    waiting
        A window that is shown in its place as long as it is not there.
    """
    app = application()
    app.setQuitOnLastWindowClosed(True)
    kept: list[QObject] = []
    try:
        poster = Poster(app)
        kept.append(poster)
        with opening.session(poster.post) as session:
            stage = _stage(session, opening)
            kept.append(stage)
            return _show_session(stage, words, asked, waiting)
    finally:
        for each in kept:  # once the session is closed nothing is posted or told any more
            let_go(each)


def _stage(session: Session, opening: Opening) -> Stage:
    """Return the stage of a session as the person who opened it wants it, and remember the farm as theirs."""
    personal = load_personal()
    save_personal(personal.with_farm(str(opening.path.resolve())))
    today = date.today() if session.past is None else session.past.at.astimezone().date()
    stage = stage_for(session, today, theme=theme_named(personal.theme), text_pt=personal.text_pt)
    stage.language = sort_of(personal.language or usual_language())
    return stage


def _show_session(stage: Stage, words: Text, asked: list[Made], waiting: QWidget | None) -> int:
    """Show the window of a stage until it is closed, or until another farm is asked for."""
    uncatch = catch_faults(stage)
    stop = follow(stage)
    window = Window(stage)
    look = QTimer(window, interval=LOOK_MS)
    watching = Watching(stage, window)
    look.timeout.connect(lambda: look_round(stage, watching))
    look.start()
    window.map.first_frame.connect(lambda: read_on(stage, watching))
    open_window(window)
    if waiting is not None:
        window.map.first_frame.connect(waiting.deleteLater)
    QTimer.singleShot(0, window, lambda: say_what_is_amiss(stage))
    if words:
        QTimer.singleShot(0, window, lambda: stage.notice(words))
    stage.farm_asked.connect(lambda made: _go_to(made, asked))
    jobs = Jobs(window)
    QTimer.singleShot(SMALL_PICTURES_MS, window, lambda: make_small_pictures(stage, jobs))
    QTimer.singleShot(SMALL_PICTURES_MS, window, lambda: keep_backups(stage, jobs))
    QTimer.singleShot(SOUND_MS, window, lambda: look_through_file(stage))
    try:
        status = QApplication.exec()
        if watching.unread is not None:
            raise watching.unread
        return status
    finally:
        QApplication.setQuitOnLastWindowClosed(not asked)  # between two windows there is none for a moment
        look.stop()
        stop()
        leave_file(stage)
        jobs.close()
        window.close_down()
        uncatch()
        take_down(window)


def _go_to(made: Made, asked: list[Made]) -> None:
    asked.append(made)
    QApplication.exit(0)


def open_window(window: Window) -> None:
    """Show the window in its usual size, with the keys."""
    show_usual(window)
    window.setFocus()


def read_on(stage: Stage, watching: Watching) -> None:
    """Read what is left of a large farm once its first picture is there, and say so."""
    if not are_read(stage.session.farm.checks):
        stage.notice(Text("Older daily checks are still being read: colours of the ground and edits wait for them."))
        watching.look()
    else:
        collecting.go_on()


def look_round(stage: Stage, watching: Watching) -> None:
    """Pick up edits of other programs, and go on to the new day after midnight."""
    watching.look()
    if stage.session.past is not None:
        return  # there it stays the day that it is
    today = date.today()
    if today != stage.today:
        followed = stage.day == stage.today
        stage.today = today
        if followed:
            stage.show_day(today)
        else:
            stage.day_changed.emit(stage.day)


def make_small_pictures(stage: Stage, jobs: Jobs) -> None:
    """Make the small pictures of images that have none yet, so that the next start shows them in its first frame."""
    images = FarmImages(stage.session)
    missing = [uid for uid in stage.session.farm.images if images.overview(uid) is None]

    def work(progress: Progress, stop: Stop) -> int:
        try:
            from pigmap.session.slow_images import is_slow

            quick = (uid for uid in missing if not stop() and not is_slow(images, uid))
            return sum(images.overview(uid, make=True) is not None for uid in quick)
        finally:
            images.close()

    if missing:
        jobs.run(work)


def keep_backups(stage: Stage, jobs: Jobs) -> None:
    """Have backups kept from now on."""
    from pigmap.qt.backing_up import BackingUp  # not before the first frame

    BackingUp(stage, jobs)


def look_through_file(stage: Stage) -> None:
    """Look in the background whether the farm file is sound."""
    from pigmap.qt.soundness import soundness_of  # not before the first frame

    soundness_of(stage).look()


def leave_file(stage: Stage) -> None:
    """Stop looking through the farm file, if that is being done."""
    from pigmap.qt.soundness import Soundness

    looking = stage.findChild(Soundness)
    if looking is not None:
        looking.close()


def say_what_is_amiss(stage: Stage) -> None:
    """Say what is to be known of the farm file as it was opened."""
    if stage.session.read_only and stage.session.past is None:
        stage.notice(Text("{why}", {"why": stage.session.read_only}), "care")
    for note in stage.session.notes:
        stage.notice(note, "refused")
