"""As built: a form for what is measured before anything is cut, and what follows from it once it is in the job."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.findings import SCREENING
from workbench.handout.blocks import LABEL, LARGE, Block, Boxed, Column, Table, Words
from workbench.handout.page import Page, Paper, flowed
from workbench.job.as_built import Taped
from workbench.job.model import Wing
from workbench.measure import Units
from workbench.plan import Plan
from workbench.site.model import MeasuredPlate, Squaring

BLANK = "__________"
PENCIL = 12.5
"""Size of the form: lines high enough to write on with a carpenter's pencil."""


def measured_pages(plan: Plan, paper: Paper) -> list[Page]:
    """The form, and tables of seats for plates that were measured; none where nothing is framed."""
    if not plan.framing.members:
        return []
    blocks: list[Block] = [
        Words("Measure before the first cut. Write it down here, enter it in the job, print again.", LABEL, after=4.0)
    ]
    blocks += _plates(plan)
    blocks += _tapes(plan)
    blocks += _planes(plan)
    for squaring in plan.site.squarings:
        blocks += _squaring(squaring, plan.units)
    for plate in plan.site.plates:
        blocks += _seats(plate, plan.units)
    return flowed("As built", "Plates, diagonals and plane lengths, drawn and measured", blocks, paper)


def _plates(plan: Plan) -> Iterator[Block]:
    units, as_built = plan.units, plan.job.site.as_built
    columns = (
        Column("Top of the plate at the eave of", 2.6, bold=True),
        Column("Drawn", 1.3, "right"),
        Column("Left corner", 1.4, "right"),
        Column("Right corner", 1.4, "right"),
    )
    rows: list[tuple[str, ...]] = []
    for solved in plan.wings:
        for eave in solved.eaves:
            name = f"{solved.wing}/{eave.edge}"
            plane = next((p for p in plan.roof.planes if p.wing == solved.wing and p.drawn == eave.edge), None)
            edge = next(e for e in plan.job.wing(solved.wing).edges if e.id == eave.edge)
            if plane is None or edge.kind != "eave":
                continue
            reading = as_built.plate(name)
            left, right = (None, None) if reading is None else (reading.left_in, reading.right_in)
            rows.append((plane.name, units.length(eave.plate_in), _or_blank(left, units), _or_blank(right, units)))
    yield Table(columns, tuple(rows), PENCIL, after=2.0)
    yield Words("Left and right as seen from outside. From the same level all round: laser or water.", LABEL, after=8.0)


def _tapes(plan: Plan) -> Iterator[Block]:
    units, as_built = plan.units, plan.job.site.as_built
    rows: list[tuple[str, ...]] = []
    for solved in plan.wings:
        wing = plan.job.wing(solved.wing)
        outline = solved.outline
        taped = as_built.tapes_of(wing.id)
        for i, j in _pairs(wing, taped):
            drawn = ((outline[i][0] - outline[j][0]) ** 2 + (outline[i][1] - outline[j][1]) ** 2) ** 0.5
            ids = {wing.edges[i].id, wing.edges[j].id}
            reading = next((tape.length_in for tape in taped if {tape.start, tape.end} == ids), None)
            rows.append((wing.name, f"{i + 1} to {j + 1}", units.length(drawn), _or_blank(reading, units)))
    if not rows:
        return
    columns = (
        Column("Diagonal of", 2.4, bold=True),
        Column("Corners", 1.0),
        Column("Drawn", 1.6, "right"),
        Column("Measured", 1.6, "right"),
    )
    yield Table(columns, tuple(rows), PENCIL, after=2.0)
    yield Words("Corners are numbered anticlockwise from the one the drawing begins at, level tape.", LABEL, after=8.0)


def _pairs(wing: Wing, taped: tuple[Taped, ...]) -> list[tuple[int, int]]:
    """What is taped: both diagonals of a four-cornered outline, and whatever was taped besides."""
    number = {edge.id: i for i, edge in enumerate(wing.edges)}
    pairs = [(0, 2), (1, 3)] if len(wing.edges) == 4 else []
    for tape in taped:
        if tape.start in number and tape.end in number:
            first, second = sorted((number[tape.start], number[tape.end]))
            if (first, second) not in pairs:
                pairs.append((first, second))
    return pairs


def _planes(plan: Plan) -> Iterator[Block]:
    """Planes that were measured; the others are taped by the page of the first row."""
    units, as_built = plan.units, plan.job.site.as_built
    columns = (
        Column("Length up the slope of", 2.6, bold=True),
        Column("Drawn", 1.3, "right"),
        Column("Left end", 1.4, "right"),
        Column("Right end", 1.4, "right"),
    )
    rows: list[tuple[str, ...]] = []
    for plane in plan.roof.planes:
        reading = as_built.plane(plane.id)
        if reading is None:
            continue
        left, right = reading.left_in, reading.right_in
        rows.append((plane.name, units.length(plane.plane_length_in), _or_blank(left, units), _or_blank(right, units)))
    if rows:
        yield Table(columns, tuple(rows), PENCIL, after=8.0)


def _or_blank(reading: float | None, units: Units) -> str:
    return BLANK if reading is None else units.length(reading)


def _seats(plate: MeasuredPlate, units: Units) -> list[Block]:
    """The seats along a plate that is not as drawn."""
    if not plate.seats or max(abs(seat.off_in) for seat in plate.seats) < 1.0 / 64.0:
        return []
    drawn = "" if plate.drawn_seat_in is None else f"; the cut card's seat is {units.inches(plate.drawn_seat_in)}"
    head = Words(f"Seats on the plate of {plate.name}, from its left corner{drawn}", LARGE, bold=True, after=2.0)
    columns = (
        Column("At", 0.9, "right", bold=True),
        Column("Mark", 1.2),
        Column("Plate off", 0.9, "right"),
        Column("HAP", 0.9, "right", bold=True),
        Column("Seat", 0.9, "right", bold=True),
        Column("or cut as drawn and shim", 1.1, "right"),
    )
    rows = tuple(
        (
            units.inches(seat.at_in),
            seat.mark,
            units.signed(seat.off_in),
            units.inches(seat.hap_in),
            units.inches(seat.seat_in) if seat.seat_in > 0.0 else "none",
            units.inches(seat.shim_in) if seat.shim_in > 1.0 / 32.0 else "–",
        )
        for seat in plate.seats
    )
    note = Words(
        "At: centre of the rafter. Top edges stay in the plane. Shims are solid, as wide as the rafter, as long as "
        f"the seat, and fixed. {SCREENING}",
        LABEL,
        after=3.0,
    )
    return [head, Boxed((note,), 1.0), Table(columns, rows, LABEL, after=10.0)]


def _squaring(one: Squaring, units: Units) -> Iterator[Block]:
    off = "" if one.out_of_square_in is None else f", out of square {units.length(abs(one.out_of_square_in))}"
    yield Words(f"{one.name}: as taped{off}", LARGE, bold=True, after=2.0)
    if not one.fits:
        yield Words("No outline has all these lengths; tape them again.", LABEL, after=8.0)
        return
    sides = (Column("Right on the plan", 1.5, "right"), Column("Up on the plan", 1.5, "right"))
    columns = (Column("Corner", 0.8, bold=True), *sides)
    rows = tuple((str(i), units.signed(x), units.signed(y)) for i, (x, y) in enumerate(one.shifts, 1))
    yield Table(columns, rows, PENCIL, after=2.0)
    yield Words(
        "How far each corner lies off the drawing, corner 1 and the first wall held. Rack the walls back by so much "
        "before they are braced, or take the corrected outline over into the job.",
        LABEL,
        after=8.0,
    )
