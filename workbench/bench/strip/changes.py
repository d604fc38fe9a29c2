"""Changes of one section's measures: each takes a section and gives the changed job, or says why it can't be.

No Qt here; the strip and the slope panel share these.
"""

from __future__ import annotations

from workbench.bench.strip.measures import Cut, Measurable, ends_of, mark_of, value_of, word_of
from workbench.errors import EditError
from workbench.job import edits
from workbench.job.model import HighEnd, Job
from workbench.roof.landed import find_span

_CHANGED: dict[Measurable, str] = {
    "slope": "Change slope",
    "run": "Change run",
    "low_plate": "Change low plate",
    "landing": "Change landing height",
    "hap_low": "Change height above plate",
    "seat": "Change seat",
    "hap_high": "Change height above landing",
    "tail": "Change overhang",
}


def step_text(name: Measurable) -> str:
    """The undo step's text for a change of this measure."""
    return _CHANGED[name]


def with_value(cut: Cut, name: Measurable, value: float) -> Job:
    """The job with one given measure changed; inches, or rise in 12 for the slope.

    Raises:
        EditError: The measure is to find, or can't have this value.
    """
    mark = mark_of(cut, name)
    if mark == "to find":
        raise EditError(f"{word_of(cut, name)} is to find; click its mark first to give it.")
    if mark == "follows":
        cut = _after(cut, give_heel(cut, name))
    return _written(cut, name, value)


def give_heel(cut: Cut, name: Measurable) -> Job:
    """The job with the seat or the height above plate as the one given, everything standing where it stands.

    Raises:
        EditError: The other of the two is what is to find, so it can't follow.
    """
    if cut.unknown in ("seat", "hap_low") and cut.unknown != name:
        raise EditError(f"{word_of(cut, cut.unknown)} is to find, so {word_of(cut, name).lower()} follows from it.")
    answer = cut.section.answer
    given = "hap" if name == "hap_low" else "seat"
    return edits.set_heel(
        cut.job, cut.plane.wing, given=given, hap_in=answer.hap_low_in, seat_in=max(0.0, answer.seat_in)
    )


def with_unknown(cut: Cut, name: Measurable) -> Job:
    """The job with this measure as the one to find, everything standing where it stands now.

    Raises:
        EditError: It can't be the unknown.
    """
    if name == cut.unknown:
        return cut.job
    if name == "tail":
        raise EditError("The overhang can't be found from the landing; it is always given.")
    if not cut.can_land:
        raise EditError(
            f"{cut.plane.name}: nothing else can be found here; a landing is worked out from the wing's first eave to "
            f"the edge over against it, with both eaves alike where rafters meet at a ridge."
        )
    if name == "landing" and cut.high_end == "ridge":
        return edits.clear_landing(settled_job(cut), cut.plane.wing)
    job = settled_job(cut)
    if name in ("hap_low", "seat"):
        answer = cut.section.answer
        given = "hap" if name == "hap_low" else "seat"
        seat = max(0.0, answer.seat_in)
        job = edits.set_heel(job, cut.plane.wing, given=given, hap_in=answer.hap_low_in, seat_in=seat)
    return edits.set_landing(job, cut.plane.wing, find=name, **_landing_fields(cut))


def with_given(cut: Cut, name: Measurable) -> Job:
    """The job with the measure that was to find given; the slope is then to find, or the landing for the slope.

    Raises:
        EditError: Nothing else can be the unknown.
    """
    if name in ("seat", "hap_low") and name != cut.unknown:
        return give_heel(cut, name)
    if name != cut.unknown:
        return cut.job
    return with_unknown(cut, "landing" if name == "slope" else "slope")


def with_high_end(cut: Cut, end: HighEnd) -> Job:
    """The job with the upper end borne another way; a wing without a landing gets one whose height is to find.

    Raises:
        EditError: The upper end can't be chosen here.
    """
    if not cut.can_land or cut.at_ridge:
        raise EditError(f"{cut.plane.name}: the upper end is at the ridge here and can't be borne another way.")
    if cut.wing.landing is None:
        cut = _after(cut, with_landing_to_find(cut))
    # A height above the landing that is to find has no meaning at another end.
    find = {"find": "slope"} if cut.unknown == "hap_high" and end != "notched" else {}
    return edits.set_landing(cut.job, cut.plane.wing, high_end=end, **find)


def with_landing_to_find(cut: Cut) -> Job:
    """The job with a landing whose height is to find, for a wing whose slope was simply given."""
    return edits.set_landing(cut.job, cut.plane.wing, find="landing", **_landing_fields(cut))


def _landing_fields(cut: Cut) -> dict[str, object]:
    """The landing's fields as they stand, for a wing that may not have one yet."""
    answer, given = cut.section.answer, cut.section.given
    if cut.unsolved:
        return {}
    fields: dict[str, object] = {"landing_in": answer.landing_in}
    if given.high_end == "notched":
        fields["hap_in"] = answer.hap_high_in
    span = find_span(cut.wing)
    if not cut.section.landed and span is not None:
        fields["high_end"] = given.high_end
        fields["bearing_in"] = 0.0 if span.gable else max(0.0, span.width_in - answer.run_in)
    return fields


def settled_job(cut: Cut) -> Job:
    """The job with what was found written down as if given, so that another measure can become the unknown."""
    answer = cut.section.answer
    if not cut.section.landed:
        return cut.job
    match cut.unknown:
        case "run":
            return edits.set_wing(cut.job, cut.plane.wing, outline=cut.solved.outline)
        case "hap_low":
            return edits.set_heel(cut.job, cut.plane.wing, hap_in=answer.hap_low_in)
        case unknown:
            return _written(cut, unknown, value_of(cut, unknown))


def _after(cut: Cut, job: Job) -> Cut:
    return Cut(job, cut.plane, cut.solved, cut.section)


def _written(cut: Cut, name: Measurable, value: float) -> Job:
    job, wing = cut.job, cut.plane.wing
    if name in ("tail", "seat") and value < 0:
        raise EditError(f"{word_of(cut, name)} can't be less than 0; give a level length of 0 or more.")
    match name:
        case "slope":
            return _on_edge_or_wing(cut, "slope_in_12", "slope_in_12", value)
        case "low_plate" if cut.edge.clip_height_in is not None:
            return _with_clip_at(cut, value)
        case "low_plate":
            return _on_edge_or_wing(cut, "plate_in", "plate_in", value)
        case "tail":
            return _on_edge_or_wing(cut, "overhang_in", "eave_overhang_in", value)
        case "run":
            return _with_run(cut, value)
        case "landing":
            return edits.set_landing(job, wing, landing_in=value)
        case "hap_high":
            return edits.set_landing(job, wing, hap_in=value)
        case "hap_low":
            return edits.set_heel(job, wing, hap_in=value)
        case "seat":
            return edits.set_heel(job, wing, seat_in=value)


def _on_edge_or_wing(cut: Cut, edge_field: str, wing_field: str, value: float) -> Job:
    """The job with the value written where the job keeps it: at the eave if that has its own, else at the wing."""
    both = edge_field != "overhang_in" and cut.wing.landing is not None and cut.on_span
    edges = ends_of(cut.wing) if both else (cut.edge,)
    if all(getattr(edge, edge_field) is None for edge in edges):
        return edits.set_wing(cut.job, cut.plane.wing, **{wing_field: value})
    job = cut.job
    for edge in edges:
        job = edits.set_edge(job, cut.plane.wing, edge.id, **{edge_field: value})
    return job


def _with_clip_at(cut: Cut, plate_in: float) -> Job:
    """The job with a clipped gable's wall ending at another height; the file keeps it from the wing's plate."""
    above = plate_in - cut.wing.plate_in
    if above <= 0.0:
        msg = "The plate of a clipped gable lies above the wing's plate; give it higher, or make the edge an eave."
        raise EditError(msg)
    return edits.set_edge(cut.job, cut.plane.wing, cut.edge.id, clip_height_in=above)


def _with_run(cut: Cut, value: float) -> Job:
    if value <= 0:
        raise EditError("The run must be over 0; give the level distance between the bearing lines.")
    opposite = _opposite_edge(cut)
    share = _share_of_move(cut, opposite)
    distance = (value - value_of(cut, "run")) / share
    return edits.move_edge(cut.job, cut.plane.wing, opposite, distance)


def _opposite_edge(cut: Cut) -> str:
    """The drawn edge over against the eave, the one that faces most of it; the farther of equals.

    Raises:
        EditError: There is none.
    """
    wing, (ax, ay), (ux, uy) = cut.wing, cut.plane.across, cut.plane.uphill
    ring = wing.outline
    base = next(i for i, edge in enumerate(wing.edges) if edge.id == cut.plane.drawn)
    spans = []
    for start, end in zip(ring, ring[1:] + ring[:1], strict=True):
        along = sorted((start[0] * ax + start[1] * ay, end[0] * ax + end[1] * ay))
        up = (start[0] * ux + start[1] * uy, end[0] * ux + end[1] * uy)
        spans.append((along, up))
    (low, high), (height, _) = spans[base]
    best: tuple[float, float, str] | None = None
    for edge, (along, up) in zip(wing.edges, spans, strict=True):
        level = abs(up[1] - up[0]) < 1e-6 * max(1.0, along[1] - along[0])
        shared = min(high, along[1]) - max(low, along[0])
        if edge.id == cut.plane.drawn or not level or shared <= 0 or up[0] <= height:
            continue
        key = (round(shared, 6), up[0], edge.id)
        best = key if best is None or key[:2] > best[:2] else best
    if best is None:
        msg = "The run can't be changed here: no wall stands over against this eave; move the walls in the plan."
        raise EditError(msg)
    return best[2]


def _share_of_move(cut: Cut, opposite: str) -> float:
    """How far the high end moves for each inch the wall over against the eave moves outwards.

    Between two eaves the ridge stands where both planes are equally high, so it moves by m2 / (m1 + m2).
    """
    other = next((eave for eave in cut.solved.eaves if eave.edge == opposite), None)
    if other is None:
        return 1.0
    return other.tangent / (cut.section.answer.tangent + other.tangent)
