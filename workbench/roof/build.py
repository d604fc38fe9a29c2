"""From wings to planes: the roof stage of the plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from workbench.errors import BadInput, NoSolution
from workbench.findings import GEOMETRY, Finding
from workbench.job.model import Opening, Wing
from workbench.measure import Units
from workbench.roof.assemble import assemble_planes
from workbench.roof.crickets import cricket_wings
from workbench.roof.eaves import EaveLine, eave_line, wing_eaves
from workbench.roof.joining import join_wings
from workbench.roof.landed import Landed, land
from workbench.roof.model import Plane, Roof
from workbench.roof.nearly import in_line
from workbench.roof.profiles import profile_findings, takeover_findings
from workbench.roof.sections import plane_section
from workbench.roof.single import build_single
from workbench.roof.solved import BuiltWing, Eave, SolvedWing
from workbench.roof.splits import split_wing
from workbench.roof.wavefront import Break, FrontEdge, raise_roof


@dataclass(frozen=True)
class BuiltRoof:
    """All wings as built, the crickets after the drawn ones.

    Attributes:
        roof: All planes.
        wings: The wings.
        findings: What is to be told of them.
        crickets: Ids of the wings that are crickets of chimneys.
    """

    roof: Roof
    wings: tuple[BuiltWing, ...]
    findings: tuple[Finding, ...]
    crickets: frozenset[str] = frozenset()

    @property
    def solved(self) -> tuple[SolvedWing, ...]:
        """The drawn wings that could be solved: not the crickets, which have no walls, plates or landings."""
        drawn = (wing.solved for wing in self.wings if wing.effective.id not in self.crickets)
        return tuple(solved for solved in drawn if solved is not None)


def build_roof(wings: Sequence[Wing], units: Units, openings: Sequence[Opening] = ()) -> BuiltRoof:
    """Planes, sections and findings of all wings, joined where they meet. Never raises for wings that could be read."""
    wings, moved = in_line(wings, units)
    built = [build_wing(wing, units) for wing in wings]
    crickets, said = cricket_wings(built, openings, units)
    joined = join_wings([*built, *(_build_cricket(cricket, units) for cricket in crickets)], openings, units)
    planes = tuple(plane for wing in joined.wings for plane in wing.planes)
    findings = (*moved, *said, *(f for wing in joined.wings for f in wing.findings), *joined.findings)
    return BuiltRoof(Roof(planes), joined.wings, findings, frozenset(cricket.id for cricket in crickets))


@lru_cache(maxsize=1024)
def build_wing(wing: Wing, units: Units) -> BuiltWing:
    """One wing by itself: landing, eaves, planes, sections, and the lines drawn to split its planes."""
    built = _raised(wing, units) if wing.single is None else build_single(wing, wing.single, units)
    return split_wing(built, units) if wing.splits else built


@lru_cache(maxsize=256)
def _build_cricket(wing: Wing, units: Units) -> BuiltWing:
    """A cricket has no plates: what is to be said of its heels goes for nothing."""
    return replace(build_wing(wing, units), findings=())


def _raised(wing: Wing, units: Units) -> BuiltWing:
    """A wing whose planes rise from its eaves."""
    landed, findings = land(wing, units)
    effective = wing if landed is None else landed.wing
    eaves = wing_eaves(effective)
    line = eave_line(effective, effective.outline, eaves)
    try:
        raised = raise_roof(line.corners, _front(effective, line, eaves))
        planes = assemble_planes(effective, line, raised, {i: eave.tangents for i, eave in eaves.items()})
    except (NoSolution, BadInput) as error:
        text = f"{wing.name}: the roof can't be raised over this outline. {error}"
        return BuiltWing(None, effective, (), (*findings, Finding("roof-unsolved", "error", wing.id, text, GEOMETRY)))
    solved = _solved(effective, planes, eaves, landed, units)
    made = (f for section in solved.sections for f in section.answer.findings)
    told = (*takeover_findings(effective, line, raised), *profile_findings(effective, line, raised, eaves, units))
    return BuiltWing(solved, effective, planes, (*findings, *made, *told))


def _front(wing: Wing, line: EaveLine, eaves: dict[int, Eave]) -> tuple[FrontEdge, ...]:
    front: list[FrontEdge] = []
    for index in line.edges:
        eave = None if index is None else eaves.get(index)
        if eave is None:
            front.append(FrontEdge(0.0))
        else:
            front.append(FrontEdge(1.0 / eave.tangent, eave.start_in, _breaks(eave)))
    return tuple(front)


def _breaks(eave: Eave) -> tuple[Break, ...]:
    if eave.break_in is None:
        return ()
    return (Break(eave.break_in, 0.0 if eave.upper_tangent is None else 1.0 / eave.upper_tangent),)


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
