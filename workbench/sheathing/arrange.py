"""Pieces laid out in one sheet so that straight cuts from edge to edge take them apart. Inches, sheet axes.

Tall pieces stand side by side, a leaning or upright cut between each two; strips follow, two abreast, the rest of the
sheet ripped along its middle; small pieces go into what is left over, each cut out along its own edges.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from workbench.sheathing.kinds import Kind, Lie, Ring, laid_ring, lie_between
from workbench.sheathing.packing import SheetRules

_FIT_IN = 2e-6
_MOST_IN_ROW = 8


@dataclass(frozen=True, slots=True)
class Laid:
    """A piece in its place.

    Attributes:
        kind: Number of its kind.
        ring: Its shape in the sheet.
        turned: Whether it is turned by 180 degrees from its kind's position.
        mirrored: Whether it is turned over.
    """

    kind: int
    ring: Ring
    turned: bool
    mirrored: bool = False


@dataclass(frozen=True, slots=True)
class Arranged:
    """Pieces in their places, and the convex parts of the sheet that are left over."""

    laid: tuple[Laid, ...]
    free: tuple[Ring, ...]


@dataclass(frozen=True, slots=True)
class _Room:
    """A part of a sheet: lower left corner, size, and whether the sheet was not cut to this length or width before."""

    x: float
    y: float
    length: float
    width: float
    whole: bool


@lru_cache(maxsize=65536)
def _lie(kind: Kind, left: float, right: float, strip_in: float) -> Lie:
    """How a piece lies between two cuts that must not cross inside the strip."""
    lie = lie_between(kind.shape.ring, left, right, strip_in, kind.mirrors)
    apart = abs(right - left) * strip_in / 2.0
    return lie if lie.takes_in >= apart else Lie(apart, lie.turned, lie.at_top, lie.mirrored)


def arrange(kinds: Sequence[Kind], inside: Sequence[int], leans: Sequence[float], rules: SheetRules) -> Arranged | None:
    """Lays pieces of these kinds out in one sheet, or says None where no way was found.

    Args:
        kinds: Every kind.
        inside: The kinds of the pieces, tall and strips only.
        leans: Leans of the cuts to be tried.
        rules: The sheet and the saw.
    """
    arranger = _Arranger(kinds, tuple(leans), rules)
    return arranger.sheet(tuple(inside))


@dataclass(frozen=True)
class _Arranger:
    kinds: Sequence[Kind]
    leans: tuple[float, ...]
    rules: SheetRules

    def sheet(self, inside: tuple[int, ...]) -> Arranged | None:
        room = _Room(0.0, 0.0, self.rules.length_in, self.rules.width_in, True)
        found = self._section(inside, room)
        if found is not None or not self.rules.halves_nominal or len(inside) > _MOST_IN_ROW:
            return found
        return self._halves(inside, room)

    def _halves(self, inside: tuple[int, ...], room: _Room) -> Arranged | None:
        """Two half sheets parted by a cut along the middle that takes nothing."""
        half = room.length / 2.0
        for one, other in _shares(inside):
            a = self._section(one, _Room(room.x, room.y, half, room.width, False))
            if a is None:
                continue
            b = self._section(other, _Room(room.x + half, room.y, half, room.width, False))
            if b is not None:
                return Arranged(a.laid + b.laid, a.free + b.free)
        return None

    def _section(self, inside: tuple[int, ...], room: _Room) -> Arranged | None:
        talls = tuple(i for i in inside if self.kinds[i].level == "tall")
        strips = tuple(i for i in inside if self.kinds[i].level != "tall")
        if not talls:
            return self._abreast(strips, room) if strips else Arranged((), (_box(room),))
        row = self._row(talls, room)
        if row is None or not strips:
            return row
        end = max(x for laid in row.laid for x, _ in laid.ring) + self.rules.kerf_in
        rest = _Room(end, room.y, room.x + room.length - end, room.width, False)
        more = self._abreast(strips, rest)
        if more is None:
            return None
        gaps = tuple(free for free in row.free if max(x for x, _ in free) <= end + _FIT_IN)
        return Arranged(row.laid + more.laid, gaps + more.free)

    def _abreast(self, strips: tuple[int, ...], room: _Room) -> Arranged | None:
        """Two strips of half the width, pieces one after the other in each."""
        if len(strips) > 2 * _MOST_IN_ROW or room.length <= 0.0:
            return None
        kerf = 0.0 if self.rules.halves_nominal else self.rules.kerf_in
        half = (room.width - kerf) / 2.0
        lower = _Room(room.x, room.y, room.length, half, room.whole)
        upper = _Room(room.x, room.y + half + kerf, room.length, half, room.whole)
        runs = {i: _lie(self.kinds[i], 0.0, 0.0, half).takes_in for i in strips}
        total = sum(runs.values())
        for one, other in _shares(strips, with_empty=True):
            run = sum(runs[i] for i in one)
            if self.leans == (0.0,) and max(run, total - run) > room.length + _FIT_IN:
                continue
            a = self._strip(one, lower)
            b = self._strip(other, upper) if a is not None else None
            if a is not None and b is not None:
                return Arranged(a.laid + b.laid, a.free + b.free)
        return None

    def _strip(self, inside: tuple[int, ...], room: _Room) -> Arranged | None:
        if not inside:
            return Arranged((), (_box(room),))
        row = self._row(inside, room)
        if row is not None or not room.whole or not self.rules.halves_nominal:
            return row
        half = room.length / 2.0
        for one, other in _shares(inside):
            a = self._row(one, _Room(room.x, room.y, half, room.width, False))
            b = self._row(other, _Room(room.x + half, room.y, half, room.width, False)) if a is not None else None
            if a is not None and b is not None:
                return Arranged(a.laid + b.laid, a.free + b.free)
        return None

    def _row(self, inside: tuple[int, ...], room: _Room) -> Arranged | None:
        """Pieces one after the other, in the order and with the cuts that take least length."""
        if len(inside) > _MOST_IN_ROW:
            return None
        if all(self.kinds[i].shape.upright for i in inside):
            steps = self._upright_row(inside, room)
        else:
            steps = self._best_row(inside, room)
        return None if steps is None else self._placed(steps, room)

    def _upright_row(self, inside: tuple[int, ...], room: _Room) -> list[tuple[int, float]] | None:
        run = sum(self.kinds[i].shape.length_in for i in inside) + self.rules.kerf_in * (len(inside) - 1)
        if run > room.length + _FIT_IN or any(self.kinds[i].shape.width_in > room.width + _FIT_IN for i in inside):
            return None
        return [(i, 0.0) for i in sorted(inside, key=lambda i: (-self.kinds[i].shape.width_in, i))]

    def _best_row(self, inside: tuple[int, ...], room: _Room) -> list[tuple[int, float]] | None:
        """The order, and the lean of the cut after each piece: dynamic programming over which pieces are laid."""
        if any(self.kinds[i].shape.width_in > room.width + _FIT_IN for i in inside):
            return None
        best: dict[tuple[int, float], tuple[float, tuple[tuple[int, float], ...]]] = {(0, 0.0): (0.0, ())}
        full = (1 << len(inside)) - 1
        for mask in range(full):
            for left in self.leans:
                state = best.get((mask, left))
                if state is None:
                    continue
                tried: set[int] = set()
                for p, i in enumerate(inside):
                    if mask >> p & 1 or i in tried:
                        continue
                    tried.add(i)
                    last = mask | 1 << p == full
                    for right in (0.0,) if last else self.leans:
                        run = state[0] + _lie(self.kinds[i], left, right, room.width).takes_in
                        run += 0.0 if last else self.rules.kerf_in * math.hypot(1.0, right)
                        key = (mask | 1 << p, right)
                        if run <= room.length + _FIT_IN and run < best.get(key, (math.inf, ()))[0] - 1e-9:
                            best[key] = (run, (*state[1], (i, right)))
        found = best.get((full, 0.0))
        return None if found is None else list(found[1])

    def _placed(self, steps: list[tuple[int, float]], room: _Room) -> Arranged:
        laid: list[Laid] = []
        free: list[Ring] = []
        at, left, middle = room.x, 0.0, room.y + room.width / 2.0
        cell = _box(room)
        for number, (i, right) in enumerate(steps):
            lie = _lie(self.kinds[i], left, right, room.width)
            shape = laid_ring(self.kinds[i].shape.ring, mirrored=lie.mirrored, turned=lie.turned)
            up = room.y + (room.width - self.kinds[i].shape.width_in if lie.at_top else 0.0)
            shift = at - min(x - left * (y + up - middle) for x, y in shape)
            ring = tuple((x + shift, y + up) for x, y in shape)
            laid.append(Laid(i, ring, lie.turned, lie.mirrored))
            at += lie.takes_in
            last = number == len(steps) - 1
            kerf = self.rules.kerf_in
            run = kerf * math.hypot(1.0, right)
            here = clipped(cell, 1.0, -right, at - right * middle)
            cell = clipped(cell, -1.0, right, -(at + run - right * middle))
            free += around(here, ring, kerf)
            at, left = at + run, right
            if last and cell:
                free.append(cell)
        return Arranged(tuple(laid), tuple(part for part in free if len(part) >= 3))


def _shares(inside: tuple[int, ...], with_empty: bool = False) -> Iterator[tuple[tuple[int, ...], tuple[int, ...]]]:
    """Ways of sharing pieces out between two, the first piece always in the first part."""
    seen: set[tuple[int, ...]] = set()
    rest = inside[1:]
    for size in range(len(rest), -1, -1):
        for chosen in itertools.combinations(range(len(rest)), size):
            one = (inside[0], *(rest[i] for i in chosen))
            if one in seen:
                continue
            seen.add(one)
            other = tuple(rest[i] for i in range(len(rest)) if i not in chosen)
            if other or with_empty:
                yield one, other


def _box(room: _Room) -> Ring:
    left, bottom, right, top = room.x, room.y, room.x + room.length, room.y + room.width
    return (left, bottom), (right, bottom), (right, top), (left, top)


def clipped(ring: Ring, a: float, b: float, limit: float) -> Ring:
    """The part of a convex ring where a·x + b·y is at most the limit; empty where nothing is left."""
    points: list[tuple[float, float]] = []
    for p, q in zip(ring, ring[1:] + ring[:1], strict=True):
        from_p, from_q = a * p[0] + b * p[1] - limit, a * q[0] + b * q[1] - limit
        if from_p <= 0.0:
            points.append(p)
        if (from_p < 0.0 < from_q) or (from_q < 0.0 < from_p):
            share = from_p / (from_p - from_q)
            points.append((p[0] + share * (q[0] - p[0]), p[1] + share * (q[1] - p[1])))
    return tuple(points) if len(points) >= 3 else ()


def around(cell: Ring, ring: Ring, kerf_in: float) -> list[Ring]:
    """What is left of a convex part around a piece in it, cut along the piece's edges, a kerf away."""
    best: list[Ring] = []
    most = 0.0
    for level_first in (True, False):
        parts: list[Ring] = []
        rest = cell
        edges = _edges_out(hull(ring))
        edges.sort(key=lambda edge: (abs(edge[0]) > 1e-9) == level_first)
        for a, b, limit in edges:
            part = clipped(rest, -a, -b, -(limit + kerf_in))
            if len(part) >= 3 and area_of(part) > 4.0:
                parts.append(part)
            rest = clipped(rest, a, b, limit)
            if not rest:
                break
        largest = max((area_of(part) for part in parts), default=0.0)
        if largest > most:
            best, most = parts, largest
    return best


def _edges_out(ring: Ring) -> list[tuple[float, float, float]]:
    """Unit outward normals of an anticlockwise ring's edges, with the limit each sets."""
    found: list[tuple[float, float, float]] = []
    for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True):
        size = math.hypot(x1 - x0, y1 - y0)
        if size > 1e-6:
            a, b = (y1 - y0) / size, (x0 - x1) / size
            found.append((a, b, a * x0 + b * y0))
    return found


def area_of(ring: Ring) -> float:
    """Area of an anticlockwise ring."""
    return sum(p[0] * q[1] - q[0] * p[1] for p, q in zip(ring, ring[1:] + ring[:1], strict=True)) / 2.0


def hull(ring: Ring) -> Ring:
    """The convex hull, anticlockwise."""
    points = sorted(set(ring))
    lower: list[tuple[float, float]] = []
    upper: list[tuple[float, float]] = []
    for chain, ordered in ((lower, points), (upper, points[::-1])):
        for p in ordered:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], p) <= 1e-12:
                chain.pop()
            chain.append(p)
    return (*lower[:-1], *upper[:-1])


def _turn(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def filled(arranged: Arranged, kinds: Sequence[Kind], wanted: Sequence[int], kerf_in: float) -> Arranged:
    """The same with small pieces put into the left over parts, in the order they are wanted, as far as they fit."""
    laid, free = list(arranged.laid), [part for part in arranged.free if area_of(part) > 4.0]
    for i in wanted:
        spot = _spot(free, kinds[i], kerf_in)
        if spot is None:
            continue
        number, put, rest = spot
        laid.append(replace(put, kind=i))
        free[number : number + 1] = rest
    return Arranged(tuple(laid), tuple(free))


def _spot(free: Sequence[Ring], kind: Kind, kerf_in: float) -> tuple[int, Laid, list[Ring]] | None:
    """Where a piece fits best: in the smallest part that holds it, where the largest rest stays."""
    for number in sorted(range(len(free)), key=lambda n: (area_of(free[n]), n)):
        part = free[number]
        if area_of(part) < kind.area_sqin:
            continue
        best: tuple[float, Laid, list[Ring]] | None = None
        for mirrored, turned in itertools.product((False, True) if kind.mirrors else (False,), (False, True)):
            own = laid_ring(kind.shape.ring, mirrored=mirrored, turned=turned)
            for dx, dy in _fits(part, own):
                ring = tuple((x + dx, y + dy) for x, y in own)
                rest = around(part, ring, kerf_in)
                largest = max((area_of(r) for r in rest), default=0.0)
                if best is None or largest > best[0] + 1e-9:
                    best = (largest, Laid(0, ring, turned, mirrored), rest)
        if best is not None:
            return number, best[1], best[2]
    return None


def _fits(part: Ring, shape: Ring) -> list[tuple[float, float]]:
    """The corners of where a shape can be moved to inside a convex part."""
    limits = [(a, b, limit - max(a * x + b * y for x, y in shape)) for a, b, limit in _edges_out(part)]
    found: list[tuple[float, float]] = []
    for (a, b, c), (d, e, f) in itertools.combinations(limits, 2):
        cross = a * e - b * d
        if abs(cross) < 1e-9:
            continue
        x, y = (c * e - b * f) / cross, (a * f - c * d) / cross
        if all(p * x + q * y <= limit + 1e-9 for p, q, limit in limits):
            found.append((x, y))
    return found
