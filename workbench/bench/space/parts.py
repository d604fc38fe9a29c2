"""The parts of a scene: triangles and lines that know what they belong to, and what a ray meets. Inches, no Qt."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from workbench.framing.solids import NO_TRIANGLES

Floats = NDArray[np.float64]
Owners = NDArray[np.intp]
Layer = Literal["planes", "members", "sheets", "walls"]

LAYERS: tuple[Layer, ...] = ("planes", "members", "sheets", "walls")
"""What can be shown apart."""

NO_LINES: Floats = np.empty((0, 2, 3))


@dataclass(frozen=True, eq=False)
class Shape:
    """What is drawn of a part.

    Attributes:
        faces: Triangles, (n, 3, 3), anticlockwise from outside.
        face_owner: Which of the part's keys each triangle belongs to, (n,).
        lines: Segments, (m, 2, 3).
        line_owner: Which of the part's keys each line belongs to, (m,).
        weights: Weight of each line, points, (m,).
    """

    faces: Floats
    face_owner: Owners
    lines: Floats = field(default_factory=lambda: NO_LINES)
    line_owner: Owners = field(default_factory=lambda: np.empty(0, dtype=np.intp))
    weights: Floats = field(default_factory=lambda: np.empty(0))

    @cached_property
    def ball(self) -> tuple[float, float, float, float]:
        """Centre and radius of a ball round the triangles and lines."""
        points = np.concatenate([self.faces.reshape(-1, 3), self.lines.reshape(-1, 3)])
        if not len(points):
            return 0.0, 0.0, 0.0, 0.0
        middle = (points.min(axis=0) + points.max(axis=0)) / 2.0
        radius = float(np.linalg.norm(points - middle, axis=1).max())
        return float(middle[0]), float(middle[1]), float(middle[2]), radius


@dataclass(frozen=True, eq=False)
class Part:
    """One piece of a layer.

    Attributes:
        keys: What can be selected of it, such as ``plane:main/e1`` and ``edge:main/e1``.
        shape: Its triangles and lines.
        whole: Whether its first key names all of it; then all lines stand out with that.
    """

    keys: tuple[str, ...]
    shape: Shape
    whole: bool = True

    def lines_of(self, key: str) -> Floats:
        """The lines that stand out when a key is selected."""
        if key not in self.keys:
            return NO_LINES
        index = self.keys.index(key)
        return self.shape.lines if self.whole and index == 0 else self.shape.lines[self.shape.line_owner == index]

    def faces_of(self, key: str) -> NDArray[np.bool_]:
        """Which triangles belong to a key."""
        index = self.keys.index(key) if key in self.keys else -1
        return self.shape.face_owner == index


def in_path(eye: Floats, direction: Floats, parts: Iterable[Part], reach: float = 0.0) -> list[Part]:
    """The parts whose ball a ray passes, or comes as near to as ``reach`` inches per inch of distance."""
    listed = list(parts)
    if not listed:
        return []
    balls = np.array([part.shape.ball for part in listed])
    offset = balls[:, :3] - eye
    along = offset @ direction
    off = np.linalg.norm(offset - np.outer(along, direction), axis=1)
    passed = (off <= balls[:, 3] + reach * np.abs(along)) & (along > -balls[:, 3])
    return [listed[index] for index in np.flatnonzero(passed)]


def first_hit(eye: Floats, direction: Floats, triangles: Floats) -> tuple[float, int]:
    """Distance along a ray to the first triangle it goes through, from either side, and which; infinite for none."""
    if not len(triangles):
        return float("inf"), -1
    a, ab, ac = triangles[:, 0], triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0]
    across = np.cross(direction, ac)
    scale = np.einsum("ij,ij->i", ab, across)
    offset = eye - a
    other = np.cross(offset, ab)
    with np.errstate(divide="ignore", invalid="ignore"):
        u = np.einsum("ij,ij->i", offset, across) / scale
        v = other @ direction / scale
        distance = np.einsum("ij,ij->i", ac, other) / scale
        hit = (u >= 0.0) & (v >= 0.0) & (u + v <= 1.0) & (distance > 0.0)
    if not hit.any():
        return float("inf"), -1
    index = int(np.where(hit, distance, np.inf).argmin())
    return float(distance[index]), index


def nearest(eye: Floats, direction: Floats, segments: Floats) -> tuple[Floats, Floats]:
    """How far each segment lies from a ray where they are nearest, and how far along the ray that is (nan behind)."""
    start, along = segments[:, 0] - eye, segments[:, 1] - segments[:, 0]
    # Looked at along the ray everything is flat: the point of a flat segment that is nearest to the origin.
    flat_start = start - np.outer(start @ direction, direction)
    flat_along = along - np.outer(along @ direction, direction)
    length = np.einsum("ij,ij->i", flat_along, flat_along)
    inward = -np.einsum("ij,ij->i", flat_start, flat_along)
    share = np.clip(np.divide(inward, length, out=np.zeros_like(length), where=length > 0.0), 0.0, 1.0)[:, None]
    off = np.linalg.norm(flat_start + share * flat_along, axis=1)
    ahead = (start + share * along) @ direction
    return off, np.where(ahead > 0.0, ahead, np.nan)


def joined(arrays: Iterable[Floats], empty: Floats = NO_TRIANGLES) -> Floats:
    """Arrays laid end to end."""
    listed = list(arrays)
    return np.concatenate(listed) if listed else empty
