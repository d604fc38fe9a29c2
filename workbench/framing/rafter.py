"""The rafter of a section: its side view, cuts and measures, wherever it stands.

Section axes: X level from the low building line towards the ridge, Z height.
"""

from __future__ import annotations

from workbench.framing.stick import Notch, Stick, StickShape, square_end, stick_shape
from workbench.job.model import Tail
from workbench.roof.solved import Section

_UPPER_NAMES = {"ridge": "ridge plumb cut", "face": "upper plumb cut at the face"}
TAIL_NAMES: dict[Tail, str] = {"plumb": "tail plumb cut", "level": "tail plumb cut", "square": "tail square cut"}


def upper_reach(section: Section) -> float:
    """X of the upper plumb cut: half the ridge board short of its centreline, at the face, or past the landing."""
    given, answer = section.given, section.answer
    if given.high_end == "ridge":
        return answer.run_in - given.ridge_thickness_in / 2.0
    return answer.run_in + section.past_in


def upper_name(section: Section) -> str:
    """What the upper cut of a section's rafter is called."""
    return _UPPER_NAMES.get(section.given.high_end, "upper plumb cut")


def section_notches(section: Section) -> tuple[Notch, ...]:
    """The bird's-mouths of a section's rafter, from the low end up."""
    answer = section.answer
    notches = [Notch("", 0.0, answer.low_plate_in, answer.seat_in)]
    if section.given.high_end == "notched":
        notches.append(Notch("upper", answer.run_in, answer.landing_in, answer.seat_high_in))
    return tuple(notches)


def rafter_shape(section: Section, depth_in: float, tail: Tail, *, seated: bool = True) -> StickShape:
    """Shape of the rafter in a section.

    Args:
        section: The solved section.
        depth_in: Depth square to the edge.
        tail: The cut at the tail.
        seated: False for a barge rafter, which hangs outside the wall and has no bird's-mouth.
    """
    answer = section.answer
    landed = seated and section.given.high_end in ("notched", "whole")
    return stick_shape(
        Stick(
            tangent=answer.tangent,
            depth=depth_in,
            thickness=0.0,
            height=answer.low_plate_in + answer.hap_low_in,
            low=square_end(TAIL_NAMES[tail], -section.overhang_in, 0.0),
            high=square_end(upper_name(section), upper_reach(section), 0.0),
            tail=tail,
            notches=section_notches(section) if seated else (),
            landing_at=answer.run_in if landed else None,
        )
    )
