"""How the figures of rafters, hips, valleys and jacks were found. Inches, radians."""

from __future__ import annotations

import math

from workbench.findings import COMMON_PRACTICE, GEOMETRY
from workbench.framing.board import Board, HipFacts, RafterFacts
from workbench.framing.stick import NOISE_IN, Stick, StickShape
from workbench.framing.stock import stock_length
from workbench.measure import Trace, Units

NAVY = "NAVEDTRA 14044"
_SHORTENED = f"geometry; deduct half the ridge square to the plumb cut: {NAVY}"


def board_traces(board: Board, shape: StickShape, units: Units) -> tuple[Trace, ...]:
    """The traces of one board, its length first."""
    facts = board.facts
    if isinstance(facts, HipFacts):
        traces = _hip_traces(board, facts, shape)
    else:
        traces = _rafter_traces(board.stick, facts, shape)
    return *traces, *_seat_traces(board.stick), *_cheek_traces(board.stick), _stock_trace(board.stick, shape, units)


def _rafter_traces(stick: Stick, facts: RafterFacts, shape: StickShape) -> list[Trace]:
    if not facts.low_rate and not facts.high_rate:
        return [_common_trace(stick, facts, shape)]
    m = stick.tangent
    off_low, off_high = stick.low.first - facts.low, facts.high - stick.high.last
    length = Trace(
        "rafter length, top edge",
        shape.length_in,
        "in",
        "L = (run on the centre line − what the long points fall short of it) · √(1 + m²)",
        f"({facts.high - facts.low:.4f} − {off_low:.4f} − {off_high:.4f}) · √(1 + {m:.6f}²) = {shape.length_in:.4f} in",
        GEOMETRY,
    )
    return [length, *_cheek_bevel_traces(facts), _difference_trace(stick, facts)]


def _cheek_bevel_traces(facts: RafterFacts) -> list[Trace]:
    traces: list[Trace] = []
    for rate, which in ((facts.low_rate, "lower"), (facts.high_rate, "upper")):
        if rate:
            degrees = math.degrees(math.atan(abs(rate)))
            formula = "the plan angle D between the eave and the hip or valley, the blade following the plumb line"
            traces.append(Trace(f"{which} cheek bevel", degrees, "deg", formula, f"D = {degrees:.5f}°", GEOMETRY))
    return traces


def _difference_trace(stick: Stick, facts: RafterFacts) -> Trace:
    """What each jack is longer than the one before it."""
    rate = abs(facts.high_rate - facts.low_rate)
    stretch = math.hypot(1.0, stick.tangent)
    value = facts.spacing * rate * stretch
    ends = [f"{abs(r):.6f}" for r in (facts.high_rate, facts.low_rate) if r]
    sign = "−" if facts.high_rate * facts.low_rate > 0.0 else "+"
    return Trace(
        "common difference of jacks",
        value,
        "in",
        "s · tan D · √(1 + m²), between two slanting lines with both tan D",
        f"{facts.spacing:g} · ({f' {sign} '.join(ends)}) · √(1 + {stick.tangent:.6f}²) = {value:.4f} in",
        f"geometry; {NAVY} for equal slopes",
    )


def _common_trace(stick: Stick, facts: RafterFacts, shape: StickShape) -> Trace:
    section = facts.section
    m = stick.tangent
    building = facts.low if facts.building is None else facts.building
    run, over = facts.high - building, building - stick.low.first
    past = 0.0
    short = facts.high - stick.high.last
    formula, shown = "run + overhang", f"{run:.4f} + {over:.4f}"
    if section is not None and section.given.high_end in ("notched", "whole"):
        run = section.answer.run_in
        past = stick.high.last - building - run
        formula, shown = "run + overhang", f"{run:.4f} + {over:.4f}"
        if past > NOISE_IN:
            formula, shown = f"{formula} + past the bearing line", f"{shown} + {past:.4f}"
    elif short > NOISE_IN:
        less = facts.head.deducted or "ridge / 2"
        formula, shown = f"{formula} − {less}", f"{shown} − {short:.4f}"
    return Trace(
        "rafter length, top edge",
        shape.length_in,
        "in",
        f"L = ({formula}) · √(1 + m²)",
        f"({shown}) · √(1 + {m:.6f}²) = {shape.length_in:.4f} in",
        facts.head.source or (_SHORTENED if short > NOISE_IN else GEOMETRY),
    )


def _hip_traces(board: Board, facts: HipFacts, shape: StickShape) -> list[Trace]:
    stick = board.stick
    word = "hip" if board.kind == "hip_rafter" else "valley"
    d, m = facts.eaves[0], facts.slopes[0]
    start = stick.low.first if facts.corner is None else facts.corner
    stretch = math.hypot(1.0, stick.tangent)
    line = (facts.top - start) * stretch
    short = facts.top - stick.high.last
    traces = [
        Trace(
            f"{word} length, top edge",
            shape.length_in,
            "in",
            "L = (level run from the tail to the ridge end) · √(1 + m²)",
            f"{stick.high.last - stick.low.first:.4f} · √(1 + {stick.tangent:.6f}²) = {shape.length_in:.4f} in",
            GEOMETRY,
        ),
        Trace(
            f"{word} slope",
            12.0 * stick.tangent,
            "in_12",
            "m of either plane · sin D",
            f"{m:.6f} · sin {math.degrees(d):.5f}° = {stick.tangent:.6f} = "
            f"{math.degrees(math.atan(stick.tangent)):.5f}°",
            GEOMETRY,
        ),
        _plan_angle_trace(word, facts),
        Trace(
            f"{word} line, from the building corner to where the lines meet",
            line,
            "in",
            "level run · √(1 + m²)",
            f"{facts.top - start:.4f} · √(1 + {stick.tangent:.6f}²) = {line:.4f} in",
            GEOMETRY,
        ),
        Trace(
            "shortening at the head, level along its line",
            short,
            "in",
            facts.head.deducted
            or "to the faces it fits between; half the 45° thickness where slopes are equal and corners square",
            f"{short:.4f} in",
            facts.head.source or (NAVY if abs(facts.eaves[0] - math.pi / 4.0) < 1e-9 else GEOMETRY),
        ),
        Trace(
            "angle between the planes",
            math.degrees(facts.dihedral),
            "deg",
            "180° less the angle between the upward normals",
            f"{math.degrees(facts.dihedral):.5f}°",
            GEOMETRY,
        ),
    ]
    return [*traces, *_heel_trace(board, facts), *_top_edge_traces(board, facts)]


def _heel_trace(board: Board, facts: HipFacts) -> list[Trace]:
    """Why a valley's heel stands further out than the building corner."""
    notches = board.stick.notches
    if board.kind != "valley_rafter" or facts.corner is None or not notches:
        return []
    out, half = facts.corner - notches[0].at, board.stick.thickness / 2.0
    d = min(facts.eaves)
    return [
        Trace(
            "heel outside the building corner, level",
            out,
            "in",
            "t / 2 / tan D: so that a square heel cut clears both plates at the faces of the valley",
            f"{half:g} / tan {math.degrees(d):.4f}° = {out:.4f} in",
            GEOMETRY,
        )
    ]


def _plan_angle_trace(word: str, facts: HipFacts) -> Trace:
    left, right = (math.degrees(angle) for angle in facts.eaves)
    return Trace(
        f"plan angle of the {word} to the eaves",
        left,
        "deg",
        "tan D = sin W / (m / m' + cos W), W the corner of the eaves, m this plane's slope, m' the other's",
        f"D = {left:.5f}° to the left eave, {right:.5f}° to the right",
        GEOMETRY,
    )


def _top_edge_traces(board: Board, facts: HipFacts) -> list[Trace]:
    half = board.stick.thickness / 2.0
    traces: list[Trace] = []
    if facts.drop > 0.0:
        terms = [
            f"{half:g} · {m:.6f} · cos {math.degrees(d):.4f}°" for m, d in zip(facts.slopes, facts.eaves, strict=True)
        ]
        name = "hip drop, plumb" if board.kind == "hip_rafter" else "drop of the long valley, plumb"
        said = f"the larger of {terms[0]} and {terms[1]}" if board.kind == "hip_rafter" else terms[0]
        source = f"geometry; {NAVY} for equal slopes" if board.kind == "hip_rafter" else GEOMETRY
        traces.append(
            Trace(name, facts.drop, "in", "t / 2 · m · cos D of a plane", f"{said} = {facts.drop:.4f} in", source)
        )
    for angle, m, d, side in zip(facts.backing, facts.slopes, facts.eaves, ("left", "right"), strict=True):
        if angle > 0.0:
            slope = math.degrees(math.atan(m))
            shown = f"asin(sin {slope:.4f}° · cos {math.degrees(d):.4f}°) = {math.degrees(angle):.5f}°"
            traces.append(
                Trace(f"backing, {side} side", math.degrees(angle), "deg", "asin(sin θ · cos D)", shown, GEOMETRY)
            )
    return traces


def _seat_traces(stick: Stick) -> list[Trace]:
    traces: list[Trace] = []
    for notch in stick.notches:
        if notch.name:
            continue
        above = stick.top(notch.at) - notch.support
        traces.append(
            Trace(
                "seat on the plate",
                notch.seat,
                "in",
                "(d / cos θ − height above plate) / tan θ",
                f"({stick.depth:g} · √(1 + {stick.tangent:.6f}²) − {above:.4f}) / {stick.tangent:.6f} "
                f"= {notch.seat:.4f} in",
                "geometry; top edges of one wing share their height above plate",
            )
        )
    return traces


def _cheek_traces(stick: Stick) -> list[Trace]:
    """The side cuts as a framing square takes them."""
    traces: list[Trace] = []
    stretch = math.hypot(1.0, stick.tangent)
    for end, which in ((stick.low, "lower"), (stick.high, "upper")):
        for bevel in sorted({round(abs(b), 12) for b in end.bevels}):
            if bevel * stick.thickness < NOISE_IN:
                continue
            value = 12.0 / (stretch * math.tan(bevel))
            traces.append(
                Trace(
                    f"{which} side cut on the square",
                    value,
                    "in_12",
                    "12 on the tongue and 12 · cos θ / tan D on the blade, marked along the tongue",
                    f"12 / (√(1 + {stick.tangent:.6f}²) · tan {math.degrees(bevel):.4f}°) = {value:.4f}",
                    f"geometry; {NAVY} for equal slopes",
                )
            )
    return traces


def _stock_trace(stick: Stick, shape: StickShape, units: Units) -> Trace:
    stock = stock_length(shape.overall_in) or shape.overall_in
    return Trace(
        "stock to buy",
        stock,
        "in",
        "shortest length sold that is not under the furthest points of the end cuts",
        f"{shape.overall_in:.4f} in over the cuts of stock {units.length(stick.depth)} deep → {units.length(stock)}",
        COMMON_PRACTICE,
    )
