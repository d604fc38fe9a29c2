"""How each role looks: line weight, dash, grey and a small word, the same on screen and on paper.

Kinds of edge differ by weight, dash and word, never by hue alone, so that a grey print says as much as the screen. A
painter with a palette of its own takes weight, dash and word from here and maps ``ink`` and ``fill`` onto its colours.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from workbench.drawing.primitives import Role, TextSize


@dataclass(frozen=True, slots=True)
class Style:
    """The look of one role.

    Attributes:
        weight: Line weight in points; 0 where the outline is not drawn at all.
        dash: On and off lengths in points, empty for a full line.
        ink: Grey of lines and text: 0 is black, 1 is white.
        fill: Grey of a polygon's inside, or None where it stays open.
        word: The small word that names it on the drawing; empty where it needs none.
    """

    weight: float
    dash: tuple[float, ...] = ()
    ink: float = 0.0
    fill: float | None = None
    word: str = ""


STYLES: Mapping[Role, Style] = MappingProxyType(
    {
        "building_line": Style(0.7, (7.0, 2.5, 1.5, 2.5), 0.35, word="building line"),
        "eave": Style(1.8, word="eave"),
        "rake": Style(1.1, word="rake"),
        "ridge": Style(1.3, (12.0, 2.5), word="ridge"),
        "hip": Style(1.0, (8.0, 2.0, 1.5, 2.0), word="hip"),
        "valley": Style(1.0, (3.5, 2.0), word="valley"),
        "wall": Style(2.6, (2.0, 1.2), word="against wall"),
        "pitch_break": Style(0.8, (1.2, 1.6), word="pitch break"),
        "step": Style(1.6, (9.0, 1.5, 1.5, 1.5, 1.5, 1.5), word="step"),
        "plane": Style(0.0, fill=1.0),
        "opening": Style(0.9, fill=1.0),
        "plane_name": Style(0.5),
        "slope_arrow": Style(0.9),
        "rafter": Style(0.5, (9.0, 2.5, 1.5, 2.5), 0.5, word="rafter"),
        "ridge_board": Style(0.8, fill=0.85, word="ridge board"),
        "board": Style(0.6, fill=0.95),
        "sheet": Style(0.9, fill=1.0),
        "sheet_whole": Style(0.9, fill=1.0, word="whole sheet"),
        "sheet_cut": Style(0.9, fill=0.9, word="cut piece"),
        "snap_line": Style(1.2, (10.0, 2.5), word="snap line"),
        "joint": Style(0.7),
        "nail_line": Style(0.6, (0.9, 2.4), 0.25, word="nail line"),
        "off_cut": Style(0.4, (2.0, 2.0), 0.45, fill=0.97, word="off-cut"),
        "wood": Style(0.9, fill=0.93),
        "plate": Style(0.9, fill=0.85, word="plate"),
        "landing": Style(0.9, fill=0.85, word="landing"),
        "support": Style(0.6, ink=0.35, fill=0.97),
        "sheathing": Style(0.6, fill=0.7, word="sheathing"),
        "cut_line": Style(1.4, word="cut"),
        "bracket": Style(0.35, ink=0.45, word="price bracket"),
        "ground": Style(0.8, ink=0.35),
        "open_edge": Style(3.2, word="open edge"),
        "guarded_edge": Style(3.2, (1.0, 1.6), word="guarded edge"),
        "anchor": Style(1.6, fill=1.0, word="anchor"),
        "rope": Style(1.0, (5.0, 2.0), word="rope limit"),
        "exposed": Style(0.8, (2.0, 1.4), word="exposed"),
        "unserved": Style(0.0, word="not served from the rope"),
        "dimension": Style(0.5, ink=0.1),
        "note": Style(0.5, ink=0.1),
        "title": Style(0.7),
    }
)
"""One style a role; every role has one."""

TEXT_PT: Mapping[TextSize, float] = MappingProxyType({"small": 9.0, "label": 11.0, "large": 14.0, "title": 18.0})
"""Printed height of type, points. What is read on the roof is ``large`` or more."""

HATCH_STEP_PT = 5.0
"""Distance between two hatch lines, points."""

HATCH_WEIGHT_PT = 0.25
"""Weight of a hatch line, points."""


def word_of(role: Role) -> str:
    """The small word of a role, empty where it has none."""
    return STYLES[role].word
