"""Lumber: nominal sections and the lengths it is sold in (common practice, no source)."""

from __future__ import annotations

from bisect import bisect_left

from workbench.measure import Units

NOMINAL_DEPTHS_IN = {3.5: 4, 5.5: 6, 7.25: 8, 9.25: 10, 11.25: 12}
NOMINAL_THICKNESSES_IN = {0.75: 1, 1.5: 2, 2.5: 3, 3.5: 4}
STOCK_LENGTHS_IN = tuple(12.0 * feet for feet in (8, 10, 12, 14, 16, 18, 20, 22, 24))
_NOISE_IN = 1e-6


def section_name(thickness_in: float, depth_in: float) -> str:
    """Nominal name of a dressed section, such as ``2x8``; its dressed size in full where it has none."""
    thickness, depth = NOMINAL_THICKNESSES_IN.get(thickness_in), NOMINAL_DEPTHS_IN.get(depth_in)
    if thickness is None or depth is None:
        units = Units()
        return f"{units.length(thickness_in)} x {units.length(depth_in)}"
    return f"{thickness}x{depth}"


def nominal_depth(at_least_in: float) -> float | None:
    """Least dressed depth that is not under this, inches; None where no sawn board is deep enough."""
    return next((depth for depth in NOMINAL_DEPTHS_IN if depth >= at_least_in - _NOISE_IN), None)


def stock_length(length_in: float, sold_in: tuple[float, ...] = STOCK_LENGTHS_IN) -> float | None:
    """Shortest length sold that a piece can be cut from, inches; None where it is longer than any."""
    at = bisect_left(sold_in, length_in - _NOISE_IN)
    return sold_in[at] if at < len(sold_in) else None


def cheapest_run(
    length_in: float, joints_in: tuple[float, ...], sold_in: tuple[float, ...] = STOCK_LENGTHS_IN
) -> tuple[tuple[float, float], ...] | None:
    """Split a long run into boards that meet on given points, buying the fewest feet, then the fewest boards.

    Args:
        length_in: Length of the run, from 0.
        joints_in: Where boards may meet.
        sold_in: Lengths that can be had, shortest first.

    Returns:
        Start and end of each board, inches; None where no split fits the lengths sold.
    """
    points = [0.0, *sorted(x for x in joints_in if _NOISE_IN < x < length_in - _NOISE_IN), length_in]
    best: list[tuple[float, int, int] | None] = [None] * len(points)
    best[0] = (0.0, 0, -1)
    for j in range(1, len(points)):
        for i in range(j):
            stock, before = stock_length(points[j] - points[i], sold_in), best[i]
            if stock is None or before is None:
                continue
            option = (before[0] + stock, before[1] + 1, i)
            now = best[j]
            if now is None or option[:2] < now[:2]:
                best[j] = option
    boards: list[tuple[float, float]] = []
    j = len(points) - 1
    while j > 0:
        step = best[j]
        if step is None:
            return None
        boards.append((points[step[2]], points[j]))
        j = step[2]
    return tuple(reversed(boards))
