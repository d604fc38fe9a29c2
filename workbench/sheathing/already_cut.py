"""Sheets that are cut already, held against the layout as it is now. Inches.

A piece serves where its shape is the same to a sixteenth of an inch, as it lies or turned half round in its own plane:
face and strength stay as they were. What no longer serves can be cut down to a piece that lies wholly inside it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from workbench.findings import GEOMETRY, Finding
from workbench.job.cut_sheets import CutSheet
from workbench.measure import Units
from workbench.roof.model import Plane, Point2
from workbench.sheathing.model import Piece, SheathingPlan

FITS_IN = 1.0 / 16.0
"""Pieces that differ by no more than this are the same on a roof: the gaps take it up."""

_MOST_NAMED = 3
_LEAST_SHARE = 0.25
"""Nobody cuts a piece down to less than this share of it."""

Place = tuple[str, str]
Shape = Sequence[Point2]
_Size = tuple[int, int, int]


@dataclass(frozen=True)
class CutSheets:
    """The layout less what is cut.

    Attributes:
        done: Plane and label of each piece that is cut.
        served: For each record of the job the piece it serves, or None.
        findings: What no longer fits.
    """

    done: frozenset[Place] = frozenset()
    served: tuple[Place | None, ...] = ()
    findings: tuple[Finding, ...] = ()


NO_SHEET_CUT = CutSheets()


def record_of(piece: Piece, thickness: str) -> CutSheet:
    """The record of a piece, as it is cut now."""
    return CutSheet(plane=piece.plane, label=piece.label, shape=_shape(piece), thickness=thickness)


def cut_sheets(
    sheathing: SheathingPlan,
    records: Sequence[CutSheet],
    planes: Sequence[Plane],
    thickness: str,
    units: Units,
    *,
    brief: bool = False,
) -> CutSheets:
    """Which pieces of a layout are cut, and what was cut for a layout that is no longer wanted.

    Args:
        sheathing: The layout as it is now.
        records: What is cut.
        planes: The roof's planes, for their names.
        thickness: Thickness of the sheets as the job has it now.
        units: How lengths are shown.
        brief: Leave out what can become of pieces that fit nowhere, as while something is dragged.
    """
    if not records:
        return NO_SHEET_CUT
    pieces = {(p.plane, p.label): p for sheets in sheathing.planes for p in sheets.pieces}
    shapes = {place: _shape(piece) for place, piece in pieces.items()}
    by_size = _by_size(shapes)
    served: list[Place | None] = [None] * len(records)
    taken: set[Place] = set()
    # First each piece in its own place, then what is left anywhere else.
    for own in (True, False):
        for i, record in enumerate(records):
            if served[i] is None and record.thickness in ("", thickness):
                found = next((p for p in _places(record, by_size, own=own) if p not in taken), None)
                if found is not None:
                    served[i] = found
                    taken.add(found)
    names = {plane.id: plane.name for plane in planes}
    lost = [record for record, place in zip(records, served, strict=True) if place is None]
    still = {place: shape for place, shape in shapes.items() if place not in taken}
    findings = tuple(_misfits(lost, still, names, thickness, units, brief=brief))
    return CutSheets(frozenset(taken), tuple(served), findings)


def _places(record: CutSheet, by_size: Mapping[_Size, Sequence[tuple[Place, Shape]]], *, own: bool) -> Iterator[Place]:
    """Places a piece fits, those on its own plane first."""
    wide, high = _size(record.shape)
    near = [
        each
        for key in _near(len(record.shape), wide, high)
        for each in by_size.get(key, ())
        if not own or each[0] == (record.plane, record.label)
    ]
    for place, shape in sorted(near, key=lambda each: each[0][0] != record.plane):
        if _same(record.shape, shape):
            yield place


def _by_size(shapes: Mapping[Place, Shape]) -> dict[_Size, list[tuple[Place, Shape]]]:
    """Shapes by corners and whole inches of the rectangle round them, so that few are looked at closely."""
    found: dict[_Size, list[tuple[Place, Shape]]] = {}
    for place, shape in shapes.items():
        wide, high = _size(shape)
        found.setdefault((len(shape), round(wide), round(high)), []).append((place, shape))
    return found


def _near(corners: int, wide: float, high: float) -> list[_Size]:
    """Under which sizes a shape of this size, or one that differs by little, is kept."""
    reach = (-2.0 * FITS_IN, 2.0 * FITS_IN)
    return sorted({(corners, round(wide + dx), round(high + dy)) for dx in reach for dy in reach})


def _same(one: Shape, other: Shape) -> bool:
    """Whether two outlines of as many corners are one shape, as they lie or turned half round."""
    return _alike(one, other) or _alike(_from_corner([(-x, -y) for x, y in one]), other)


def _alike(one: Sequence[Point2], other: Sequence[Point2]) -> bool:
    count = len(one)
    return any(
        all(math.dist(one[(k + i) % count], other[i]) <= FITS_IN for i in range(count))
        for k in range(count)
        if math.dist(one[k], other[0]) <= FITS_IN
    )


def _shape(piece: Piece) -> tuple[Point2, ...]:
    return _from_corner(piece.polygon)


def _from_corner(ring: Sequence[Point2]) -> tuple[Point2, ...]:
    left, low = min(x for x, _ in ring), min(y for _, y in ring)
    return tuple((x - left, y - low) for x, y in ring)


def _misfits(
    lost: Sequence[CutSheet],
    still: dict[Place, tuple[Point2, ...]],
    names: dict[str, str],
    thickness: str,
    units: Units,
    *,
    brief: bool,
) -> Iterator[Finding]:
    """What can still be made of pieces that fit nowhere: a finding for each plane they were cut for."""
    for plane in dict.fromkeys(record.plane for record in lost):
        mine = [record for record in lost if record.plane == plane]
        other = [record for record in mine if record.thickness not in ("", thickness)]
        same = [record for record in mine if record not in other]
        name, known = names.get(plane, plane), plane if plane in names else ""
        if other:
            now = f"cut from {other[0].thickness} sheets, but the job now has {thickness}"
            text = f"{name}: {now}: {_named(other, units)}."
            yield Finding("cut-sheet-no-longer-fits", "warning", known, text, GEOMETRY)
        if same:
            text = f"{name}: cut, but the layout has no such piece any more: {_named(same, units)}."
            text += "" if brief else f" {_what_becomes(same, still, names)}"
            yield Finding("cut-sheet-no-longer-fits", "warning", known, text, GEOMETRY)


def _named(records: Sequence[CutSheet], units: Units) -> str:
    told = [
        f"{r.label} ({units.inches(max(y for _, y in r.shape))} by {units.inches(max(x for x, _ in r.shape))})"
        for r in records[:_MOST_NAMED]
    ]
    more = len(records) - len(told)
    return ", ".join(told) + (f" and {more} more" if more else "")


def _what_becomes(records: Sequence[CutSheet], still: dict[Place, tuple[Point2, ...]], names: dict[str, str]) -> str:
    """Which of them can be cut down to pieces that are still to cut, each of those given once."""
    open_places = sorted(still, key=lambda place: -_area(still[place]))
    into: list[tuple[CutSheet, Place]] = []
    for record in sorted(records, key=lambda each: -_area(each.shape)):
        place = next((p for p in open_places if can_be_cut_down(record.shape, still[p])), None)
        if place is not None:
            open_places.remove(place)
            into.append((record, place))
    lost = len(records) - len(into)
    said = [f"{r.label} to {label} of {names.get(plane, plane)}" for r, (plane, label) in into[:_MOST_NAMED]]
    more = f" and {len(into) - len(said)} more" if len(into) > len(said) else ""
    parts = [f"Can be cut down: {', '.join(said)}{more}."] if into else []
    if lost:
        many = "1 piece is" if lost == 1 else f"{lost} pieces are"
        parts.append(f"{many} good for nothing still to cut; what was cut from those sheets has to be bought again.")
    return " ".join(parts)


def can_be_cut_down(wood: Sequence[Point2], shape: Sequence[Point2]) -> bool:
    """Whether a shape fits into the wood, as it lies or turned half round, a corner on a corner; scraps do not."""
    if not _LEAST_SHARE * _area(wood) <= _area(shape):
        return False
    (wide, high), (x, y) = _size(wood), _size(shape)
    if x > wide + FITS_IN or y > high + FITS_IN:
        return False
    return any(_holds(wood, each) for each in (shape, _from_corner([(-x, -y) for x, y in shape])))


def _holds(wood: Sequence[Point2], shape: Sequence[Point2]) -> bool:
    """Whether the wood, taken as convex, covers a shape moved so that one of its corners lies on one of the wood's.

    Of wood with a notch the part up to the notch's own sides counts: each of its sides bounds the whole shape.
    """
    corners, points = np.array(wood), np.array(shape)
    sides = np.roll(corners, -1, axis=0) - corners
    outward = np.stack((sides[:, 1], -sides[:, 0]), axis=1) / np.linalg.norm(sides, axis=1)[:, None]
    limit = (outward * corners).sum(axis=1) + FITS_IN
    reach = (outward @ points.T).max(axis=1)
    shifts = (corners[:, None, :] - points[None, :, :]).reshape(-1, 2)
    return bool(((outward @ shifts.T + reach[:, None]) <= limit[:, None]).all(axis=0).any())


def _size(ring: Sequence[Point2]) -> Point2:
    return max(x for x, _ in ring) - min(x for x, _ in ring), max(y for _, y in ring) - min(y for _, y in ring)


def _area(ring: Sequence[Point2]) -> float:
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, (*ring[1:], ring[0]), strict=True))) / 2.0


def with_cut(records: Sequence[CutSheet], cut: CutSheets, pieces: Sequence[Piece], thickness: str) -> list[CutSheet]:
    """The records with these pieces cut too; those that are already stay as they are."""
    new = [record_of(piece, thickness) for piece in pieces if (piece.plane, piece.label) not in cut.done]
    return [*records, *new]


def without_cut(records: Sequence[CutSheet], cut: CutSheets, places: Sequence[Place]) -> list[CutSheet]:
    """The records without those that serve these pieces."""
    gone = set(places)
    return [record for record, place in zip(records, cut.served, strict=True) if place is None or place not in gone]


def without_misfits(records: Sequence[CutSheet], cut: CutSheets) -> list[CutSheet]:
    """The records without those that fit nowhere: scrap."""
    return [record for record, place in zip(records, cut.served, strict=True) if place is not None]
