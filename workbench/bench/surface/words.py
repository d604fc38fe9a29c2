"""What is selected, in words: for the panel, the status line and screen readers."""

from __future__ import annotations

import math

from workbench.bench.surface.tools.base import edge_index, opening_of, side_of, wing_of
from workbench.bench.surface.tools.kinds import word_of_kind
from workbench.job.model import Wing
from workbench.measure import Units
from workbench.plan import Plan
from workbench.roof.model import Point2
from workbench.safety.words import rope_words


def side_name(wing: Wing, index: int) -> str:
    """Where an edge is on its wing, in words: ``front``, ``left 2``."""
    words = [_side_word(wing, i) for i in range(len(wing.edges))]
    word = words[index]
    return word if words.count(word) == 1 else f"{word} {words[: index + 1].count(word)}"


def edge_sentence(plan: Plan, wing: Wing, index: int) -> str:
    """An edge in words: ``front of main: eave, 40'``."""
    start, end = side_of(wing, index)
    length = plan.units.length(math.dist(start, end))
    return f"{side_name(wing, index)} of {wing.name}: {word_of_kind(wing.edges[index].kind).lower()}, {length}"


def place_words(units: Units, point: Point2) -> tuple[str, str]:
    """How far right or left of the drawing's beginning a point lies, and how far up or down."""
    zero = units.length(0.0)
    said: list[str] = []
    for value, plus, minus in ((point[0], "right", "left"), (point[1], "up", "down")):
        shown = units.length(abs(value))
        said.append(f"{shown} {minus if value < 0.0 and shown != zero else plus}")
    return said[0], said[1]


def describe(plan: Plan, key: str) -> str:
    """What a key names, in words; empty for nothing."""
    kind, _, name = key.partition(":")
    wing = wing_of(plan.job, key)
    last = name.rpartition("/")[2]
    if kind == "edge" and wing is not None:
        index = edge_index(wing, last)
        return "" if index is None else edge_sentence(plan, wing, index)
    if kind == "corner" and wing is not None:
        index = int(last)
        if index >= len(wing.outline):
            return ""
        x, y = wing.outline[index]
        return f"corner {index + 1} of {wing.name}: {', '.join(place_words(plan.units, (x, y)))}"
    if kind == "plane":
        plane = plan.plane(name)
        return "" if plane is None else f"plane {plane.name}: {plan.units.slope(plane.tangent)}"
    opening = opening_of(plan.job, key)
    if opening is not None:
        width, length = plan.units.length(opening.width_in), plan.units.length(opening.length_in)
        return f"{opening.kind}, {width} × {length}"
    if kind == "wing":
        return "" if wing is None else f"wing {wing.name}"
    if kind == "member":
        return _member_words(plan, name)
    anchor = plan.safety.anchor(name) if kind == "anchor" else None
    if anchor is not None:
        plane = plan.plane(anchor.plane)
        where = f"on {plane.name}" if plane is not None else "off the roof"
        return f"anchor {anchor.name} {where}: rope {rope_words(anchor, plan.units)}"
    if kind == "piece":
        return f"piece {last}"
    return name


def keys_in_turn(plan: Plan, stage: str) -> tuple[str, ...]:
    """Keys of everything that can be selected in a stage, in the order the Tab key goes through them."""
    if stage == "frame":
        return tuple(f"member:{member.mark}" for member in plan.framing.members)
    if stage == "sheets":
        return tuple(f"piece:{p.plane}/{p.label}" for sheets in plan.sheathing.planes for p in sheets.pieces)
    planes = [f"plane:{plane.id}" for plane in plan.roof.planes]
    if stage != "plan":
        return tuple(planes)
    keys: list[str] = []
    for wing in plan.job.wings:
        keys.append(f"wing:{wing.id}")
        keys += [key for key in planes if key.startswith(f"plane:{wing.id}/")]
        keys += [f"edge:{wing.id}/{edge.id}" for edge in wing.edges]
        keys += [f"corner:{wing.id}/{index}" for index in range(len(wing.outline))]
    keys += [f"opening:{opening.id}" for opening in plan.job.openings]
    return tuple(keys)


def _member_words(plan: Plan, mark: str) -> str:
    member = next((member for member in plan.framing.members if member.mark == mark), None)
    if member is None:
        return ""
    pieces = "1 piece" if member.count == 1 else f"{member.count} pieces"
    return f"{mark}: {pieces} of {member.section}, {plan.units.tape(member.length_in)}"


def _side_word(wing: Wing, index: int) -> str:
    """As the roof names its planes: by the way an edge looks outwards."""
    (x0, y0), (x1, y1) = side_of(wing, index)
    outward = (y1 - y0, x0 - x1)
    if abs(outward[1]) >= abs(outward[0]):
        return "front" if outward[1] < 0.0 else "back"
    return "left" if outward[0] < 0.0 else "right"
