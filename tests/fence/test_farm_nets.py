from __future__ import annotations

import pytest

from pigmap.fence.farm_nets import sides_of_block, with_second_sets, with_spare_set


@pytest.mark.parametrize(("groups", "nets"), [(1, 7), (2, 11), (3, 15), (4, 19), (6, 27), (8, 35), (10, 43)])
def test_one_spare_set_serves_all_groups(groups: int, nets: int) -> None:
    assert with_spare_set(groups) == nets
    assert with_spare_set(groups, carried=4) == nets + 1
    assert with_spare_set(groups, crews=2) == nets + 3


@pytest.mark.parametrize(("groups", "nets"), [(1, 8), (2, 16), (3, 24), (4, 32), (6, 48), (8, 64), (10, 80)])
def test_second_sets_take_as_many_again(groups: int, nets: int) -> None:
    assert with_second_sets(groups) == nets
    assert with_second_sets(groups, carried=3) == nets - groups


@pytest.mark.parametrize(("rows", "columns"), [(1, 1), (1, 6), (2, 3), (4, 4)])
def test_a_block_has_each_side_once(rows: int, columns: int) -> None:
    sides = set()
    for row in range(rows):
        for column in range(columns):
            sides |= {("across", row, column), ("across", row + 1, column)}
            sides |= {("along", row, column), ("along", row, column + 1)}
    assert sides_of_block(rows, columns) == len(sides)
