"""Which drawing each stage shows on the surface, and what stands out in it."""

from __future__ import annotations

from collections.abc import Callable

from workbench.drawing.frame_plan import frame_plan
from workbench.drawing.headroom_plan import headroom_marks
from workbench.drawing.primitives import Drawing, Line, Primitive, Role
from workbench.drawing.roof_plan import roof_plan
from workbench.drawing.safety_plan import safety_from_above
from workbench.drawing.sheet_plan import sheets_from_above
from workbench.job.model import Wing
from workbench.plan import Plan

STAGES = ("plan", "slope", "frame", "sheets", "safety", "quantities")

Overlay = Callable[[Plan], Drawing]
"""What is laid over a stage's drawing of a plan."""

_EDGES: tuple[Role, ...] = ("eave", "rake", "ridge", "hip", "valley", "wall", "pitch_break", "step")
_SHEETS: tuple[Role, ...] = ("sheet", "sheet_whole", "sheet_cut", "note", *_EDGES)
_QUIET: dict[str, tuple[Role, ...]] = {"frame": (*_EDGES, "building_line"), "sheets": ("building_line",)}


def stage_drawing(plan: Plan, stage: str) -> Drawing:
    """What a stage draws; wings that could not be solved are shown by their outline in all of them."""
    match stage:
        case "frame":
            drawing = frame_plan(plan) + headroom_marks(plan)
        case "sheets":
            drawing = sheets_from_above(plan)
        case "safety":
            drawing = safety_from_above(plan)
        case _:
            drawing = roof_plan(plan)
    return drawing + _unsolved(plan)


def quiet_roles(stage: str, *, overlaid: bool = False) -> frozenset[Role]:
    """Roles that step back in a stage; with something laid over it, all that is its own."""
    return frozenset((*_QUIET.get(stage, ()), *(_SHEETS if overlaid else ())))


def laid_over(keys: frozenset[str]) -> frozenset[str]:
    """The keys of what is laid over a stage's drawing."""
    return frozenset(key for key in keys if key.startswith("dry:"))


def standing_out(keys: frozenset[str], selected: str) -> frozenset[str]:
    """The keys on the drawing that a selected key lights up: a wing lights its planes, a plane its sheets."""
    kind, _, name = selected.partition(":")
    if kind == "wing":
        return frozenset(key for key in keys if key.startswith(f"plane:{name}/")) | {selected}
    if kind == "plane" and selected not in keys:
        return frozenset(key for key in keys if key.startswith(f"piece:{name}/"))
    return frozenset({selected}) & keys


def _unsolved(plan: Plan) -> Drawing:
    solved = {wing.wing for wing in plan.wings}
    items: list[Primitive] = []
    for wing in plan.job.wings:
        if wing.id not in solved or not any(plane.wing == wing.id for plane in plan.roof.planes):
            items += _outline(wing)
    return Drawing(tuple(items))


def _outline(wing: Wing) -> list[Primitive]:
    ring = (*wing.outline, wing.outline[0])
    return [Line(f"edge:{wing.id}/{edge.id}", edge.kind, ring[i], ring[i + 1]) for i, edge in enumerate(wing.edges)]
