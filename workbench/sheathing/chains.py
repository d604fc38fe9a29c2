"""Whether tall pieces can lie one after the other in a sheet: every order, every lean of the cuts between them. Inches.

Tall pieces all meet the sheet's middle line, in one order, and a straight cut parts each two neighbours. For two convex
pieces the room that a cut of lean s leaves between them on the middle line is concave in s and straight between the
leans of their edges, so it is greatest at one of these: no order is missed by trying those only. A cut of any lean
takes a kerf of the middle line at least. Where a cut along the sheet's middle takes nothing, one kerf is spared.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from workbench.sheathing.kinds import Kind, lie_between
from workbench.sheathing.packing import SheetRules

_FIT_IN = 1e-4
_MOST = 7


def chain_fits(pieces: Sequence[Kind], rules: SheetRules) -> bool:
    """Whether these tall pieces may all come out of one sheet; True where that is not known.

    Args:
        pieces: Their kinds, one a piece.
        rules: The sheet and the saw.
    """
    if not 1 < len(pieces) <= _MOST or not all(kind.convex for kind in pieces):
        return True
    room = rules.length_in + (rules.kerf_in if rules.halves_nominal else 0.0) + _FIT_IN
    leans = sorted({0.0}.union(*(kind.leans for kind in pieces)))
    runs = [_runs(kind, tuple(leans), rules.width_in) for kind in pieces]
    full = (1 << len(pieces)) - 1
    straight = leans.index(0.0)
    # least[mask][lean]: least length taken by the pieces of the mask up to a cut of a lean.
    least: list[dict[int, float]] = [{} for _ in range(full + 1)]
    least[0][straight] = 0.0
    for mask in range(full):
        for left, taken in least[mask].items():
            for p, run in enumerate(runs):
                if mask >> p & 1:
                    continue
                after = mask | 1 << p
                last = after == full
                for right in (straight,) if last else range(len(leans)):
                    length = taken + run[left][right] + (0.0 if last else rules.kerf_in)
                    if length <= room and length < least[after].get(right, room + 1.0):
                        least[after][right] = length
    return straight in least[full]


@lru_cache(maxsize=8192)
def _runs(kind: Kind, leans: tuple[float, ...], width_in: float) -> list[list[float]]:
    """What a piece takes between cuts of every two leans."""
    ring = kind.shape.ring
    return [[max(lie_between(ring, a, b, width_in, kind.mirrors).takes_in, 0.0) for b in leans] for a in leans]
