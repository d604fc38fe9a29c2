"""Clean-up of a moved front: one spot where points coincide, pieces cut where spots lie on them, rings traced anew."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise

from workbench.roof.model import Point2
from workbench.roof.wavefront.lines import PARALLEL, Corner, Line

Piece = tuple[int, int, Line]  # from spot, to spot, the line it lies on; the inside of the front on its left
Ring = list[tuple[Line, int]]  # each line with the spot it starts from

_TURNED = 100.0  # an edge turned round by less than this many snaps has no length


class Spots:
    """The places of a front's corners at one height, with coinciding ones made one.

    Attributes:
        of: For each corner its spot.
        place: For each spot where it is: the place of its best determined corner.
        members: For each spot its corners.
    """

    def __init__(self, corners: Sequence[Corner], following: Sequence[int], z: float, snap: float) -> None:
        """Gather the corners' places at height z; those that coincide become one spot.

        Args:
            corners: The front's corners.
            following: For each corner the next one round its ring.
            z: Height, inches.
            snap: Distance in inches within which places coincide. An edge turned round by little more than that,
                as a very fast corner can do, is taken as having no length.
        """
        points = [corner.at(z) for corner in corners]
        turned: list[tuple[int, int]] = []
        for k, m in enumerate(following):
            line = corners[k].line
            length = (points[m][0] - points[k][0]) * line.dx + (points[m][1] - points[k][1]) * line.dy
            if -_TURNED * snap < length < 0.0:
                turned.append((k, m))
        root = _groups(points, turned, snap)
        self.of: list[int] = []
        self.place: list[Point2] = []
        self.members: list[list[int]] = []
        seen: dict[int, int] = {}
        for k in range(len(points)):
            spot = seen.setdefault(root[k], len(seen))
            if spot == len(self.members):
                self.members.append([])
            self.members[spot].append(k)
            self.of.append(spot)
        for group in self.members:
            self.place.append(points[max(group, key=lambda k: abs(corners[k].turn))])
        self._may_touch = [
            spot for spot, group in enumerate(self.members) if len(group) > 1 or corners[group[0]].turn < PARALLEL
        ]

    def cut(self, pieces: Iterable[Piece], snap: float) -> list[Piece]:
        """Cut pieces where spots lie on them.

        Only spots of inside corners or of several corners can: the corners of a front run into its inside.
        """
        waiting = list(pieces)
        done: list[Piece] = []
        while waiting:
            start, end, line = waiting.pop()
            inner = self._on(start, end, snap)
            if inner:
                chain = [start, *inner, end]
                waiting.extend((a, b, line) for a, b in pairwise(chain))
            else:
                done.append((start, end, line))
        return done

    def _on(self, start: int, end: int, snap: float) -> list[int]:
        """The spots strictly inside the piece, in order."""
        (ax, ay), (bx, by) = self.place[start], self.place[end]
        length = math.hypot(bx - ax, by - ay)
        ex, ey = (bx - ax) / length, (by - ay) / length
        found: list[tuple[float, int]] = []
        for spot in self._may_touch:
            x, y = self.place[spot]
            if abs(ex * (y - ay) - ey * (x - ax)) < snap:
                along = ex * (x - ax) + ey * (y - ay)
                if 0.0 < along < length and spot != start and spot != end:
                    found.append((along, spot))
        return [spot for _, spot in sorted(found)]


def _groups(points: Sequence[Point2], pairs: Iterable[tuple[int, int]], snap: float) -> list[int]:
    """For each point the first point of its group: points within ``snap`` in x and y, and the pairs given."""
    root = list(range(len(points)))

    def find(k: int) -> int:
        while root[k] != k:
            k = root[k]
        return k

    def join(i: int, j: int) -> None:
        a, b = find(i), find(j)
        root[max(a, b)] = min(a, b)

    for i, j in pairs:
        join(i, j)
    order = sorted(range(len(points)), key=lambda k: points[k])
    for rank, i in enumerate(order):
        x, y = points[i]
        for m in range(rank + 1, len(order)):
            j = order[m]
            if points[j][0] - x > snap:
                break
            if abs(points[j][1] - y) <= snap:
                join(i, j)
    return [find(k) for k in range(len(points))]


def cancel(pieces: Sequence[Piece]) -> tuple[list[Piece], list[tuple[Piece, Piece]]]:
    """Take out pieces that run along each other in opposite directions: there two faces have met level.

    Returns:
        The pieces that stay, and the pairs taken out.
    """
    waiting: dict[tuple[int, int], list[int]] = {}
    stays = [True] * len(pieces)
    pairs: list[tuple[Piece, Piece]] = []
    for k, (start, end, _) in enumerate(pieces):
        opposite = waiting.get((end, start))
        if opposite:
            m = opposite.pop()
            stays[k] = stays[m] = False
            pairs.append((pieces[m], pieces[k]))
        else:
            waiting.setdefault((start, end), []).append(k)
    return [piece for piece, stay in zip(pieces, stays, strict=True) if stay], pairs


def trace(pieces: Sequence[Piece], place: Sequence[Point2]) -> list[Ring]:
    """Join pieces to rings, turning as far left as possible where there is a choice: touching areas stay apart."""
    leaving: dict[int, list[int]] = {}
    for k, (start, _, _) in enumerate(pieces):
        leaving.setdefault(start, []).append(k)
    rings: list[Ring] = []
    used = [False] * len(pieces)
    for first in range(len(pieces)):
        if used[first]:
            continue
        ring: Ring = []
        k = first
        while not used[k]:
            used[k] = True
            start, end, line = pieces[k]
            ring.append((line, start))
            choice = [m for m in leaving[end] if m == first or not used[m]]
            k = choice[0] if len(choice) == 1 else _leftmost(pieces, choice, place, start, end)
        rings.append(ring)
    return rings


def is_thin(ring: Ring, place: Sequence[Point2], width: float) -> bool:
    """Whether a ring encloses nothing but a sliver about this wide (inches), or is turned inside out by one."""
    x0, y0 = place[ring[0][1]]
    twice_area, around = 0.0, 0.0
    for k, (_, spot) in enumerate(ring):
        (ax, ay), (bx, by) = place[ring[k - 1][1]], place[spot]
        twice_area += (ax - x0) * (by - y0) - (bx - x0) * (ay - y0)
        around += math.hypot(bx - ax, by - ay)
    return twice_area <= width * around


def flattened(ring: Ring, place: Sequence[Point2]) -> list[tuple[Piece, Piece]]:
    """The pairs of opposite pieces that a thin ring comes to when its spots are taken as lying in line."""
    ends = [(start, ring[(k + 1) % len(ring)][1], line) for k, (line, start) in enumerate(ring)]
    longest = max(ends, key=lambda piece: math.dist(place[piece[0]], place[piece[1]]))
    (ax, ay), (bx, by) = place[longest[0]], place[longest[1]]
    order = sorted({spot for _, spot in ring}, key=lambda s: (place[s][0] * (bx - ax) + place[s][1] * (by - ay), s))
    rank = {spot: k for k, spot in enumerate(order)}
    pieces: list[Piece] = []
    for start, end, line in ends:
        step = 1 if rank[start] < rank[end] else -1
        chain = [order[k] for k in range(rank[start], rank[end] + step, step)]
        pieces.extend((a, b, line) for a, b in pairwise(chain))
    return cancel(pieces)[1]


def _leftmost(pieces: Sequence[Piece], choice: Sequence[int], place: Sequence[Point2], start: int, end: int) -> int:
    return min(choice, key=lambda m: clockwise(place[end], place[start], place[pieces[m][1]]))


def clockwise(centre: Point2, first: Point2, second: Point2) -> float:
    """Angle clockwise from the direction of the first point to that of the second, in [0, 2π)."""
    ax, ay = first[0] - centre[0], first[1] - centre[1]
    bx, by = second[0] - centre[0], second[1] - centre[1]
    return -math.atan2(ax * by - ay * bx, ax * bx + ay * by) % math.tau
