"""The window; the first ring that may import Qt.

What it needs from the rings below is loaded here, before Qt is: the farm is read meanwhile.
"""

from __future__ import annotations

import pigmap.drawing.scene
import pigmap.drawing.tinted
import pigmap.drawing.words
import pigmap.planning.rule
import pigmap.session.ground_keeper
import pigmap.session.images  # noqa: F401
