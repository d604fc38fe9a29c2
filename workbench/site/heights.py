"""How high ridges, hips and valleys are set, and the props that hold them there. Inches; angles in degrees on answers.

A prop reaches from what it stands on to the member's underside: top edge less the plumb depth d · √(1 + m²). Source:
geometry. What a prop and its bracing carry is not reckoned here.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from workbench.findings import COMMON_PRACTICE, GEOMETRY, SCREENING, Finding
from workbench.framing.model import Framing
from workbench.framing.space import dot2, left_of, minus2
from workbench.job.model import Wing
from workbench.measure import Trace, Units
from workbench.roof.model import Plane, Point2
from workbench.roof.solved import BuiltWing
from workbench.site.ground_plan import EaveLine, Line, eave_lines, inside, lowest_plate, ridge_lines, sloped_lines
from workbench.site.model import Prop, PropPlace, SetHeight, SetKind

PROP_IN = 3.5
"""Width of a prop along what it carries: a board of four inches nominal (common practice, no source)."""

_KINDS: Mapping[str, SetKind] = {"ridge_board": "ridge", "hip_rafter": "hip", "valley_rafter": "valley"}


@dataclass(frozen=True)
class Base:
    """What props stand on: a deck at a given height, or the plates.

    Attributes:
        deck_in: Height of the deck; None for the plates.
    """

    deck_in: float | None

    def height(self, plate_in: float) -> float:
        """Its height for a wing with this plate."""
        return plate_in if self.deck_in is None else self.deck_in

    def words(self, units: Units) -> str:
        """What it is, in words."""
        if self.deck_in is None:
            return "props from the top of the plates"
        return f"props from a deck at {units.length(self.deck_in)}"


def set_heights(
    framing: Framing, planes: Sequence[Plane], wings: Sequence[BuiltWing], deck_in: float | None, units: Units
) -> tuple[tuple[SetHeight, ...], tuple[Finding, ...]]:
    """Everything to be set to a height, ridges first, and what can't be propped from the level asked for.

    Args:
        framing: The frame.
        planes: All planes.
        wings: The wings as built.
        deck_in: Height of the deck props stand on; None for the plates.
        units: How lengths are shown in the traces.
    """
    base = Base(deck_in)
    names = {plane.id: plane for plane in planes}
    built = {wing.effective.id: wing for wing in wings if wing.solved is not None}
    walls = {(line.wing.id, line.edge.id): line for line in eave_lines(wings)}
    found: list[SetHeight] = []
    findings: list[Finding] = []
    for line in (*ridge_lines(framing, planes), *sloped_lines(framing, planes)):
        mine = [names[plane] for plane in line.planes if plane in names]
        owner = next((built[plane.wing] for plane in reversed(mine) if plane.wing in built), None)
        if owner is None or owner.solved is None:
            continue
        wall = next((w for plane in mine if (w := walls.get((plane.wing, plane.drawn))) is not None), None)
        setting = _Setting(line, mine, owner.effective, owner.solved.outline, wall, base, units)
        one = setting.height()
        found.append(one)
        short = [prop for prop in one.props if prop.length_in <= 0.0]
        if short:
            text = (
                f"{one.name}: its underside lies {units.length(-min(p.length_in for p in short))} under the level "
                f"props are to stand on; prop it from lower down. {SCREENING}"
            )
            findings.append(Finding("prop-from-lower", "note", owner.effective.id, text, GEOMETRY))
    return tuple(found), tuple(dict.fromkeys(findings))


@dataclass(frozen=True)
class _Setting:
    """One line to be set: the planes beside it, its wing, the wall its props are measured from."""

    line: Line
    planes: Sequence[Plane]
    wing: Wing
    outline: Sequence[Point2]
    wall: EaveLine | None
    base: Base
    units: Units

    def height(self) -> SetHeight:
        line, kind = self.line, _KINDS[self.line.member.kind]
        plate = lowest_plate(self.wing)
        top = max(line.start[2], line.end[2])
        name = f"{kind} between {' and '.join(plane.name for plane in self.planes[:2])}"
        props = tuple(self._prop(s, place, self.base.height(plate)) for s, place in self._places(kind))
        deck = None if self.base.deck_in is None else top - self.base.deck_in
        marks, wall = ", ".join(dict.fromkeys(line.marks)), "" if self.wall is None else self.wall.plane.name
        return SetHeight(kind, marks, name, wall, top, top - plate, deck, props)

    def _places(self, kind: SetKind) -> list[tuple[float, PropPlace]]:
        """Where they stand: under a ridge's ends inside the building and its joints, a hip's head and halfway."""
        low, high = inside(self.line, self.outline)
        if kind == "ridge":
            joints: list[tuple[float, PropPlace]] = [
                (self.line.place((x, y))[0], "joint") for x, y, _ in self.line.joints
            ]
            return [(low, "one end"), *((s, p) for s, p in joints if low < s < high), (high, "other end")]
        return [((low + high) / 2.0, "halfway"), (high, "head")]

    def _prop(self, s: float, place: PropPlace, base: float) -> Prop:
        line = self.line
        point = line.at(s)
        m = (line.end[2] - line.start[2]) / line.run_in
        plumb = line.member.depth_in * math.hypot(1.0, m)
        length = point[2] - plumb - base
        trace = Trace(
            f"prop under {line.member.mark}, {place}",
            length,
            "in",
            "top edge there − depth · √(1 + m²) − what it stands on",
            f"{point[2]:.4f} − {line.member.depth_in:g} · {math.hypot(1.0, m):.6f} − {base:g} = {length:.4f} in = "
            f"{self.units.length(length)}",
            f"{GEOMETRY}; where props stand: {COMMON_PRACTICE}",
        )
        return Prop(
            place,
            (point[0], point[1]),
            None if self.wall is None else self.wall.u((point[0], point[1])),
            None if self.wall is None else dot2(minus2((point[0], point[1]), self.wall.left), left_of(self.wall.along)),
            point[2],
            plumb,
            base,
            length,
            math.degrees(math.atan(m)),
            length + m * PROP_IN / 2.0,
            trace,
        )


def where_words(one: SetHeight, units: Units) -> str:
    """Where a ridge's props stand, as two tapes find them from a wall; empty for what says so itself."""
    places = [prop for prop in one.props if prop.along_in is not None and prop.off_in is not None]
    if one.kind != "ridge" or not places:
        return ""
    off = {units.length(prop.off_in or 0.0) for prop in places}
    alongs = [units.length(prop.along_in or 0.0) for prop in places]
    if len(off) > 1:
        alongs = [f"{a} ({units.length(prop.off_in or 0.0)} in)" for a, prop in zip(alongs, places, strict=True)]
        return f"{one.name}: props {_listed(alongs)} from the left end of {one.wall}, and so far in from that wall"
    return f"{one.name}: {off.pop()} in from the wall of {one.wall}; props {_listed(alongs)} from that wall's left end"


def _listed(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
