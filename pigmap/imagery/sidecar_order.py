"""In which order the tiles of an image are made: a strip of rows, then what is coarser as soon as it can be."""

from __future__ import annotations

from collections.abc import Iterator

from pigmap.imagery.pyramid import TILE_PX, Pyramid, Spot


def level_size(pyramid: Pyramid, level: int) -> tuple[int, int]:
    """Return columns and rows of a level [px]."""
    return -(-pyramid.columns // 2**level), -(-pyramid.rows // 2**level)


def level_tiles(pyramid: Pyramid, level: int) -> tuple[int, int]:
    """Return columns and rows of a level in tiles."""
    columns, rows = level_size(pyramid, level)
    return -(-columns // TILE_PX), -(-rows // TILE_PX)


def tile_size(pyramid: Pyramid, spot: Spot) -> tuple[int, int]:
    """Return rows and columns of a tile that lie on the image [px]."""
    columns, rows = level_size(pyramid, spot.level)
    return min(TILE_PX, rows - spot.row * TILE_PX), min(TILE_PX, columns - spot.column * TILE_PX)


def in_order(pyramid: Pyramid) -> Iterator[Spot]:
    """Yield every tile, each after the four of the finer level that it is made from."""
    rows = level_tiles(pyramid, 0)[1]
    for row in range(rows):
        yield from _row(pyramid, 0, row)
        level = 0
        while level + 1 < pyramid.levels and (row % 2 or row == level_tiles(pyramid, level)[1] - 1):
            level, row = level + 1, row // 2
            yield from _row(pyramid, level, row)


def tile_count(pyramid: Pyramid) -> int:
    """Return how many tiles there are on all levels."""
    sizes = (level_tiles(pyramid, level) for level in range(pyramid.levels))
    return sum(across * down for across, down in sizes)


def finer(pyramid: Pyramid, spot: Spot) -> list[Spot]:
    """Return the tiles that a coarser one is made from: four, fewer at the edge."""
    across, down = level_tiles(pyramid, spot.level - 1)
    return [
        Spot(spot.level - 1, column, row)
        for row in range(2 * spot.row, min(2 * spot.row + 2, down))
        for column in range(2 * spot.column, min(2 * spot.column + 2, across))
    ]


def _row(pyramid: Pyramid, level: int, row: int) -> Iterator[Spot]:
    for column in range(level_tiles(pyramid, level)[0]):
        yield Spot(level, column, row)
