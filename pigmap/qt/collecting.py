"""The collector of dropped objects rests while the window is loaded: nearly all that is made then stays.

Afterwards it never looks at what was loaded again, so that it does not stop a drag for that either.
"""

from __future__ import annotations

import gc


def rest() -> None:
    """Let the collector rest until `go_on`."""
    gc.disable()


def go_on() -> None:
    """Let the collector work, without what is there already; nothing changes where it did not rest."""
    if not gc.isenabled():
        gc.freeze()
        gc.enable()


def let_go() -> None:
    """Look at everything once: of a farm that was left nothing stays, though it was there when the work began."""
    gc.unfreeze()
    gc.collect()
    gc.freeze()
