"""Colours of the 3-D view, and its parts as the records that go to the graphics card. No Qt.

Everything is grey: a face is as light as it is turned to a light that stands over the front left, a flat one lighter
than a steep one. Only what is selected has the accent.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from workbench.bench.space.parts import Floats, Layer, Shape
from workbench.framing.solids import normals_of

Bytes = NDArray[np.uint8]
Records = NDArray[np.void]
Ramp = tuple[Floats, Floats]

FACE = np.dtype([("at", "<f4", 3), ("colour", "u1", 4)])
"""One corner of a triangle."""
LINE = np.dtype([("here", "<f4", 3), ("there", "<f4", 3), ("side", "<f4"), ("weight", "<f4"), ("colour", "u1", 4)])
"""One corner of the two triangles that a line is drawn as: its own end, the other, which side of it, how wide."""

_LIGHT = np.array([-0.52, -0.58, 0.63])
_EVEN, _TURNED, _FLAT = 0.40, 0.38, 0.22
_TINT = 0.5

# How much ink is in the darkest and the lightest face of each layer.
_SHARES: Mapping[str, Mapping[Layer, tuple[float, float]]] = {
    "light": {"planes": (0.66, 0.12), "members": (0.78, 0.22), "sheets": (0.52, 0.0), "walls": (0.16, 0.03)},
    "dark": {"planes": (0.10, 0.66), "members": (0.08, 0.60), "sheets": (0.16, 0.86), "walls": (0.04, 0.14)},
}


@dataclass(frozen=True, eq=False)
class Palette:
    """Colours as red, green, blue from 0 to 1.

    Attributes:
        ramps: The darkest and the lightest colour of a layer's faces.
        accent: What is selected.
        edges: Lines of a layer.
        ground: Lines of the ground's grid.
    """

    ramps: Mapping[Layer, Ramp]
    accent: Floats
    edges: Mapping[Layer, Floats]
    ground: Floats


def palette(scheme: Literal["light", "dark"], ink: str, paper: str, accent: str) -> Palette:
    """The palette that goes with the window's colours, given as ``#rrggbb``."""
    dark, light = rgb(ink), rgb(paper)
    ramps = {
        layer: (_mixed(light, dark, low), _mixed(light, dark, high)) for layer, (low, high) in _SHARES[scheme].items()
    }
    edges = {layer: _mixed(light, dark, 0.45 if layer == "walls" else 0.95) for layer in ramps}
    if scheme == "dark":
        # On sheets that are nearly white a joint is a dark line there too.
        edges["sheets"] = _mixed(light, dark, 0.1)
    return Palette(ramps, rgb(accent), edges, _mixed(light, dark, 0.16))


def rgb(colour: str) -> Floats:
    """A colour given as ``#rrggbb``."""
    return np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)]) / 255.0


def shades(normals: Floats) -> Floats:
    """How light faces with these normals are, from 0 to 1."""
    light = _LIGHT / np.linalg.norm(_LIGHT)
    return np.clip(_EVEN + _TURNED * (normals @ light) + _FLAT * normals[:, 2], 0.0, 1.0)


def face_records(shape: Shape, colours: Palette, layer: Layer, marked: NDArray[np.bool_] | None = None) -> Records:
    """A part's triangles as records, the marked ones in the accent."""
    dark, light = colours.ramps[layer]
    share = shades(normals_of(shape.faces))[:, None]
    colour = dark + (light - dark) * share
    if marked is not None and marked.any():
        accent = colours.accent * (0.55 + 0.45 * share[marked])
        colour[marked] = colour[marked] * (1.0 - _TINT) + accent * _TINT
    return _faces(shape.faces, colour, 1.0)


def plain_faces(faces: Floats, colour: Floats, strength: float) -> Records:
    """Triangles of one colour, more or less strong, as records."""
    return _faces(faces, np.broadcast_to(colour, (len(faces), 3)), strength)


def line_records(lines: Floats, weights: Floats, colour: Floats, strength: Floats | float = 1.0) -> Records:
    """Lines as records.

    Args:
        lines: Segments, (n, 2, 3).
        weights: Widths in pixels of a plain screen, (n,).
        colour: One colour.
        strength: From 0 to 1, for all or for both ends of each, (n, 2).
    """
    records = np.zeros((len(lines), 6), dtype=LINE)
    ends = np.broadcast_to(np.asarray(strength, dtype=float), (len(lines), 2))
    # Seen from the other end left is right.
    for corner, (end, side) in enumerate(((0, 1.0), (0, -1.0), (1, -1.0), (1, -1.0), (0, -1.0), (1, 1.0))):
        records["here"][:, corner], records["there"][:, corner] = lines[:, end], lines[:, 1 - end]
        records["side"][:, corner], records["weight"][:, corner] = side, weights
        records["colour"][:, corner, :3] = _bytes(colour)
        records["colour"][:, corner, 3] = _bytes(ends[:, end])
    return records.reshape(-1)


class Packed:
    """Records of several parts end to end, which remembers what of it changed."""

    def __init__(self, kind: np.dtype[np.void]) -> None:
        self.data: Records = np.empty(0, dtype=kind)
        self._parts: list[Records] = []

    def put(self, parts: Sequence[Records]) -> list[slice] | None:
        """Take these parts; what has to be sent again, or None for all of it."""
        sizes, known = [len(part) for part in parts], [len(part) for part in self._parts]
        before, self._parts = self._parts, list(parts)
        if sizes != known:
            self.data = np.concatenate(parts) if parts else self.data[:0]
            return None
        changed: list[slice] = []
        start = 0
        for old, part in zip(before, parts, strict=True):
            if part is not old:
                where = slice(start, start + len(part))
                self.data[where] = part
                changed.append(where)
            start += len(part)
        return changed


def _faces(faces: Floats, colour: Floats, strength: float) -> Records:
    records = np.zeros((len(faces), 3), dtype=FACE)
    records["at"] = faces
    records["colour"][..., :3] = _bytes(colour)[:, None, :]
    records["colour"][..., 3] = round(255.0 * strength)
    return records.reshape(-1)


def _bytes(values: Floats) -> Bytes:
    return np.rint(np.clip(values, 0.0, 1.0) * 255.0).astype(np.uint8)


def _mixed(ground: Floats, other: Floats, share: float) -> Floats:
    return ground * (1.0 - share) + other * share
