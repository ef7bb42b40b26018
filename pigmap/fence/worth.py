"""What shapes of paddocks give for the nets that they take: ground closed, nets carried."""

from __future__ import annotations


def square_m2(nets: int, net_m: float) -> float:
    """Return the area of the square that some nets close, corners wherever they fall [m²].

    Examples
    --------
    >>> square_m2(4, 50.0), square_m2(6, 50.0)
    (2500.0, 5625.0)
    """
    return (nets * net_m / 4.0) ** 2


def square_m2_per_net(nets: int, net_m: float) -> float:
    """Return the area of that square for each net [m²]: it grows with every net.

    Examples
    --------
    >>> square_m2_per_net(4, 50.0), square_m2_per_net(6, 50.0)
    (625.0, 937.5)
    """
    return nets * net_m**2 / 16.0


def oblong_share(aspect: float) -> float:
    """Return the area of an oblong as a share of the square with the same length round.

    Parameters
    ----------
    aspect
        How many times as long as wide it is.

    Examples
    --------
    >>> oblong_share(1.0), oblong_share(3.0)
    (1.0, 0.75)
    """
    return 4.0 * aspect / (1.0 + aspect) ** 2


def carried_share(side_m: float, deep_m: float, shared: int = 1) -> float:
    """Return the nets that are carried as a share of those round an oblong of which sides are shared.

    Parameters
    ----------
    side_m, deep_m
        The side that is shared, and the one beside it [m].
    shared
        Sides that stand: 0, 1, or 2 that meet, as at an inner corner of a block.

    Examples
    --------
    >>> carried_share(50.0, 50.0), carried_share(50.0, 50.0, shared=2)
    (0.75, 0.5)
    """
    return 1.0 - (0.0, side_m, side_m + deep_m)[shared] / (2.0 * (side_m + deep_m))


def best_beside(carried_m: float) -> tuple[float, float]:
    """Return the side to share and the depth that close most ground with what is carried [m].

    Derived: half of what is carried lies across from a shared side of the same length, a quarter at each end. So
    oblongs that go forward across their long side beat squares.

    Examples
    --------
    >>> best_beside(200.0)
    (100.0, 50.0)
    """
    return carried_m / 2.0, carried_m / 4.0


def m2_per_carried_m(side_m: float, deep_m: float) -> float:
    """Return the ground closed for each metre carried where one side is shared [m²/m].

    Examples
    --------
    >>> m2_per_carried_m(100.0, 50.0), round(m2_per_carried_m(50.0, 50.0), 1)
    (25.0, 16.7)
    """
    return side_m * deep_m / (side_m + 2.0 * deep_m)
