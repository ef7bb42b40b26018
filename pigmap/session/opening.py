"""A farm that is read while something else is loaded: SQLite and shapes let the interpreter go meanwhile."""

from __future__ import annotations

import threading
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

from pigmap.session.session import Post, Session

AT_ONCE_DAYS = 120
"""Of very many daily checks those of so many days are there with the first picture [days]. Own choice: a season."""


class Opening:
    """Opens a farm on a thread of its own.

    Parameters
    ----------
    path
        The farm file.
    as_of
        Uid of the edit after which it is shown as it was then; empty for the farm as it is.
    """

    def __init__(self, path: Path, as_of: str = "") -> None:
        self.path = path
        self._as_of = as_of
        self._post: Post | None = None
        self._session: Session | None = None
        self._refused: BaseException | None = None
        self._thread = threading.Thread(target=self._open, name="opening", daemon=True)
        self._thread.start()

    def session(self, post: Post) -> Session:
        """Wait for the farm and return it; call it once.

        Parameters
        ----------
        post
            Brings a function to the thread on which the farm is shown.

        Raises
        ------
        StoreError
            If the farm cannot be opened, as `Session.open` does.
        """
        self._post = post
        self._thread.join()
        session, self._session = self._session, None  # whoever shows it next holds this, and not the farm
        if session is None:
            assert self._refused is not None
            raise self._refused
        return session

    def _open(self) -> None:
        try:
            if self._as_of:
                from pigmap.session.past import open_past  # seldom asked for

                self._session = open_past(self.path, self._as_of, post=self._hand_on)
            else:
                later_than = date.today() - timedelta(days=AT_ONCE_DAYS)
                self._session = Session.open(self.path, post=self._hand_on, hold=True, later_than=later_than)
        except BaseException as refused:  # noqa: BLE001  (raised again where it is waited for)
            self._refused = refused

    def _hand_on(self, call: Callable[[], None]) -> None:
        assert self._post is not None, "nothing is published before the session is handed out"
        self._post(call)
