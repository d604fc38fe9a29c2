"""Where one looks from: a camera that turns about a point, and the rays and matrices that follow. Inches, radians."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
ViewName = Literal["home", "front", "back", "left", "right", "above"]

FIELD = math.radians(30.0)
"""Angle across the smaller side of the view: narrow, so that slopes are not distorted."""

_LOWEST, _HIGHEST = math.radians(-30.0), math.radians(90.0)
_NEAREST_IN, _FURTHEST_IN = 12.0, 120_000.0
_MARGIN = 1.1

HOME_DEG = (-58.0, 27.0)
"""Azimuth and elevation one looks from at first."""

# Azimuth of the eye as seen from what is looked at, and its elevation, degrees. The front is the side of low y.
_VIEWS = MappingProxyType(
    {
        "home": HOME_DEG,
        "front": (-90.0, 4.0),
        "back": (90.0, 4.0),
        "left": (180.0, 4.0),
        "right": (0.0, 4.0),
        "above": (-90.0, 90.0),
    }
)


@dataclass(frozen=True, slots=True)
class Camera:
    """An eye at a distance from the point it turns about.

    Attributes:
        centre: The point looked at, inches.
        distance: From it to the eye, inches.
        azimuth: Plan direction from the point to the eye, radians anticlockwise from x.
        elevation: Height of the eye over the point, radians over the level.
    """

    centre: tuple[float, float, float] = (0.0, 0.0, 0.0)
    distance: float = 800.0
    azimuth: float = math.radians(_VIEWS["home"][0])
    elevation: float = math.radians(_VIEWS["home"][1])

    @property
    def axes(self) -> Floats:
        """Unit vectors to the right, up, and back towards the eye, as rows."""
        a, e = self.azimuth, self.elevation
        right = (-math.sin(a), math.cos(a), 0.0)
        up = (-math.sin(e) * math.cos(a), -math.sin(e) * math.sin(a), math.cos(e))
        back = (math.cos(e) * math.cos(a), math.cos(e) * math.sin(a), math.sin(e))
        return np.array([right, up, back])

    @property
    def eye(self) -> Floats:
        """The eye's place."""
        return np.array(self.centre) + self.distance * self.axes[2]

    def turned(self, to_left: float, up: float) -> Camera:
        """The camera after the roof was turned: the eye goes to the left and up, radians; never past straight above."""
        elevation = min(_HIGHEST, max(_LOWEST, self.elevation + up))
        return replace(self, azimuth=math.remainder(self.azimuth - to_left, 2.0 * math.pi), elevation=elevation)

    def turned_to(self, azimuth_deg: float, elevation_deg: float) -> Camera:
        """The camera on another side of what it looks at, degrees."""
        elevation = min(_HIGHEST, max(_LOWEST, math.radians(elevation_deg)))
        return replace(self, azimuth=math.remainder(math.radians(azimuth_deg), 2.0 * math.pi), elevation=elevation)

    def moved(self, right: float, up: float, height: float) -> Camera:
        """The camera after the roof was moved on the screen, in pixels of a view ``height`` pixels high or wide."""
        step = self.inches_a_pixel(height)
        shift = -right * step * self.axes[0] - up * step * self.axes[1]
        x, y, z = (float(value) for value in np.array(self.centre) + shift)
        return replace(self, centre=(x, y, z))

    def nearer(self, factor: float) -> Camera:
        """The camera this many times nearer to what it looks at."""
        return replace(self, distance=min(_FURTHEST_IN, max(_NEAREST_IN, self.distance / factor)))

    def seen(self, name: ViewName) -> Camera:
        """The same point at the same distance, from one of the named sides."""
        azimuth, elevation = _VIEWS[name]
        return replace(self, azimuth=math.radians(azimuth), elevation=math.radians(elevation))

    def fitted(self, points: Floats, aspect: float) -> Camera:
        """The camera that has all points, (n, 3), in view as large as they can be, in the middle; unmoved for none.

        ``aspect`` is the view's width over its height.
        """
        if not len(points):
            return self
        middle = (points.min(axis=0) + points.max(axis=0)) / 2.0
        x, y, z = ((points - middle) @ self.axes.T).T
        centre, distance = middle, 0.0
        for values, half, axis in zip((x, y), _halves(aspect), self.axes[:2], strict=True):
            # A point is in view where |value - shift| <= (distance - z) * half; both sides bind at the best shift.
            above, below = float((values + z * half).max()), float((z * half - values).max())
            centre = centre + axis * (above - below) / 2.0
            distance = max(distance, (above + below) / (2.0 * half))
        cx, cy, cz = (float(value) for value in centre)
        distance = min(_FURTHEST_IN, max(_NEAREST_IN, distance * _MARGIN))
        return replace(self, centre=(cx, cy, cz), distance=distance)

    def inches_a_pixel(self, pixels: float) -> float:
        """Size of a pixel at the point looked at, in a view whose smaller side has so many."""
        return 2.0 * self.distance * math.tan(FIELD / 2.0) / max(1.0, pixels)

    def view_matrix(self) -> Floats:
        """From space to the eye's axes (x right, y up, z back), 4 by 4, for column vectors."""
        matrix = np.eye(4)
        matrix[:3, :3] = self.axes
        matrix[:3, 3] = -self.axes @ self.eye
        return matrix

    def projection_matrix(self, aspect: float, near: float, far: float) -> Floats:
        """From the eye's axes to clip space, 4 by 4, for column vectors."""
        half_x, half_y = _halves(aspect)
        matrix = np.zeros((4, 4))
        matrix[0, 0], matrix[1, 1] = 1.0 / half_x, 1.0 / half_y
        matrix[2, 2], matrix[2, 3] = -(far + near) / (far - near), -2.0 * far * near / (far - near)
        matrix[3, 2] = -1.0
        return matrix

    def depths(self, centre: Floats, radius: float) -> tuple[float, float]:
        """Near and far distances that just hold a sphere: the depth buffer is finest then."""
        middle = self.distance + float(self.axes[2] @ (np.array(self.centre) - centre))
        near = max(self.distance / 50.0, middle - radius)
        return near, max(near * 2.0, middle + radius)

    def ray(self, x: float, y: float, width: float, height: float) -> tuple[Floats, Floats]:
        """Eye and unit direction through a pixel, counted from the upper left."""
        half_x, half_y = _halves(width / max(1.0, height))
        across = (2.0 * x / max(1.0, width) - 1.0) * half_x
        up = (1.0 - 2.0 * y / max(1.0, height)) * half_y
        direction = across * self.axes[0] + up * self.axes[1] - self.axes[2]
        return self.eye, direction / np.linalg.norm(direction)

    def on_screen(self, points: Floats, width: float, height: float) -> Floats:
        """Pixels of space points, (n, 2), counted from the upper left; not a number behind the eye."""
        half_x, half_y = _halves(width / max(1.0, height))
        x, y, back = ((points - self.eye) @ self.axes.T).T
        ahead = np.where(back < 0.0, -back, np.nan)
        return np.column_stack([(x / ahead / half_x + 1.0) * width / 2.0, (1.0 - y / ahead / half_y) * height / 2.0])


def _halves(aspect: float) -> tuple[float, float]:
    """Tangents of half the angle across the view, and up it: the smaller side has the field of view."""
    half = math.tan(FIELD / 2.0)
    return (half * aspect, half) if aspect >= 1.0 else (half, half / aspect)
