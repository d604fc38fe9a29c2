"""From wings to planes: the roof stage of the plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from workbench.errors import BadInput, NoSolution
from workbench.findings import GEOMETRY, Finding
from workbench.job.model import Opening, Wing
from workbench.measure import Units
from workbench.roof.assemble import assemble_planes
from workbench.roof.eaves import EaveLine, eave_line, wing_eaves
from workbench.roof.joining import join_wings
from workbench.roof.landed import Landed, land
from workbench.roof.model import Plane, Roof
from workbench.roof.sections import plane_section
from workbench.roof.solved import BuiltWing, Eave, SolvedWing
from workbench.roof.wavefront import FrontEdge, Raised, raise_roof


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


def build_roof(wings: Sequence[Wing], units: Units, openings: Sequence[Opening] = ()) -> BuiltRoof:
    """Planes, sections and findings of all wings, joined where they meet. Never raises for wings that could be read."""
    joined = join_wings([build_wing(wing, units) for wing in wings], openings, units)
    planes = tuple(plane for wing in joined.wings for plane in wing.planes)
    findings = (*(f for wing in joined.wings for f in wing.findings), *joined.findings)
    return BuiltRoof(Roof(planes), joined.wings, findings)


@lru_cache(maxsize=256)
def build_wing(wing: Wing, units: Units) -> BuiltWing:
    """One wing by itself: landing, eaves, planes, sections."""
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
