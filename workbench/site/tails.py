"""The tails: fascia against the rafter's cut, soffit and frieze heights, bevels, eave by eave. Inches, degrees.

Heights are those of the rafters: soffit board and ventilation strip are the crew's. Source: geometry; limits come
from the tables of frame limits with their sources.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from workbench.findings import GEOMETRY
from workbench.framing.stock import nominal_depth
from workbench.job.model import Wing
from workbench.job.safety import GroundLine
from workbench.measure import Trace, Units
from workbench.rules.frame_limits import frame_limits
from workbench.site.ground_plan import EaveLine
from workbench.site.model import Tail


def tails(lines: Sequence[EaveLine], ground: Sequence[GroundLine], units: Units) -> tuple[Tail, ...]:
    """The tails of every eave, in the order of the wings.

    Args:
        lines: The building lines of all eaves.
        ground: The ground lines of the job.
        units: How lengths are shown in the traces.
    """
    below = {line.edge: min(line.start_in, line.end_in) for line in ground}
    return tuple(_tail(line, below.get(line.name, 0.0), units) for line in lines)


def _tail(line: EaveLine, ground: float, units: Units) -> Tail:
    wing, eave, m = line.wing, line.eave, line.eave.tangent
    stretch, depth = math.hypot(1.0, m), line.wing.rafter.depth_in
    angle = math.degrees(math.atan(m))
    plumb = depth * stretch
    kind = wing.rafter.tail
    face = {"plumb": plumb, "level": plumb / 2.0, "square": depth}[kind]
    # A square tail's lower corner lies d · sin further in and d · cos lower than its upper one.
    bottom = eave.start_in - (depth / stretch if kind == "square" else face)
    trim = wing.trim
    fascia = (trim.fascia_depth_in or nominal_depth(face) or face) if trim.fascia_in > 0.0 else None
    square = kind == "square"
    out = trim.fascia_in + trim.sub_fascia_in
    drop = 0.0 if square else out * m
    reach = (fascia or 0.0) * (1.0 / stretch if square else 1.0)
    below = 0.0 if fascia is None else drop + reach - (eave.start_in - bottom)
    frieze = eave.plate_in + eave.hap_in - plumb
    return Tail(
        edge=line.name,
        plane=line.plane.id,
        name=line.plane.name,
        tail=kind,
        overhang_in=eave.overhang_in,
        depth_in=depth,
        face_in=face,
        top_in=eave.start_in,
        bottom_in=bottom,
        tangent=m,
        fascia_in=fascia,
        fascia_thickness_in=trim.fascia_in,
        fascia_drop_in=drop,
        fascia_below_in=below,
        sub_fascia_thickness_in=trim.sub_fascia_in,
        sub_fascia_bevel_deg=0.0 if square else angle,
        plate_in=eave.plate_in,
        hap_in=eave.hap_in,
        soffit_in=bottom,
        soffit_over_plate_in=bottom - eave.plate_in,
        soffit_over_ground_in=bottom - ground,
        frieze_in=frieze,
        barge_overhang_in=wing.rake_overhang_in,
        traces=_traces(line, face, bottom, frieze, drop, units),
    )


def _traces(line: EaveLine, face: float, bottom: float, frieze: float, drop: float, units: Units) -> tuple[Trace, ...]:
    eave, depth = line.eave, line.wing.rafter.depth_in
    m, stretch = eave.tangent, math.hypot(1.0, eave.tangent)
    tail = line.wing.rafter.tail
    formula = {"plumb": "d · √(1 + m²)", "level": "d · √(1 + m²) / 2", "square": "d"}[tail]
    down = depth / stretch if tail == "square" else face
    return (
        Trace("tail's face", face, "in", formula, f"{depth:g}, m {m:.6f} → {units.length(face)}", GEOMETRY),
        Trace(
            "height of a level soffit",
            bottom,
            "in",
            "plate + HAP − m · overhang − how far the tail reaches down",
            f"{eave.plate_in:g} + {eave.hap_in:.4f} − {m:.6f} · {eave.overhang_in:.4f} − {down:.4f} = {bottom:.4f} in",
            GEOMETRY,
        ),
        Trace(
            "top of a frieze under the rafters",
            frieze,
            "in",
            "plate + HAP − d · √(1 + m²)",
            f"{eave.plate_in:g} + {eave.hap_in:.4f} − {depth * stretch:.4f} = {frieze:.4f} in",
            GEOMETRY,
        ),
        Trace(
            "fascia with a square upper edge, set down",
            drop,
            "in",
            "thickness of fascia and sub-fascia · m on plumb tails, none on square ones",
            f"{units.length(drop)}",
            GEOMETRY,
        ),
    )


def tail_notes(wing: Wing, units: Units) -> tuple[str, ...]:
    """What to know of a wing's lookouts and tails, in words."""
    limits = frame_limits()
    notes: list[str] = []
    if any(edge.kind == "rake" for edge in wing.edges) and wing.rake_overhang_in > 0.0:
        out, back = units.length(wing.rake_overhang_in), units.length(wing.rafter.spacing_in)
        said = {
            "back": f"Lookouts stand out {out} and run back {back}, one bay; fix the inner end against lifting. Out: "
            f"{units.length(limits.lookout_overhang_in)} at most.",
            "ladder": f"A ladder of blocks carries {out} of rake, nailed through the end rafter and tied back by the "
            f"sheets; {units.length(limits.ladder_overhang_in)} at most.",
            "none": f"No lookouts carry {out} of rake; {units.length(limits.bare_panel_overhang_in)} at most for "
            "sheathing alone.",
        }
        notes.append(said[wing.trim.lookouts])
    notes.append(
        f"Limit for tails: {units.length(limits.tail_overhang_in)} out, and {limits.tail_overhang_span_share:.0%} of "
        "the rafter's span. Do not notch them past the heel."
    )
    return (*notes, f"Limits: {limits.overhang_source}; {limits.bare_panel_overhang_source}.")
