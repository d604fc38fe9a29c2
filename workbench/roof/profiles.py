"""What a wing's edge profiles have to tell: slopes that change where they can't, and choices made in mid-roof."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from workbench.findings import COMMON_PRACTICE, GEOMETRY, Finding
from workbench.job.model import Wing
from workbench.measure import Units
from workbench.roof.eaves import EaveLine, low_uppers
from workbench.roof.solved import Eave
from workbench.roof.wavefront import Raised, Takeover


def takeover_findings(wing: Wing, line: EaveLine, raised: Raised) -> Iterator[Finding]:
    """Where planes or walls came into line with unequal slopes and the shallower plane went on, each choice once."""
    told: set[str] = set()
    for taken in raised.takeovers:
        text = _takeover_text(wing, line, taken)
        if text not in told:
            told.add(text)
            yield Finding("pitch-break-chosen", "warning", wing.id, text, GEOMETRY)


def _takeover_text(wing: Wing, line: EaveLine, taken: Takeover) -> str:
    kept = f"the plane over {_edge(line, taken.kept)}"
    if taken.dropped is None:
        text = f"{kept} comes up to the top of a step wall; the wall ends level there and the plane goes on over it."
        return f"{wing.name}: {text}"
    dropped = _edge(line, taken.dropped)
    if taken.wall:
        return (
            f"{wing.name}: {kept} comes into line with the gable wall over {dropped}; the gable ends level there and "
            "the plane hips over it. Move one of them where the gable is meant to go on."
        )
    return (
        f"{wing.name}: {kept} comes into line with the steeper plane over {dropped}; the shallower one goes on from a "
        "level pitch break. Draw a corner where a step wall is meant."
    )


def _edge(line: EaveLine, side: int) -> str:
    index = line.edges[side]
    return "the return between two overhangs" if index is None else f"edge {index + 1}"


def profile_findings(
    wing: Wing, line: EaveLine, raised: Raised, eaves: Mapping[int, Eave], units: Units
) -> Iterator[Finding]:
    """Second slopes that begin too low, and second slopes and clips the roof never comes up to."""
    for i in low_uppers(wing, eaves):
        text = (
            f"{wing.name}: the slope over edge {i + 1} is to change no higher than the rafters' top edges stand over "
            f"the plate, {units.length(eaves[i].hap_in)}, so that it would change over the wall or outside it. It is "
            "drawn with its lower slope alone; raise the change."
        )
        yield Finding("upper-slope-too-low", "error", wing.id, text, GEOMETRY)
    pieces = {(line.edges[edge], face.piece) for face in raised.faces for edge in face.edges if edge < len(line.edges)}
    roofs = {line.edges[edge] for face in raised.roof_faces for edge in face.edges}
    for i, eave in eaves.items():
        if eave.break_in is not None and eave.upper_tangent != eave.tangent and (i, 1) not in pieces:
            what = f"the plane over edge {i + 1} ends before it comes up to where its slope is to change"
            yield _not_reached(wing, what, "lower the change")
        if wing.edges[i].clip_height_in is not None and i not in roofs:
            yield _not_reached(wing, f"the gable on edge {i + 1} comes to its point below its clip", "lower the clip")


def _not_reached(wing: Wing, what: str, mend: str) -> Finding:
    text = f"{wing.name}: {what}, so nothing of that is built; {mend}, or take it away."
    return Finding("profile-not-reached", "warning", wing.id, text, COMMON_PRACTICE)
