"""The section through a plane: what the landing solver would be asked for it."""

from __future__ import annotations

from dataclasses import replace

from workbench.errors import BadInput, NoSolution
from workbench.job.model import Wing
from workbench.measure import Units
from workbench.roof.landed import Landed
from workbench.roof.landing import HighEnd, LandingInput, solve_landing
from workbench.roof.model import EdgeKind, Plane, PlaneEdge, Point2
from workbench.roof.solved import Eave, Section, SolvedWing

_TOP_IN = 1e-6
_SAME_TOP_IN = 1e-3
_SAME_SLOPE = 1e-9
_FULL: tuple[EdgeKind, ...] = ("ridge", "wall", "rake")  # what a rafter from an eave can end on at its full length


def plane_section(
    wing: Wing, plane: Plane, eave: Eave, corner: Point2, landed: Landed | None, units: Units
) -> Section | None:
    """The section through one plane; None where its rafters have no landing to speak of.

    It is for rafters that start at an eave and run to a ridge, a wall or a top edge: a second slope has none, nor has a
    plane that ends on a pitch break, where only the framing beneath decides how they bear.

    Args:
        wing: The wing with what was found put in.
        plane: The plane.
        eave: The eave it rises from.
        corner: A point of that eave's building line.
        landed: The wing's landing as solved, if it has one.
        units: How lengths are shown in texts.
    """
    if plane.upper:
        return None
    past = _past(plane, corner)
    if landed is not None and _is_landed(wing, plane, landed):
        beyond = max(0.0, past - landed.answer.run_in) if landed.given.high_end in ("notched", "whole") else 0.0
        return Section(plane.id, landed.given, landed.answer, eave.overhang_in, beyond, landed=True)
    return _section_to(wing, plane.id, top_edge(plane), past, eave, units)


def cut_section(wing: Wing, solved: SolvedWing, before: Plane, plane: Plane, units: Units) -> Section | None:
    """The section through a plane that others have cut, by the longest rafter it still has.

    Args:
        wing: The wing with what was found put in.
        solved: The wing as solved alone.
        before: The plane as its wing has it alone.
        plane: What is left of it, or a piece of it.
        units: How lengths are shown in texts.

    Returns:
        The section the plane had, if a rafter still runs as far up; one to the edge its longest rafter ends on, if it
        ends lower; None where no rafter starts at an eave.
    """
    longest = longest_rafter(plane)
    index = next((i for i, edge in enumerate(wing.edges) if edge.id == plane.drawn), None)
    if longest is None or index is None:
        return None
    top, high = longest
    corner = solved.outline[index]
    past = _level(plane, corner) + high / plane.stretch
    known = solved.section_of(before.id)
    if known is not None and abs(past - _past(before, corner)) < _SAME_TOP_IN:
        return replace(known, plane=plane.id)
    eave = next(eave for eave in solved.eaves if eave.edge == plane.drawn)
    if abs(eave.tangent - plane.tangent) > _SAME_SLOPE:
        return None  # a plane turned about a drawn line starts on no level plate of its own
    return _section_to(wing, plane.id, top, past, eave, units)


def longest_rafter(plane: Plane) -> tuple[PlaneEdge, float] | None:
    """The edge the longest rafter from an eave ends on, and how far up it ends, in plane axes; None without eave.

    Rafters that end square to a ridge, a wall or a top edge go before those cut to a hip or valley.
    """
    rings = zip((plane.polygon, *plane.opening_polygons), (plane.edges, *plane.opening_edges), strict=True)
    sides = [side for ring, edges in rings for side in zip(ring, ring[1:] + ring[:1], edges, strict=True)]
    xs = sorted({x for (x, _), _, _ in sides})
    best: tuple[bool, float, float, PlaneEdge] | None = None
    for left, right in zip(xs, xs[1:], strict=False):
        if right - left <= _SAME_TOP_IN:
            continue
        crossed = sorted(
            (((_at(a, b, left), _at(a, b, right)), edge) for a, b, edge in sides if _spans(a, b, left, right)),
            key=lambda crossing: sum(crossing[0]),
        )
        for (low, foot), (high, head) in zip(crossed[::2], crossed[1::2], strict=False):
            length = max(h - w for h, w in zip(high, low, strict=True))
            rank = (head.kind in _FULL, length)
            if foot.kind == "eave" and (best is None or rank > best[:2]):
                best = (*rank, max(high), head)
    return None if best is None else (best[3], best[2])


def _spans(a: Point2, b: Point2, left: float, right: float) -> bool:
    return min(a[0], b[0]) <= left and right <= max(a[0], b[0])


def _at(a: Point2, b: Point2, x: float) -> float:
    return a[1] + (b[1] - a[1]) * (x - a[0]) / (b[0] - a[0])


def _section_to(wing: Wing, plane_id: str, top: PlaneEdge, past: float, eave: Eave, units: Units) -> Section | None:
    """The section from an eave up to an edge that lies ``past`` inside the building line, level."""
    if top.kind == "pitch_break":
        return None
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
        ridge_thickness_in=wing.ridge_width_in,
        find="landing",
    )
    try:
        answer = solve_landing(given, units=units, subject=wing.id)
    except (NoSolution, BadInput):
        return None  # such a heel or run can't be framed; the planes are still right
    settled = replace(given, seat_in=max(0.0, answer.seat_in), landing_in=answer.landing_in)
    return Section(plane_id, settled, answer, eave.overhang_in, bearing + overhang, landed=False)


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


def _level(plane: Plane, corner: Point2) -> float:
    """Level distance from the building line to the plane axes' origin."""
    return (plane.origin[0] - corner[0]) * plane.uphill[0] + (plane.origin[1] - corner[1]) * plane.uphill[1]


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
