"""From wings to planes: the roof stage of the plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations

from shapely.geometry import Polygon

from workbench.errors import BadInput, NoSolution
from workbench.findings import GEOMETRY, Finding
from workbench.job.model import Wing
from workbench.measure import Units
from workbench.roof.assemble import assemble_planes
from workbench.roof.eaves import EaveLine, eave_line, wing_eaves
from workbench.roof.landed import Landed, land
from workbench.roof.model import Plane, Roof
from workbench.roof.sections import plane_section
from workbench.roof.solved import BuiltWing, Eave, SolvedWing
from workbench.roof.wavefront import FrontEdge, Raised, raise_roof

_OVERLAP_SQIN = 1.0
_CLEAR_IN = 1.0  # less room than this between two roofs counts as touching


@dataclass(frozen=True)
class BuiltRoof:
    """All wings as built."""

    roof: Roof
    wings: tuple[BuiltWing, ...]
    findings: tuple[Finding, ...]

    @property
    def solved(self) -> tuple[SolvedWing, ...]:
        """The wings that could be solved."""
        return tuple(wing.solved for wing in self.wings if wing.solved is not None)


def build_roof(wings: Sequence[Wing], units: Units) -> BuiltRoof:
    """Planes, sections and findings of all wings. Never raises for wings that could be read."""
    built = tuple(build_wing(wing, units) for wing in wings)
    planes = tuple(plane for wing in built for plane in wing.planes)
    findings = (*(f for wing in built for f in wing.findings), *_overlaps(built))
    return BuiltRoof(Roof(planes), built, findings)


@lru_cache(maxsize=256)
def build_wing(wing: Wing, units: Units) -> BuiltWing:
    """One wing: landing, eaves, planes, sections."""
    landed, findings = land(wing, units)
    effective = wing if landed is None else landed.wing
    eaves = wing_eaves(effective)
    line = eave_line(effective, effective.outline, eaves)
    try:
        raised = raise_roof(line.corners, _front(effective, line, eaves))
        planes = assemble_planes(effective, line, raised, {i: eave.tangent for i, eave in eaves.items()})
    except (NoSolution, BadInput) as error:
        text = f"{wing.name}: the roof can't be raised over this outline. {error}"
        return BuiltWing(None, effective, (), (*findings, Finding("roof-unsolved", "error", wing.id, text, GEOMETRY)))
    solved = _solved(effective, planes, eaves, landed, units)
    made = (f for section in solved.sections for f in section.answer.findings)
    return BuiltWing(solved, effective, planes, (*findings, *made, *_takeovers(effective, line, raised)))


def _front(wing: Wing, line: EaveLine, eaves: dict[int, Eave]) -> tuple[FrontEdge, ...]:
    front: list[FrontEdge] = []
    for index in line.edges:
        eave = None if index is None else eaves.get(index)
        if eave is None:
            front.append(FrontEdge(0.0))
        else:
            start = eave.plate_in + eave.hap_in - eave.tangent * eave.overhang_in
            front.append(FrontEdge(1.0 / eave.tangent, start))
    return tuple(front)


def _solved(
    wing: Wing, planes: tuple[Plane, ...], eaves: dict[int, Eave], landed: Landed | None, units: Units
) -> SolvedWing:
    index_of = {edge.id: i for i, edge in enumerate(wing.edges)}
    sections = (
        plane_section(wing, plane, eaves[index_of[plane.drawn]], wing.outline[index_of[plane.drawn]], landed, units)
        for plane in planes
    )
    return SolvedWing(
        wing.id,
        wing.outline,
        tuple(eaves[i] for i in sorted(eaves)),
        tuple(section for section in sections if section is not None),
    )


def _takeovers(wing: Wing, line: EaveLine, raised: Raised) -> tuple[Finding, ...]:
    findings: list[Finding] = []
    for taken in raised.takeovers:
        if taken.dropped is None:
            continue
        kept, dropped = line.edges[taken.kept], line.edges[taken.dropped]
        if kept is None or dropped is None:
            continue
        text = (
            f"{wing.name}: the planes over edges {kept + 1} and {dropped + 1} come into line with unequal slopes; the "
            "shallower one goes on from a level pitch break. Draw a corner where a step wall is meant."
        )
        findings.append(Finding("pitch-break-chosen", "warning", wing.id, text, GEOMETRY))
    return tuple(findings)


def _overlaps(built: Sequence[BuiltWing]) -> tuple[Finding, ...]:
    """Wings whose roofs run into each other; a roof that passes clear above another is none of these."""
    findings: list[Finding] = []
    for a, b in combinations((wing for wing in built if wing.planes), 2):
        if any(_run_into(p, q) for p in a.planes for q in b.planes):
            first, second = a.effective, b.effective
            text = (
                f'The roofs of "{first.name}" and "{second.name}" run into each other. They are solved apart: neither '
                "is trimmed where they meet, so pieces and members there are counted twice."
            )
            findings.append(Finding("wings-overlap", "warning", second.id, text, GEOMETRY))
    return tuple(findings)


def _run_into(a: Plane, b: Plane) -> bool:
    shape_a, shape_b = (Polygon([(c[0], c[1]) for c in plane.corners]) for plane in (a, b))
    shared = shape_a.intersection(shape_b)
    if shared.area <= _OVERLAP_SQIN or not isinstance(shared, Polygon):
        return shared.area > _OVERLAP_SQIN
    gaps = [_height(a, point) - _height(b, point) for point in shared.exterior.coords]
    return min(gaps) < _CLEAR_IN and max(gaps) > -_CLEAR_IN


def _height(plane: Plane, point: Sequence[float]) -> float:
    run = (point[0] - plane.origin[0]) * plane.uphill[0] + (point[1] - plane.origin[1]) * plane.uphill[1]
    return plane.origin[2] + run * plane.tangent
