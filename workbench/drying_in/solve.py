"""The drying-in stage of the plan."""

from __future__ import annotations

from collections.abc import Sequence

from workbench.drying_in.air import air_plan
from workbench.drying_in.barrier import ice_barriers
from workbench.drying_in.lines import edge_runs
from workbench.drying_in.model import DryInPlan
from workbench.drying_in.order import Order
from workbench.drying_in.underlayment import is_doubled
from workbench.findings import SCREENING, Finding
from workbench.framing.model import Framing
from workbench.job.model import Job
from workbench.measure import Units
from workbench.roof.model import Roof
from workbench.roof.solved import BuiltWing, Eave
from workbench.rules.coverings import covering
from workbench.rules.dry_in import dry_in_rules
from workbench.sheathing.model import SheathingPlan

_NOISE = 1e-6


def dry_in(
    job: Job, wings: Sequence[BuiltWing], roof: Roof, framing: Framing, sheathing: SheathingPlan, units: Units
) -> DryInPlan:
    """Order of work, what to buy, ice barrier and air.

    Args:
        job: The job.
        wings: Its wings as built.
        roof: All planes.
        framing: Members, for the blocks that let air in.
        sheathing: Sheets, for the joints between them.
        units: How figures are shown in texts.
    """
    if not roof.planes:
        return DryInPlan()
    ice = job.drying_in.ice
    barriers = () if ice is None else ice_barriers(ice, roof, _eaves(wings, roof), job.sheathing.past_tail_in, units)
    order = Order(job, roof, sheathing, barriers, units)
    steps = order.steps()
    air, told = air_plan(job, wings, roof, framing, units)
    findings = (*_lap_findings(job, roof, units), *_doubled(job, roof, units), *told)
    return DryInPlan(steps, tuple(order.materials), barriers, tuple(order.tapes), air, findings)


def _eaves(wings: Sequence[BuiltWing], roof: Roof) -> dict[str, Eave]:
    """The eave of each plane that rises from one."""
    known = {
        (built.effective.id, eave.edge): eave
        for built in wings
        if built.solved is not None
        for eave in built.solved.eaves
    }
    return {
        plane.id: known[plane.wing, plane.drawn]
        for plane in roof.planes
        if not plane.upper and (plane.wing, plane.drawn) in known
    }


def _lap_findings(job: Job, roof: Roof, units: Units) -> list[Finding]:
    """Laps, legs and widths under the least."""
    drying, rules = job.drying_in, dry_in_rules()
    findings: list[Finding] = []

    def short(code: str, what: str, value: float, least: float, source: str) -> None:
        if value < least - _NOISE:
            text = f"{what} of {units.inches(value)}: {units.inches(least)} is the least. {SCREENING}"
            findings.append(Finding(code, "warning", "", text, source))

    short("edge-metal-lap", "Laps of edge metal", drying.metal_lap_in, rules.edge_metal_lap_in, rules.edge_metal_source)
    short(
        "edge-metal-leg", "Edge metal up the deck", drying.metal_up_in, rules.edge_metal_up_in, rules.edge_metal_source
    )
    if edge_runs(roof, "valley"):
        least = rules.valley_least_in.get(drying.valley, 0.0)
        short("valley-lining-narrow", "A valley lining", drying.valley_width_in, least, rules.valley_source)
    if edge_runs(roof, "wall"):
        least = rules.flashing_least_in
        short("flashing-small", "A leg of roof-to-wall flashing", drying.flashing_in, least, rules.flashing_source)
    if drying.ice is not None:
        short(
            "ice-barrier-short",
            "An ice barrier past the wall line",
            drying.ice.inside_in,
            rules.ice_inside_in,
            rules.ice_source,
        )
    return findings


def _doubled(job: Job, roof: Roof, units: Units) -> list[Finding]:
    """Low slopes on which taped panels alone are not the doubled underlayment the covering asks for."""
    low = [plane for plane in roof.planes if is_doubled(plane, job.screening)]
    if not low or job.drying_in.tight == "underlayment":
        return []
    names = ", ".join(plane.name for plane in low)
    kind = covering(job.screening.covering)
    text = (
        f"{names}: under {kind.double_below_in_12:g} in 12 {kind.name} want doubled underlayment; whether taped panels "
        f"stand in for it is for the makers of both. {SCREENING}"
    )
    return [Finding("underlayment-doubled", "note", low[0].id, text, kind.source)]
