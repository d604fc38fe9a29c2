"""What exported files call things: plain words, cleaned of what a file format would trip over."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from workbench.framing.model import MemberKind
from workbench.plan import Plan
from workbench.roof.model import Plane

MEMBER_LAYERS: Mapping[MemberKind, str] = MappingProxyType(
    {
        "common_rafter": "Rafters",
        "hip_jack": "Rafters",
        "valley_jack": "Rafters",
        "cripple_jack": "Rafters",
        "barge_rafter": "Barge rafters",
        "ridge_board": "Ridge boards",
        "purlin": "Purlins",
        "hip_rafter": "Hips and valleys",
        "valley_rafter": "Hips and valleys",
        "header": "Headers",
        "sleeper": "Sleepers",
        "fascia": "Fascia",
        "sub_fascia": "Fascia",
        "lookout": "Lookouts",
        "eave_block": "Blocks",
        "ridge_block": "Blocks",
        "row_block": "Blocks",
        "collar_tie": "Ties",
        "rafter_tie": "Ties",
        "rake_plate": "Gable walls",
        "gable_stud": "Gable walls",
    }
)
"""Layer of each kind of member."""

OTHER_MEMBERS = "Other members"


def member_layer(kind: MemberKind) -> str:
    """Layer of a kind of member; one for all kinds that have none of their own."""
    return MEMBER_LAYERS.get(kind, OTHER_MEMBERS)


def one_line(text: str) -> str:
    """The text on one line, without control characters."""
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())


def kind_words(kind: str) -> str:
    """A kind in words: ``ridge board`` of ``ridge_board``."""
    return kind.replace("_", " ")


def plane_words(plan: Plan, plane: Plane) -> str:
    """Name and framed slope of a plane."""
    return f"{one_line(plane.name)}, {plan.units.slope(plane.tangent)}"
