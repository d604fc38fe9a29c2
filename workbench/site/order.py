"""Order of erection and temporary bracing, in words, for the roof at hand. Common practice, no source."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from workbench.framing.model import Framing
from workbench.job.model import Job
from workbench.measure import Units
from workbench.site.model import SitePlan

BRACING_CAUTION = (
    "A roof that is half up falls down. Until every row of sheets is nailed only props and bracing hold it. A "
    "competent person plans and checks them for this roof and this wind; what follows is the usual order and no design."
)
BRACING_SOURCE = "common practice, no source"

BRACING_RULES = (
    "Props stand on sills over joists or the ground, not on bare decking between joists, and are braced both ways.",
    "Brace the ridge along its length from gable walls or deck, and across it in pairs, before rafters lean on it.",
    "Brace gable walls inwards and outwards before a rafter touches them; plumb them again when the ridge is up.",
    "A board across the rafters near mid-span and a diagonal in each roof plane, nailed at every rafter, stay until "
    "the sheets replace them.",
    "Rafters go up in pairs from both sides, so that the ridge is not pushed over; never many on one side alone.",
    "Ceiling joists or rafter ties are nailed before the props come out: without them the walls spread.",
    "No stack of sheets on bare rafters, nobody on an unbraced one. Stop in wind: braced is not sheathed.",
    "A prop or brace comes out only when the competent person says so.",
)


def steps(job: Job, framing: Framing, site: SitePlan, units: Units) -> list[str]:
    """The order of erection for what this roof is made of."""
    kinds = {member.kind for member in framing.members}
    return list(_steps(job, kinds, site, units))


def _steps(job: Job, kinds: Collection[str], site: SitePlan, units: Units) -> Iterator[str]:
    yield "Walls plumb, lined, tied together and braced; plates nailed off. Measure plates and diagonals as built."
    if any(wing.framed_with == "trusses" for wing in job.wings):
        yield "Trusses: lifted, set and braced by their maker's sheets and the engineer; never a single one unbraced."
    ridges = [one for one in site.heights if one.kind == "ridge"]
    if "gable_stud" in kinds:
        yield "Gable walls: raise and brace them, or fill in their studs under the end rafters once those stand."
    if ridges:
        highest = max(ridges, key=lambda one: one.top_in)
        above = units.length(highest.above_plate_in)
        yield f"Props up and braced. Ridge on them, level: its top {above} over the plate at the highest ridge."
        yield "End rafters in pairs at both ends of the ridge; check height, plumb and line; brace the ridge both ways."
        yield "Rafters in pairs: some at each end, some in the middle, then fill in. Line the ridge by a string."
    elif "common_rafter" in kinds:
        yield "End rafters first, a string between them, then the others; brace them before the next bay is filled."
    yield from _sloped(kinds)
    if {"collar_tie", "rafter_tie"} & set(kinds):
        yield "Ties as soon as their pair of rafters stands."
    if any(wing.joins == "overframed" for wing in job.wings) or "sleeper" in kinds:
        yield "The roof below is sheathed and nailed off before sleepers and the roof over it are laid out on it."
    if {"barge_rafter", "lookout"} & set(kinds):
        yield "Lookouts, then barge rafters, from a scaffold or deck: nobody hangs on a rake that is not held back."
    if {"eave_block", "ridge_block", "row_block"} & set(kinds):
        yield "Blocks as the rafters go up: they keep them upright."
    yield "Fascia lined to a string, then sheets from the eave up, every row nailed off before the next is stood on."
    yield "Props and bracing out last, when the sheets are nailed and ties or joists hold the walls."


def _sloped(kinds: Collection[str]) -> Iterator[str]:
    if "hip_rafter" in kinds:
        yield "Hips on their props, lined straight from corner to ridge, commons at their heads first; jacks in pairs."
    if "valley_rafter" in kinds:
        yield "Valleys on their props, both roofs' commons beside them first; jacks in pairs keep them straight."
