"""The site stage as part of the solved job's JSON (inches, degrees, unrounded), and as text for the terminal."""

from __future__ import annotations

from workbench.measure import Units
from workbench.site.model import LayoutStick, MeasuredPlate, SetHeight, SitePlan, Squaring, Tail

Json = dict[str, object]


def site_json(site: SitePlan) -> Json:
    """Heights and props, layout sticks, tails, where the sheathing enters, and what was measured."""
    return {
        "heights": [_height_json(one) for one in site.heights],
        "sticks": [_stick_json(stick) for stick in site.sticks],
        "jacks": [
            {
                "mark": stick.mark,
                "count": stick.count,
                "length_in": stick.length_in,
                "at_in": [s for s, _ in stick.marks],
                "marks": [mark for _, mark in stick.marks],
            }
            for stick in site.jacks
        ],
        "tails": [_tail_json(tail) for tail in site.tails],
        "coverings": [
            {"kind": one.kind, "name": one.name, "figure_in": one.figure_in, "bevel_deg": one.bevel_deg}
            for one in site.coverings
        ],
        "plates": [_plate_json(plate) for plate in site.plates],
        "squarings": [_squaring_json(one) for one in site.squarings],
        "lengths": [
            {"plane": one.plane, "drawn_in": one.drawn_in, "left_in": one.left_in, "right_in": one.right_in}
            for one in site.lengths
        ],
    }


def _height_json(one: SetHeight) -> Json:
    return {
        "kind": one.kind,
        "mark": one.mark,
        "name": one.name,
        "top_in": one.top_in,
        "above_plate_in": one.above_plate_in,
        "above_deck_in": one.above_deck_in,
        "props": [
            {
                "place": prop.place,
                "at_in": list(prop.at),
                "length_in": prop.length_in,
                "bevel_deg": prop.bevel_deg,
                "base_in": prop.base_in,
            }
            for prop in one.props
        ],
    }


def _stick_json(stick: LayoutStick) -> Json:
    """Marks as lists side by side: the n-th line is where the n-th mark stands."""
    return {
        "on": stick.on,
        "planes": list(stick.planes),
        "name": stick.name,
        "begins": stick.begins,
        "length_in": stick.length_in,
        "lines_in": [mark.line_in for mark in stick.marks],
        "centres_in": [mark.centre_in for mark in stick.marks],
        "marks": [mark.mark for mark in stick.marks],
    }


def _tail_json(tail: Tail) -> Json:
    return {
        "edge": tail.edge,
        "overhang_in": tail.overhang_in,
        "face_in": tail.face_in,
        "fascia_in": tail.fascia_in,
        "fascia_drop_in": tail.fascia_drop_in,
        "fascia_below_in": tail.fascia_below_in,
        "sub_fascia_bevel_deg": tail.sub_fascia_bevel_deg,
        "soffit_in": tail.soffit_in,
        "soffit_over_ground_in": tail.soffit_over_ground_in,
        "frieze_in": tail.frieze_in,
    }


def _plate_json(plate: MeasuredPlate) -> Json:
    return {
        "edge": plate.edge,
        "drawn_in": plate.drawn_in,
        "left_in": plate.left_in,
        "right_in": plate.right_in,
        "marks": [seat.mark for seat in plate.seats],
        "at_in": [seat.at_in for seat in plate.seats],
        "hap_in": [seat.hap_in for seat in plate.seats],
        "seat_in": [seat.seat_in for seat in plate.seats],
        "shim_in": [seat.shim_in for seat in plate.seats],
    }


def _squaring_json(one: Squaring) -> Json:
    return {
        "wing": one.wing,
        "fits": one.fits,
        "out_of_square_in": one.out_of_square_in,
        "outline_in": [list(corner) for corner in one.outline],
        "shifts_in": [list(shift) for shift in one.shifts],
    }


def site_text(site: SitePlan, units: Units) -> str:
    """Heights with their props, and layout sticks, one a line; empty where nothing is framed."""
    lines: list[str] = []
    for one in site.heights:
        props = ", ".join(f"{prop.place} {units.length(prop.length_in)}" for prop in one.props)
        lines.append(f"{one.mark}, {one.name}: top {units.length(one.above_plate_in)} over the plate; props: {props}")
    for stick in site.sticks:
        marks = ", ".join(units.compact(mark.line_in) for mark in stick.marks)
        lines.append(f"{stick.name}, from the {stick.begins}: {marks}")
    return "\n".join(lines)
