"""Roof panels: their span rating against the rafter spacing, and the live load the table gives them."""

from __future__ import annotations

from collections.abc import Iterator

from workbench.findings import SCREENING, Finding
from workbench.framing.group import sheathing_thickness
from workbench.job.model import Wing
from workbench.measure import Trace
from workbench.roof.model import Plane
from workbench.rules.frame_limits import frame_limits
from workbench.rules.panel_spans import LOW_SLOPE_TANGENT, PanelSpan, panel_span, panel_spans
from workbench.screening.frame import Frame
from workbench.screening.model import Check
from workbench.screening.words import spacing_words, use_words

_NOISE = 1e-6
_NARROW_IN, _WIDE_IN = 16.0, 24.0


def sheathing_checks(frame: Frame) -> tuple[list[Check], list[Finding]]:
    """The panels of each wing."""
    checks: list[Check] = []
    findings: list[Finding] = []
    rating = frame.job.sheathing.span_rating
    row = panel_span(rating)
    if row is None and frame.roof.planes:
        known = ", ".join(each.rating for each in panel_spans())
        text = f'The span rating "{rating}" stands in no table here, so the panels are not screened; '
        text += f"the table has {known}."
        return [], [Finding("rating-not-known", "note", "", text, panel_spans()[0].source)]
    if row is None:
        return [], []
    findings += _thickness(frame, row)
    for wing_id, planes in frame.by_wing.items():
        wing = frame.effective[wing_id]
        for check, code in (*_span(frame, wing, planes, row), *_load(frame, wing, planes, row)):
            checks.append(check)
            if check.verdict == "fails":
                findings.append(_finding(frame, wing, check, code))
    return checks, findings


def _thickness(frame: Frame, row: PanelSpan) -> Iterator[Finding]:
    named = frame.job.sheathing.thickness
    if sheathing_thickness(named) < row.least_thickness_in - _NOISE:
        text = (
            f"Panels of {named} in can't have the span rating {row.rating}, which begins at "
            f"{frame.units.inches(row.least_thickness_in)}; read the stamp on the panel and mend one of the two."
        )
        yield Finding("rating-too-thin", "warning", "", text, row.source)


def _span(frame: Frame, wing: Wing, planes: tuple[Plane, ...], row: PanelSpan) -> Iterator[tuple[Check, str]]:
    spacing = wing.rafter.spacing_in
    low = min(plane.tangent for plane in planes) < LOW_SLOPE_TANGENT - _NOISE
    if low:
        flat = panel_span(row.rating, low_slope=True)
        if flat is not None:
            yield _low_slope(frame, wing, flat), "sheathing-over-span"
            return
    units = frame.units
    bare = row.without_support_in or 0.0
    use = spacing / bare
    trace = Trace(
        "greatest span of the panels",
        bare,
        "in",
        "the table's span for the rating, strength axis across the rafters over two spans or more",
        f"{row.rating}: {units.inches(bare)} without edge support, {units.inches(row.with_support_in)} with",
        row.source,
    )
    text = (
        f"panels rated {row.rating} over rafters at {spacing_words(spacing, units)}: {spacing_words(bare, units)} is "
        f"the most with their long edges unsupported, {spacing_words(row.with_support_in, units)} with clips or blocks"
    )
    passes, mend, code = spacing <= bare + _NOISE, "", "sheathing-over-span"
    if not passes and spacing <= row.with_support_in + _NOISE:
        mend = "a clip midway between rafters on every long edge, or blocks under it, would do"
        code = "panel-edges-unsupported"
    elif not passes:
        mend = _next_rating(spacing)
    verdict = "passes" if passes else "fails"
    check = Check("sheathing_span", wing.id, wing.name, verdict, use, text, mend, (trace,), row.source)
    yield check, code


def _low_slope(frame: Frame, wing: Wing, row: PanelSpan) -> Check:
    spacing, units = wing.rafter.spacing_in, frame.units
    use = spacing / row.with_support_in
    clips = f"{row.clips} clip{'s' if row.clips != 1 else ''} a span"
    text = (
        f"under 2 in 12 the deck is stiffer: {row.rating} spans {spacing_words(row.with_support_in, units)} with "
        f"{clips}, or tongue and groove; rafters stand at {spacing_words(spacing, units)}"
    )
    values = f"{row.rating}: {units.inches(row.with_support_in)}, {clips}"
    trace = Trace("greatest span of a low-slope deck", row.with_support_in, "in", "the table", values, row.source)
    passes = use <= 1.0 + _NOISE
    mend = "" if passes else "a higher rating or closer rafters would do"
    return Check(
        "sheathing_span", wing.id, wing.name, "passes" if passes else "fails", use, text, mend, (trace,), row.source
    )


def _next_rating(spacing: float) -> str:
    rows = [row for row in panel_spans() if (row.without_support_in or 0.0) >= spacing - _NOISE]
    if not rows:
        return "no rating in the table spans it; set the rafters closer"
    return f"panels rated {rows[0].rating} would do, or closer rafters"


def _load(frame: Frame, wing: Wing, planes: tuple[Plane, ...], row: PanelSpan) -> Iterator[tuple[Check, str]]:
    spacing, dead = wing.rafter.spacing_in, frame_limits().table_dead_psf
    asked = max(frame.loads[plane.id].heaviest_psf for plane in planes)
    allowed, at = _allowed(row, spacing)
    if allowed is None or asked <= 0.0:
        return
    units = frame.units
    text = (
        f"panels rated {row.rating} carry {units.pressure(allowed)} of live load or snow at "
        f"{spacing_words(at, units)}; {units.pressure(asked)} is asked"
    )
    trace = Trace(
        "live load the panels carry",
        allowed,
        "psf",
        "the table's live load at the next wider spacing it has, with its 10 psf dead load",
        f"{row.rating} at {units.inches(at)}: {units.pressure(allowed)}; dead load in the table {units.pressure(dead)}",
        row.source,
    )
    passes = asked <= allowed + _NOISE
    mend = "" if passes else _stronger(asked, spacing)
    loads = max((frame.loads[plane.id] for plane in planes), key=lambda each: each.heaviest_psf)
    yield (
        Check(
            "sheathing_load",
            wing.id,
            wing.name,
            "passes" if passes else "fails",
            asked / allowed,
            text,
            mend,
            (trace, *loads.traces),
            row.source,
        ),
        "sheathing-over-load",
    )


def _allowed(row: PanelSpan, spacing: float) -> tuple[float | None, float]:
    """Live load at the next wider spacing the table has for this rating, and that spacing."""
    if spacing <= _NARROW_IN + _NOISE and row.live_at_16_psf is not None:
        return row.live_at_16_psf, _NARROW_IN
    if spacing <= _WIDE_IN + _NOISE:
        return row.live_at_24_psf, _WIDE_IN
    return None, spacing


def _stronger(asked: float, spacing: float) -> str:
    for row in panel_spans():
        allowed, _ = _allowed(row, spacing)
        if allowed is not None and allowed >= asked and (row.without_support_in or 0.0) >= spacing - _NOISE:
            return f"panels rated {row.rating} would carry it, or closer rafters"
    return "no rating in the table carries it; set the rafters closer"


def _finding(frame: Frame, wing: Wing, check: Check, code: str) -> Finding:
    # A span is geometry and rating, both given; a load may be assumed.
    severity = frame.severity(wing.id) if code == "sheathing-over-load" else "error"
    if code == "panel-edges-unsupported":
        severity = "warning"
    text = f"{wing.name}: {check.text}: {use_words(check.use or 0.0)}. {check.mend[:1].upper()}{check.mend[1:]}."
    return Finding(code, severity, wing.id, f"{text} {SCREENING}", check.source)
