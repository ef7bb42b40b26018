"""Large pictures in memory that numpy asks for: on Linux in pages of 2 MB, which are copied a fifth faster.

Qt's own pictures lie in pages of 4 kB, and the processor looks up where each of them is.
"""

from __future__ import annotations

from typing import Any, cast

import numpy as np
from numpy.typing import NDArray
from PySide6.QtCore import QSize
from PySide6.QtGui import QImage


class LargePicture:
    """A picture of four bytes a pixel, and the memory that it lies in: it must live as long as the picture."""

    def __init__(self, size: QSize, kept_as: QImage.Format) -> None:
        self._memory: NDArray[np.uint32] = np.empty((size.height(), size.width()), dtype=np.uint32)
        pixels = cast("Any", self._memory.data)
        self.image = QImage(pixels, size.width(), size.height(), 4 * size.width(), kept_as)
