"""What falls are judged by: the roof, the settings, the rule set; and when a drop comes up to a trigger. Inches."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from workbench.job.model import Wing
from workbench.job.safety import Safety
from workbench.measure import Units
from workbench.roof.model import Plane
from workbench.rules.fall_protection import RuleSet, Trigger, TriggerKind
from workbench.safety.model import FallKind, Needed
from workbench.sheathing.model import Row

SAME_IN = 1.0 / 16.0
"""A drop this much under a trigger counts as at it: heights are not measured finer."""


@dataclass(frozen=True)
class Site:
    """What falls are judged by.

    Attributes:
        planes: All planes of the roof.
        wings: The wings as solved, for the drawn edges that ground lines lie under.
        safety: The job's settings.
        rules: The rule set in use.
        rows: Rows of sheets by plane id, for the leading edge.
        units: For the words.
    """

    planes: tuple[Plane, ...]
    wings: tuple[Wing, ...]
    safety: Safety
    rules: RuleSet
    rows: Mapping[str, tuple[Row, ...]]
    units: Units


def judged(rules: RuleSet, tangent: float, kind: FallKind, drop_in: float) -> tuple[Trigger, Needed]:
    """The trigger that holds for a fall over an edge, and whether the drop comes up to it.

    Args:
        rules: The rule set.
        tangent: Slope of the plane, rise / run.
        kind: What is fallen over.
        drop_in: Greatest drop.
    """
    name: TriggerKind
    if kind == "opening":
        name = "opening"
    elif kind in ("leading_edge", "bare_rafters"):
        name = "leading_edge"
    else:
        name = "steep" if rules.is_steep(tangent) else "low_slope"
    trigger = rules.trigger(name)
    if drop_in >= trigger.height_in - SAME_IN:
        return trigger, "yes"
    other = rules.trigger("walking_surface")
    return trigger, "ask" if drop_in >= other.height_in - SAME_IN else "no"
