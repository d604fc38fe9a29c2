"""The section through a plane: what the landing solver would be asked for it."""

from __future__ import annotations

from dataclasses import replace

from workbench.errors import BadInput, NoSolution
from workbench.job.model import Wing
from workbench.measure import Units
from workbench.roof.landed import Landed
from workbench.roof.landing import HighEnd, LandingInput, solve_landing
from workbench.roof.model import EdgeKind, Plane, PlaneEdge, Point2
from workbench.roof.solved import Eave, Section

_TOP_IN = 1e-6


def plane_section(
    wing: Wing, plane: Plane, eave: Eave, corner: Point2, landed: Landed | None, units: Units
) -> Section | None:
    """The section through one plane; None where its rafters have no landing to speak of.

    Args:
        wing: The wing with what was found put in.
        plane: The plane.
        eave: The eave it rises from.
        corner: A point of that eave's building line.
        landed: The wing's landing as solved, if it has one.
        units: How lengths are shown in texts.
    """
    past = _past(plane, corner)
    if landed is not None and _is_landed(wing, plane, landed):
        beyond = max(0.0, past - landed.answer.run_in) if landed.given.high_end in ("notched", "whole") else 0.0
        return Section(plane.id, landed.given, landed.answer, eave.overhang_in, beyond, landed=True)
    top = top_edge(plane)
    high_end, bearing = _high_end(wing, top.kind)
    overhang = _top_overhang(wing, top)
    run = past - overhang - bearing
    if run <= 0.0:
        return None
    given = LandingInput(
        run_in=run,
        low_plate_in=eave.plate_in,
        landing_in=0.0,
        low_end="hap",
        hap_low_in=eave.hap_in,
        seat_in=0.0,
        high_end=high_end,
        hap_high_in=eave.hap_in,
        depth_in=wing.rafter.depth_in,
        tangent=eave.tangent,
        ridge_thickness_in=wing.ridge.thickness_in,
        find="landing",
    )
    try:
        answer = solve_landing(given, units=units, subject=wing.id)
    except (NoSolution, BadInput):
        return None  # such a heel or run can't be framed; the planes are still right
    settled = replace(given, seat_in=max(0.0, answer.seat_in), landing_in=answer.landing_in)
    return Section(plane.id, settled, answer, eave.overhang_in, bearing + overhang, landed=False)


def top_edge(plane: Plane) -> PlaneEdge:
    """The edge that most of a plane's rafters run up to: the longest level one at its top, else the highest."""
    top = max(corner[2] for corner in plane.corners)
    level = [e for e in plane.edges if min(e.start[2], e.end[2]) > top - _TOP_IN]
    if level:
        return max(level, key=lambda edge: edge.length_in)
    return max(plane.edges, key=lambda edge: max(edge.start[2], edge.end[2]))


def _past(plane: Plane, corner: Point2) -> float:
    """Level distance from the building line to the plane's top."""
    return max((c[0] - corner[0]) * plane.uphill[0] + (c[1] - corner[1]) * plane.uphill[1] for c in plane.corners)


def _is_landed(wing: Wing, plane: Plane, landed: Landed) -> bool:
    ends = (landed.span.low, landed.span.high) if landed.span.gable else (landed.span.low,)
    return any(wing.edges[i].id == plane.drawn for i in ends)


def _high_end(wing: Wing, kind: EdgeKind) -> tuple[HighEnd, float]:
    """How the upper end bears where no landing was asked for, and the level bearing there.

    Against a wall rafters meet a ledger; at a free upper edge they sit on the high wall's plate as on the low one.
    """
    if kind == "wall":
        return "face", 0.0
    if kind == "rake":
        return "notched", max(0.0, wing.heel.seat_in)
    return "ridge", 0.0


def _top_overhang(wing: Wing, top: PlaneEdge) -> float:
    edge = next((edge for edge in wing.edges if edge.id == top.drawn), None)
    if edge is None or edge.kind == "eave":
        return 0.0
    if edge.overhang_in is not None:
        return edge.overhang_in
    return wing.rake_overhang_in if edge.kind == "rake" else 0.0
