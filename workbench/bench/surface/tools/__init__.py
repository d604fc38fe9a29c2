"""The drawing tools, by the verb that starts them."""

from __future__ import annotations

from dataclasses import dataclass

from workbench.bench.surface.tools.anchors import AnchorsTool, SetAnchorTool
from workbench.bench.surface.tools.base import Host, Tool
from workbench.bench.surface.tools.corners import SplitTool, TrimTool
from workbench.bench.surface.tools.dormer import DormerTool
from workbench.bench.surface.tools.drawn_plane import DrawnPlaneTool
from workbench.bench.surface.tools.move import MoveTool, RepeatTool
from workbench.bench.surface.tools.opening import OpeningTool
from workbench.bench.surface.tools.outline import OutlineTool, RectangleTool
from workbench.bench.surface.tools.plane_line import PlaneLineTool
from workbench.bench.surface.tools.select import SelectTool
from workbench.bench.surface.tools.single_plane import SinglePlaneTool
from workbench.bench.surface.tools.underlay import MoveUnderlayTool, ScaleUnderlayTool, TurnUnderlayTool


@dataclass(frozen=True, slots=True)
class Verb:
    """A tool as it is offered.

    Attributes:
        name: What it is started by.
        words: What stands on its button.
        tip: One sentence more.
        kind: The tool.
    """

    name: str
    words: str
    tip: str
    kind: type[Tool]


VERBS: tuple[Verb, ...] = (
    Verb("select", "Select", "Select planes, edges and corners; drag corners and edges.", SelectTool),
    Verb("outline", "Draw outline", "Draw a wing corner by corner; over another wing the roofs join.", OutlineTool),
    Verb("rectangle", "Draw rectangle", "Draw a wing by two corners; over another wing the roofs join.", RectangleTool),
    Verb("plane", "Draw single plane", "Draw one slope from a low wall up to a higher one.", SinglePlaneTool),
    Verb("drawn plane", "Draw plane by outline", "Draw one plane of any shape, by slope and height.", DrawnPlaneTool),
    Verb("line", "Draw line on plane", "Split a plane, or solve a slope for a ridge, hip or valley.", PlaneLineTool),
    Verb("dormer", "Draw dormer", "Put a gable, shed or hip dormer on a plane.", DormerTool),
    Verb("opening", "Draw opening", "Cut a skylight or a chimney out of a plane.", OpeningTool),
    Verb("split", "Split edge", "Give an edge one more corner.", SplitTool),
    Verb("trim", "Trim corner", "Take a corner away.", TrimTool),
    Verb("move", "Move wing", "Put a wing down elsewhere.", MoveTool),
    Verb("repeat", "Repeat wing", "Put a copy of a wing elsewhere.", RepeatTool),
)

SAFETY_VERBS: tuple[Verb, ...] = (
    Verb("anchors", "Select", "Select planes, edges and anchors; drag anchors.", AnchorsTool),
    Verb("anchor", "Set anchor", "Put an anchor on the ridge or on a plane.", SetAnchorTool),
)
"""The tools of the safety stage, the one it rests in first."""


UNDERLAY_VERBS: tuple[Verb, ...] = (
    Verb("scale page", "Scale", "Two points of the plan page, and how far apart they are in truth.", ScaleUnderlayTool),
    Verb("turn page", "Turn", "Turn the plan page until one of its walls runs level or upright.", TurnUnderlayTool),
    Verb("move page", "Move", "Take a point of the plan page and put it where it belongs.", MoveUnderlayTool),
)
"""The tools that place the plan page under the drawing."""


def resting_tool(stage: str) -> str:
    """The tool a stage rests in."""
    return "anchors" if stage == "safety" else "select"


def label_of(name: str) -> str:
    """What a tool is called on its button; empty for none."""
    return next((verb.words for verb in (*VERBS, *SAFETY_VERBS, *UNDERLAY_VERBS) if verb.name == name), "")


def make_tool(name: str, host: Host) -> Tool:
    """The tool of this name.

    Raises:
        KeyError: There is none.
    """
    for verb in (*VERBS, *SAFETY_VERBS, *UNDERLAY_VERBS):
        if verb.name == name:
            return verb.kind(host)
    raise KeyError(name)
