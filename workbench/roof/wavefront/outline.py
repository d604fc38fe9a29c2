"""Is an outline fit to carry a roof? If not: one sentence that says where and what to do."""

from __future__ import annotations

import math
from collections.abc import Sequence

from workbench.errors import BadInput
from workbench.roof.model import Point2

SHORTEST = 1e-7  # shortest edge, and narrowest gap, as a part of the outline's extent
_FLAT = 1e-9  # sine of the angle under which two directions count as one

_Segment = tuple[float, float, float, float]


def extent(outline: Sequence[Point2]) -> float:
    """The larger of the outline's width and depth, inches."""
    xs, ys = [p[0] for p in outline], [p[1] for p in outline]
    return max(max(xs) - min(xs), max(ys) - min(ys))


def check_outline(outline: Sequence[Point2]) -> None:
    """Check that an outline is a simple polygon listed anticlockwise.

    Args:
        outline: Plan corners in inches, without repeating the first at the end.

    Raises:
        BadInput: It has fewer than three corners, a corner that is not a point, equal corners, an edge that folds
            back, edges that cross or touch, or it runs clockwise. Corners and edges are counted from 1.
    """
    if len(outline) < 3:
        raise BadInput(f"The outline has only {_count(len(outline))}; draw at least three.")
    for number, corner in enumerate(outline, 1):
        if not (math.isfinite(corner[0]) and math.isfinite(corner[1])):
            raise BadInput(f"Corner {number} of the outline is not a finite point; give it two finite lengths.")
    near = SHORTEST * extent(outline)
    _check_distinct(outline, near)
    _check_folds(outline)
    _check_crossings(outline, near)
    if _twice_area(outline) < 0.0:
        raise BadInput("The outline runs clockwise; list its corners anticlockwise, the other way round.")


def _count(corners: int) -> str:
    return {0: "no corners", 1: "1 corner"}.get(corners, f"{corners} corners")


def _place(x: float, y: float) -> str:
    return f"({x:.6g}, {y:.6g})"


def _twice_area(outline: Sequence[Point2]) -> float:
    x0, y0 = outline[0]
    turned = [*outline[1:], outline[0]]
    return sum((a[0] - x0) * (b[1] - y0) - (b[0] - x0) * (a[1] - y0) for a, b in zip(outline, turned, strict=True))


def _check_distinct(outline: Sequence[Point2], near: float) -> None:
    order = sorted(range(len(outline)), key=lambda k: outline[k][0])
    for rank, i in enumerate(order):
        for j in order[rank + 1 :]:
            if outline[j][0] - outline[i][0] > near:
                break
            if abs(outline[j][1] - outline[i][1]) <= near:
                first, second = sorted((i + 1, j + 1))
                raise BadInput(
                    f"Corners {first} and {second} of the outline are the same point {_place(*outline[i])}; "
                    f"remove or move corner {second}."
                )


def _check_folds(outline: Sequence[Point2]) -> None:
    n = len(outline)
    for k in range(n):
        (ax, ay), (bx, by), (cx, cy) = outline[k - 1], outline[k], outline[(k + 1) % n]
        ux, uy, vx, vy = bx - ax, by - ay, cx - bx, cy - by
        size = math.hypot(ux, uy) * math.hypot(vx, vy)
        if abs(ux * vy - uy * vx) <= _FLAT * size and ux * vx + uy * vy < 0.0:
            raise BadInput(
                f"Edge {k + 1} of the outline folds back over edge {(k - 1) % n + 1} at corner {k + 1} "
                f"{_place(bx, by)}; move or remove that corner."
            )


def _check_crossings(outline: Sequence[Point2], near: float) -> None:
    n = len(outline)
    edges = [(*outline[k], *outline[(k + 1) % n]) for k in range(n)]
    boxes = [(min(a, c) - near, min(b, d) - near, max(a, c), max(b, d)) for a, b, c, d in edges]
    for i in range(n - 2):
        left, low, right, high = boxes[i]
        for j in range(i + 2, n - 1 if i == 0 else n):
            box = boxes[j]
            if box[0] <= right and left <= box[2] and box[1] <= high and low <= box[3]:
                _check_touch(i, j, edges, near)
                _check_touch(j, i, edges, near)
                _check_cross(i, j, edges)


def _check_touch(i: int, j: int, edges: Sequence[_Segment], near: float) -> None:
    """Raise if an end of edge j, which shares no corner with edge i, lies on edge i."""
    ax, ay, bx, by = edges[i]
    length = math.hypot(bx - ax, by - ay)
    ex, ey = (bx - ax) / length, (by - ay) / length
    for corner, (px, py) in ((j, edges[j][:2]), ((j + 1) % len(edges), edges[j][2:])):
        along, across = ex * (px - ax) + ey * (py - ay), ex * (py - ay) - ey * (px - ax)
        if abs(across) <= near and -near <= along <= length + near:
            raise BadInput(
                f"The outline touches itself: corner {corner + 1} {_place(px, py)} lies on edge {i + 1}; "
                "move that corner away from it."
            )


def _check_cross(i: int, j: int, edges: Sequence[_Segment]) -> None:
    """Raise if edges i and j cross."""
    ax, ay, bx, by = edges[i]
    cx, cy, dx, dy = edges[j]
    det = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
    if det == 0.0:
        return
    t = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / det
    u = ((cx - ax) * (by - ay) - (cy - ay) * (bx - ax)) / det
    if 0.0 <= t <= 1.0 and 0.0 <= u <= 1.0:
        raise BadInput(
            f"The outline crosses itself: edge {i + 1} and edge {j + 1} cross at "
            f"{_place(ax + t * (bx - ax), ay + t * (by - ay))}; move a corner so that they no longer meet."
        )
