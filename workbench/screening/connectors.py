"""Ties, hangers and straps: where the engineer must call them, and how many of what was called for."""

from __future__ import annotations

from workbench.findings import COMMON_PRACTICE, SCREENING, Finding
from workbench.framing.model import Member
from workbench.job.screening import Connector, ConnectorPlace
from workbench.measure import Trace
from workbench.screening.frame import Frame
from workbench.screening.model import Called

PLACE_WORDS: dict[ConnectorPlace, str] = {
    "rafter_plate": "rafters over plates",
    "rafter_ridge": "rafter ends at ridges",
    "hip_end": "ends of hips and valleys",
    "jack_end": "jack ends on hips and valleys",
    "tie_end": "ends of ties",
    "given": "given in number",
}
_JACK_ENDS = {"hip_jack": 1, "valley_jack": 1, "cripple_jack": 2}


def places(frame: Frame) -> dict[ConnectorPlace, int]:
    """How many places of each kind the frame has."""
    counts: dict[ConnectorPlace, int] = dict.fromkeys(PLACE_WORDS, 0)
    for member in frame.framing.members:
        if _over_plate(member):
            counts["rafter_plate"] += member.count
        if member.kind == "common_rafter" and any("ridge" in cut.name for cut in member.cuts):
            counts["rafter_ridge"] += member.count
        if member.kind in ("hip_rafter", "valley_rafter"):
            counts["hip_end"] += 2 * member.count
        counts["jack_end"] += _JACK_ENDS.get(member.kind, 0) * member.count
        if member.kind in ("collar_tie", "rafter_tie"):
            counts["tie_end"] += 2 * member.count
    return counts


def _over_plate(member: Member) -> bool:
    names = {measure.name for measure in member.measures}
    jack_or_common = member.kind in ("common_rafter", "hip_jack", "valley_jack")
    return jack_or_common and bool(names & {"seat", "heel plumb line to upper cut"})


def called(frame: Frame) -> tuple[Called, ...]:
    """What was called for, counted."""
    counts = places(frame)
    return tuple(_called(connector, counts) for connector in frame.job.screening.connectors)


def _called(connector: Connector, counts: dict[ConnectorPlace, int]) -> Called:
    if connector.place == "given":
        values = f"{connector.count}, given in the job"
        trace = Trace(connector.name, float(connector.count), "count", "as given", values, "given in the job")
        return Called(connector.id, connector.name, connector.count, trace)
    at = counts[connector.place]
    total = at * connector.each
    values = f"{at} {PLACE_WORDS[connector.place]} · {connector.each} = {total}"
    formula = "places in this frame times how many were called for at each"
    trace = Trace(connector.name, float(total), "count", formula, values, "called for by the engineer, as entered")
    return Called(connector.id, connector.name, total, trace)


def connector_findings(frame: Frame) -> list[Finding]:
    """Where hardware has to be called for, as long as none is entered; and what finds no place."""
    findings: list[Finding] = []
    counts = places(frame)
    listed = [f"{count} {PLACE_WORDS[place]}" for place, count in counts.items() if count]
    if listed and not frame.job.screening.connectors:
        text = (
            f"Ties, hangers and straps against uplift and at heads are for the engineer and the code to call: "
            f"{', '.join(listed)}. What is called for can be entered on the Frame stage and is then counted. "
            f"{SCREENING}"
        )
        findings.append(Finding("connectors-not-called", "note", "", text, COMMON_PRACTICE))
    for connector in frame.job.screening.connectors:
        if connector.place != "given" and not counts[connector.place]:
            text = f"{connector.name}: this frame has no {PLACE_WORDS[connector.place]} now, so none is counted."
            findings.append(Finding("connector-without-place", "warning", "", text, COMMON_PRACTICE))
    return findings
