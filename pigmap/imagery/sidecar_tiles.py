"""One kept tile as bytes: JPEG where all of it is data, else without loss; and half as large for the level above."""

from __future__ import annotations

import zlib
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

NOTHING, JPEG, EXACT = 0, 1, 2
"""Kinds of tiles: no data at all, all of it data, some of each."""

QUALITY = 88
"""Of the JPEG tiles. Common practice for aerial images: what it loses is below the grain of the picture."""
_OPAQUE = 0xFF000000
"""Alpha is the highest byte of a pixel."""
_FAST = 1
"""How hard the exact tiles are packed: more takes twice the time for a hundredth of the bytes."""


class Packed(NamedTuple):
    """A tile as it is kept."""

    kind: int
    content: bytes


def packed(tile: NDArray[np.uint8], *, exact: bool = False) -> Packed:
    """Return a tile as bytes.

    Parameters
    ----------
    tile
        Red, green, blue and alpha, (rows, columns, 4).
    exact
        Lose nothing: for few and flat colours, round which a JPEG would leave a fringe.
    """
    tile = np.ascontiguousarray(tile)
    if not exact and _is_opaque(tile):
        return _jpeg(tile, "RGBA")
    return _packed_exactly(for_the_screen(tile))


def packed_for_the_screen(tile: NDArray[np.uint8], *, exact: bool = False) -> Packed:
    """Return a tile of blue, green, red and alpha, the colours multiplied by alpha, as bytes."""
    return _jpeg(tile, "BGRA") if not exact and _is_opaque(tile) else _packed_exactly(tile)


def _is_opaque(tile: NDArray[np.uint8]) -> bool:
    return bool(tile.view("<u4").min() >= _OPAQUE)  # a tenth of the time of looking at alpha alone


def _jpeg(tile: NDArray[np.uint8], order: str) -> Packed:
    from simplejpeg import encode_jpeg

    return Packed(JPEG, encode_jpeg(tile, quality=QUALITY, colorspace=order, colorsubsampling="420", fastdct=False))


def _packed_exactly(tile: NDArray[np.uint8]) -> Packed:
    if not tile[..., 3].any():
        return Packed(NOTHING, b"")
    rows, columns = tile.shape[:2]
    content = zlib.compress(tile.tobytes(), _FAST)
    return Packed(EXACT, rows.to_bytes(2, "little") + columns.to_bytes(2, "little") + content)


def unpacked(kept: Packed) -> NDArray[np.uint8]:
    """Return the tile that was packed; of a tile of nothing, nothing.

    Raises
    ------
    ValueError
        If its bytes are damaged.
    """
    from simplejpeg import decode_jpeg

    if kept.kind == JPEG:
        return np.asarray(decode_jpeg(kept.content, "BGRA"), dtype=np.uint8)
    if kept.kind == EXACT:
        return _exact(kept.content)
    return np.zeros((0, 0, 4), dtype=np.uint8)


def halved(kept: Packed, size: tuple[int, int]) -> NDArray[np.uint8]:
    """Return a tile of (rows, columns) in half of them, each pixel the mean of the four it takes in.

    A JPEG is decoded in that size at once: the same mean, in less time than decoding it whole.

    Raises
    ------
    ValueError
        If its bytes are damaged.
    """
    from simplejpeg import decode_jpeg

    rows, columns = (-(-side // 2) for side in size)
    if kept.kind == NOTHING:
        return np.zeros((rows, columns, 4), dtype=np.uint8)
    if kept.kind == EXACT:
        return mean_of_four(_exact(kept.content))
    half = np.asarray(decode_jpeg(kept.content, "BGRA", min_height=rows, min_width=columns), dtype=np.uint8)
    if half.shape != (rows, columns, 4):
        raise ValueError(half.shape)
    return half


def mean_of_four(picture: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Return a picture of half its rows and columns; what is beyond an odd edge counts as that edge."""
    rows, columns = picture.shape[:2]
    if rows % 2 or columns % 2:
        picture = np.pad(picture, ((0, rows % 2), (0, columns % 2), (0, 0)), mode="edge")
    pairs = picture[0::2].astype(np.uint16)
    pairs += picture[1::2]
    four = pairs[:, 0::2] + pairs[:, 1::2]
    four += 2
    four >>= 2
    return four.astype(np.uint8)


def for_the_screen(picture: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Return red, green, blue and alpha as blue, green, red and alpha, the colours multiplied by alpha."""
    turned, alpha = np.empty_like(picture), picture[..., 3]
    part = (alpha > 0) & (alpha < 255)
    for band in range(3):
        turned[..., 2 - band] = np.where(alpha > 0, picture[..., band], 0)
    turned[..., 3] = alpha
    if part.any():
        turned[part, :3] = (turned[part, :3].astype(np.uint16) * alpha[part, None] + 127) // 255
    return turned


def _exact(content: bytes) -> NDArray[np.uint8]:
    rows, columns = int.from_bytes(content[:2], "little"), int.from_bytes(content[2:4], "little")
    try:
        values = bytearray(zlib.decompress(content[4:]))
        return np.frombuffer(values, dtype=np.uint8).reshape(rows, columns, 4)
    except zlib.error as why:
        raise ValueError(str(why)) from why
