"""Where an opening lies in plan, and back. Inches."""

from __future__ import annotations

from workbench.job.model import Opening
from workbench.roof.model import Plane, Point2


def footprint(plane: Plane, opening: Opening) -> tuple[Point2, ...]:
    """Plan corners of an opening, anticlockwise from its lower left one.

    Args:
        plane: The plane as its wing has it alone.
        opening: The opening, measured on that plane.
    """
    left, low = opening.x_in, opening.y_in
    right, high = left + opening.width_in, low + opening.length_in
    corners = ((left, low), (right, low), (right, high), (left, high))
    return tuple(plane.to_space(corner)[:2] for corner in corners)


def opening_axes(plane: Plane, point: Point2) -> Point2:
    """Where a plan point lies in the axes an opening is measured in: its ``x_in`` and ``y_in``.

    Args:
        plane: The plane as its wing has it alone (``build_wing``), not as cut by its neighbours.
        point: Plan point.
    """
    return plane.to_plane(point)
