"""Sheets that are cut already, held against the layout as it is now. Inches.

A piece serves where its shape is the same to a sixteenth of an inch, as it lies or turned half round in its own plane:
face and strength stay as they were. What no longer serves can be cut down to a piece that lies wholly inside it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from shapely import affinity
from shapely.geometry import Polygon

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
    sheathing: SheathingPlan, records: Sequence[CutSheet], planes: Sequence[Plane], thickness: str, units: Units
) -> CutSheets:
    """Which pieces of a layout are cut, and what was cut for a layout that is no longer wanted.

    Args:
        sheathing: The layout as it is now.
        records: What is cut.
        planes: The roof's planes, for their names.
        thickness: Thickness of the sheets as the job has it now.
        units: How lengths are shown.
    """
    if not records:
        return NO_SHEET_CUT
    pieces = {(p.plane, p.label): p for sheets in sheathing.planes for p in sheets.pieces}
    shapes = {place: _shape(piece) for place, piece in pieces.items()}
    served: list[Place | None] = [None] * len(records)
    taken: set[Place] = set()
    # First each piece in its own place, then what is left anywhere else.
    for own in (True, False):
        for i, record in enumerate(records):
            if served[i] is None and record.thickness in ("", thickness):
                found = next((p for p in _places(record, shapes, own=own) if p not in taken), None)
                if found is not None:
                    served[i] = found
                    taken.add(found)
    names = {plane.id: plane.name for plane in planes}
    lost = [record for record, place in zip(records, served, strict=True) if place is None]
    still = {place: shape for place, shape in shapes.items() if place not in taken}
    findings = tuple(_misfit(record, still, names, thickness, units) for record in lost)
    return CutSheets(frozenset(taken), tuple(served), findings)


def _places(record: CutSheet, shapes: dict[Place, tuple[Point2, ...]], *, own: bool) -> Iterator[Place]:
    """Places a piece fits, those on its own plane first."""
    mine = (record.plane, record.label)
    if own:
        if mine in shapes and _same(record.shape, shapes[mine]):
            yield mine
        return
    for place in sorted(shapes, key=lambda each: each[0] != record.plane):
        if _same(record.shape, shapes[place]):
            yield place


def _same(one: Sequence[Point2], other: Sequence[Point2]) -> bool:
    """Whether two outlines are one shape, as they lie or turned half round."""
    if len(one) != len(other):
        return False
    turned = _from_corner([(-x, -y) for x, y in one])
    return _alike(one, other) or _alike(turned, other)


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


def _misfit(
    record: CutSheet, still: dict[Place, tuple[Point2, ...]], names: dict[str, str], thickness: str, units: Units
) -> Finding:
    """What can still be made of a piece that fits nowhere."""
    wide, high = max(x for x, _ in record.shape), max(y for _, y in record.shape)
    size = f"{units.inches(high)} by {units.inches(wide)}"
    where = f"{record.label} of {names.get(record.plane, record.plane)}"
    known = record.plane if record.plane in names else ""
    if record.thickness not in ("", thickness):
        text = f"{where}: a piece of {size} is cut from {record.thickness} sheets, but the job now has {thickness}."
        return Finding("cut-sheet-no-longer-fits", "warning", known, text, GEOMETRY)
    into = _into(record, still)
    named = [f"{label} of {names.get(plane, plane)}" for plane, label in into[:_MOST_NAMED]]
    more = " and others" if len(into) > _MOST_NAMED else ""
    rest = (
        f"it can be cut down to {', '.join(named)}{more}"
        if into
        else "it can be cut down to no piece that is still to cut, and its sheet has to be bought again"
    )
    text = f"{where}: a piece of {size} is cut, but the layout has no such piece any more; {rest}."
    return Finding("cut-sheet-no-longer-fits", "warning", known, text, GEOMETRY)


def _into(record: CutSheet, still: dict[Place, tuple[Point2, ...]]) -> list[Place]:
    """Pieces that a piece can be cut down to, those that use most of it first."""
    wood = Polygon(record.shape)
    round_it = wood.buffer(FITS_IN, join_style="mitre")
    found: list[tuple[float, Place]] = []
    for place, shape in still.items():
        wanted = Polygon(shape)
        if _LEAST_SHARE * wood.area <= wanted.area <= round_it.area and _holds(round_it, record.shape, shape):
            found.append((-wanted.area, place))
    return [place for _, place in sorted(found)]


def _holds(wood: Polygon, corners: Sequence[Point2], shape: Sequence[Point2]) -> bool:
    """Whether a shape, as it lies or turned half round, fits into the wood with one corner on one of its corners."""
    for each in (tuple(shape), _from_corner([(-x, -y) for x, y in shape])):
        wanted = Polygon(each)
        for cx, cy in corners:
            if any(wood.covers(affinity.translate(wanted, cx - x, cy - y)) for x, y in each):
                return True
    return False


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
