"""A window for a farm that cannot be opened: why, and the ways back, each of them one button."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QEventLoop, Qt
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QLabel, QProgressBar, QPushButton, QVBoxLayout, QWidget

from pigmap.drawing.english import sort_of
from pigmap.drawing.tokens import THEMES
from pigmap.drawing.words import day_words, render
from pigmap.errors import PigmapError
from pigmap.qt import fonts
from pigmap.qt.files import choose_file, usual_language
from pigmap.qt.following import sentence
from pigmap.qt.jobs import Jobs, Work
from pigmap.qt.starting import application, show_usual, take_down, text_scale, theme_named
from pigmap.qt.theme import palette, style_sheet
from pigmap.session.new_farm import Made
from pigmap.session.personal import load_personal
from pigmap.session.rescuing import Backup, backup_opened, may_be_rescued, newest_good, rescued
from pigmap.text import Text

TEXT_PX, WIDE = 16, 620


class RefusedFarm(QWidget):
    """Says it, and offers what can be done; `made` is the farm to open instead once it is known."""

    def __init__(self, path: Path, why: PigmapError) -> None:
        super().__init__()
        personal = load_personal()
        theme = THEMES[theme_named(personal.theme)]
        self._path = path
        self._scale = text_scale(personal.text_pt)
        self._language = sort_of(personal.language or usual_language())
        self._jobs = Jobs(self)
        self.loop = QEventLoop(self)
        self.made: Made | None = None
        self.setWindowTitle("pigmap")
        application().setPalette(palette(theme))
        self.setStyleSheet(style_sheet(theme))
        self.setFont(fonts.font(TEXT_PX * self._scale))
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(48, 48, 48, 48)
        self._column.setSpacing(12)
        self._column.addStretch(1)
        self.said = self._words()
        self._bar = QProgressBar(self)
        self._bar.setRange(0, 100)
        self._bar.setAccessibleName(self._say(Text("How much is done")))
        self._bar.hide()
        self.buttons: list[QPushButton] = []
        self._offer_all()
        self._column.addWidget(self._bar, 0, Qt.AlignmentFlag.AlignHCenter)
        self._column.addStretch(2)
        self._tell(sentence(why))
        self.buttons[0].setFocus()

    def _words(self) -> QLabel:
        label = QLabel(self)
        label.setWordWrap(True)
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setFont(fonts.font(TEXT_PX * self._scale))
        label.setFixedWidth(round(WIDE * self._scale))
        label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._column.addWidget(label, 0, Qt.AlignmentFlag.AlignHCenter)
        return label

    def _offer_all(self) -> None:
        backup = newest_good(self._path)
        if may_be_rescued(self._path):
            self._offer(Text("Write a rescued copy and open it"), self._rescue)
        if backup is not None:
            self._offer(self._backup_words(backup), lambda: self._go_back(backup))
        self._offer(Text("Open another farm"), self._choose)
        self._offer(Text("Close"), self.close)

    def _backup_words(self, backup: Backup) -> Text:
        day = day_words(backup.made_at.date(), "short year", language=self._language)
        return Text("Open the newest backup: {day}, {time}", {"day": day, "time": f"{backup.made_at:%H:%M}"})

    def _offer(self, words: Text, deed: Callable[[], object]) -> None:
        button = QPushButton(self._say(words), self)
        button.setFont(fonts.font(TEXT_PX * self._scale, 500))
        button.setMinimumSize(round(WIDE * self._scale), round(48 * self._scale))
        button.clicked.connect(lambda: deed())
        self._column.addWidget(button, 0, Qt.AlignmentFlag.AlignHCenter)
        self.buttons.append(button)

    def _say(self, words: Text) -> str:
        return render(words, language=self._language)

    def _tell(self, words: Text) -> None:
        said = self._say(words)
        self.said.setText(said.replace("/", "/\u200b").replace("\\", "\\\u200b"))  # a long path may break there
        self.said.setAccessibleName(said)
        self.said.setFixedHeight(self.said.heightForWidth(self.said.width()))

    def _rescue(self) -> None:
        path = self._path
        self._run(lambda progress, stop: rescued(path, progress))

    def _go_back(self, backup: Backup) -> None:
        path = self._path
        self._run(lambda progress, stop: backup_opened(backup, path))

    def _choose(self) -> None:
        chosen = choose_file(self, self._say(Text("Open a farm")), self._say(Text("Farm files (*.gpkg)")))
        if chosen:
            self._done(Made(Path(chosen)))

    def _run(self, work: Work) -> None:
        for button in self.buttons:
            button.setEnabled(False)
        self._bar.show()
        job = self._jobs.run(work)
        job.progressed.connect(lambda share: self._bar.setValue(round(share * 100)))
        job.done.connect(self._done)
        job.failed.connect(self._failed)

    def _done(self, made: object) -> None:
        if isinstance(made, Made):
            self.made = made
            self.loop.quit()

    def _failed(self, why: object) -> None:
        for button in self.buttons:
            button.setEnabled(True)
        self._bar.hide()
        if isinstance(why, PigmapError):
            self._tell(sentence(why))

    def closeEvent(self, event: QCloseEvent) -> None:
        """Give up."""
        self.loop.quit()
        super().closeEvent(event)

    def close_down(self) -> None:
        """Wait for what is being written."""
        self._jobs.close()


def ask_way_back(path: Path, why: PigmapError) -> Made | None:
    """Show why a farm cannot be opened until a way back was chosen; None where there was none, or none was wanted."""
    app = application()
    app.setQuitOnLastWindowClosed(False)
    window = RefusedFarm(path, why)
    show_usual(window)
    window.loop.exec()
    window.close_down()
    made = window.made
    take_down(window)
    return made
