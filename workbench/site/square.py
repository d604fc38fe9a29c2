"""Taped diagonals and walls: how far a building line is out of square, and the corners that fit the tape. Inches.

Of all outlines with the taped lengths the one is taken whose corners moved least (sum of squares), found by Newton's
method on the lengths with the least step each time. It is then laid back on its first corner and along its first edge,
which is what a crew strings its lines from. Source: least squares; geometry.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from workbench.findings import COMMON_PRACTICE, GEOMETRY, Finding
from workbench.job.as_built import AsBuilt, Taped
from workbench.measure import Trace, Units
from workbench.roof.model import Point2
from workbench.roof.solved import BuiltWing
from workbench.site.model import Squaring, TapedLength

Floats = NDArray[np.float64]

_ROUNDS = 40
_FIT_IN = 1e-6
_OUT_IN = 1.0 / 8.0
"""Out of square by less than this is not told (common practice, no source)."""


def squarings(
    wings: Sequence[BuiltWing], as_built: AsBuilt, units: Units
) -> tuple[tuple[Squaring, ...], tuple[Finding, ...]]:
    """What was taped on each wing, and what it says."""
    found: list[Squaring] = []
    findings: list[Finding] = []
    known = {built.effective.id for built in wings}
    for built in wings:
        wing = built.effective
        outline = wing.outline if built.solved is None else built.solved.outline
        corners = {edge.id: i for i, edge in enumerate(wing.edges)}
        tapes = [t for t in as_built.tapes_of(wing.id) if t.start in corners and t.end in corners]
        if len(tapes) < len(as_built.tapes_of(wing.id)):
            findings.append(_without(wing.id, wing.name))
        if tapes:
            one = square_up(wing.id, wing.name, outline, [(corners[t.start], corners[t.end]) for t in tapes], tapes)
            found.append(one)
            findings += _said(one, units)
    findings += [_without(wing, wing) for wing in dict.fromkeys(t.wing for t in as_built.tapes) if wing not in known]
    return tuple(found), tuple(findings)


def square_up(
    wing: str, name: str, outline: Sequence[Point2], pairs: Sequence[tuple[int, int]], tapes: Sequence[Taped]
) -> Squaring:
    """The outline with its corners moved least so that the taped lengths fit.

    Args:
        wing: Wing id.
        name: Its name.
        outline: The building line as drawn.
        pairs: Numbers of the corners each tape runs between.
        tapes: What was taped.
    """
    drawn = np.array(outline, dtype=float)
    wanted = np.array([tape.length_in for tape in tapes])
    moved = _laid_back(drawn, _fitted(drawn, pairs, wanted))
    fitted = _lengths(moved, pairs)
    before = _lengths(drawn, pairs)
    fits = bool(np.all(np.abs(fitted - wanted) < 1e-3))
    lengths = tuple(
        TapedLength(f"corner {i + 1} to corner {j + 1}", float(a), float(t), float(b))
        for (i, j), a, t, b in zip(pairs, before, wanted, fitted, strict=True)
    )
    out = _diagonals(len(drawn), pairs, before, wanted)
    # Without the noise of the last bits: what lies on the first edge's line stays on it.
    corners = tuple((round(float(x), 9), round(float(y), 9)) for x, y in (moved if fits else drawn))
    shifts = tuple((x - a, y - b) for (x, y), (a, b) in zip(corners, outline, strict=True))
    trace = Trace(
        f"out of square, {name}",
        0.0 if out is None else out,
        "in",
        "(diagonal 1 − diagonal 2) as taped − the same as drawn; corners moved least so that every length fits",
        "; ".join(f"{one.name}: taped {one.measured_in:.4f}, drawn {one.drawn_in:.4f} in" for one in lengths),
        f"least squares; {GEOMETRY}",
    )
    return Squaring(wing, name, lengths, out, shifts, corners, fits, trace)


def _diagonals(count: int, pairs: Sequence[tuple[int, int]], drawn: Floats, taped: Floats) -> float | None:
    """Difference of the two diagonals of a four-cornered outline against the drawing; None where there are not two."""
    if count != 4:
        return None
    index = {frozenset(pair): k for k, pair in enumerate(pairs)}
    first, second = index.get(frozenset((0, 2))), index.get(frozenset((1, 3)))
    if first is None or second is None:
        return None
    return float((taped[first] - taped[second]) - (drawn[first] - drawn[second]))


def _lengths(points: Floats, pairs: Sequence[tuple[int, int]]) -> Floats:
    return np.array([math.dist(points[i], points[j]) for i, j in pairs])


def _fitted(drawn: Floats, pairs: Sequence[tuple[int, int]], wanted: Floats) -> Floats:
    """Least change of the corners that gives the wanted lengths."""
    points = drawn.copy()
    for _ in range(_ROUNDS):
        rows = np.zeros((len(pairs), drawn.size))
        for k, (i, j) in enumerate(pairs):
            apart = points[i] - points[j]
            unit = apart / max(float(np.hypot(*apart)), 1e-9)
            rows[k, 2 * i : 2 * i + 2], rows[k, 2 * j : 2 * j + 2] = unit, -unit
        miss = wanted - _lengths(points, pairs)
        # From the drawing: the least move whose lengths, straightened at where we are, come out as wanted.
        target = miss + rows @ (points - drawn).ravel()
        step = np.asarray(np.linalg.lstsq(rows, target, rcond=None)[0], dtype=np.float64)
        following = drawn + step.reshape(drawn.shape)
        if float(np.abs(following - points).max()) < 1e-10:
            return following
        points = following
    return points


def _laid_back(drawn: Floats, moved: Floats) -> Floats:
    """The outline turned and slid so that its first corner and the direction of its first edge are the drawn ones."""
    before, after = drawn[1] - drawn[0], moved[1] - moved[0]
    turn = math.atan2(before[1], before[0]) - math.atan2(after[1], after[0])
    rotation = np.array([[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]])
    return drawn[0] + (moved - moved[0]) @ rotation.T


def _said(one: Squaring, units: Units) -> list[Finding]:
    if not one.fits:
        text = (
            f"{one.name}: no outline has all the taped lengths at once; tape them again, and look for a slip of a foot."
        )
        return [Finding("tapes-do-not-fit", "warning", one.wing, text, GEOMETRY)]
    furthest = max(math.hypot(*shift) for shift in one.shifts)
    if furthest < _OUT_IN:
        return []
    number = max(range(len(one.shifts)), key=lambda i: math.hypot(*one.shifts[i])) + 1
    square = ""
    if one.out_of_square_in is not None and abs(one.out_of_square_in) >= _OUT_IN / 2.0:
        square = f" The diagonals differ by {units.length(abs(one.out_of_square_in))}."
    text = (
        f"{one.name}: as taped the building line is not the drawn one.{square} With corner 1 and the first edge held, "
        f"corner {number} lies {units.length(furthest)} off; rack the walls true before they are braced, or take the "
        "corrected outline over."
    )
    return [Finding("out-of-square", "warning", one.wing, text, COMMON_PRACTICE)]


def _without(wing: str, name: str) -> Finding:
    text = f'Lengths taped on "{name}" name corners it has not now; they wait in the job unused.'
    return Finding("taped-without-corner", "warning", wing, text, COMMON_PRACTICE)
