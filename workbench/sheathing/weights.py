"""Weights of shares of a sheet: shares that add up to 1 at most have weights that add up to 1 at most.

Also known as dual feasible functions. Each is taken on its lower side where arithmetic can't tell a break from its
neighbourhood, which keeps the property.
"""

from __future__ import annotations

import math
from collections.abc import Callable

Weight = Callable[[float], float]

_SAME_SHARE = 1e-7  # wider than what a blank may be over the room it is put in


def share_weight(share: float) -> float:
    """The share itself."""
    return share


def half_weight(share: float) -> float:
    """1 for more than half, 1/2 for half, 0 for less."""
    if share > 0.5 + _SAME_SHARE:
        return 1.0
    return 0.5 if share >= 0.5 else 0.0


def stepped(parts: int) -> Weight:
    """With n parts: the share where (n + 1) · share is whole, otherwise its whole part over n.

    The pieces of one sheet that are not exact multiples of 1 / (n + 1) have whole parts that add up to n at most.
    """

    def weight(share: float) -> float:
        scaled = (parts + 1) * share
        whole = math.floor(scaled)
        if scaled - whole <= (parts + 1) * _SAME_SHARE:
            return whole / (parts + 1)
        return min(whole / parts, 1.0)

    return weight


def trimmed(least: float) -> Weight:
    """1 above 1 - least, nothing below least, the share itself between; ``least`` is a half at most."""

    def weight(share: float) -> float:
        if share > 1.0 - least + _SAME_SHARE:
            return 1.0
        return share if share >= least else 0.0

    return weight
