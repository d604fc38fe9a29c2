"""Inputs that can be varied: the small language in which an alternative says what it changes and a sweep what it moves.

A change names one input, where it is, and its new value. Its names are those of the job file.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Annotated, Literal, get_args

from msgspec import Meta

from workbench.job.values import Value

Input = Literal[
    "slope_in_12",
    "plate_in",
    "eave_overhang_in",
    "rake_overhang_in",
    "spacing_in",
    "depth_in",
    "hap_in",
    "seat_in",
    "landing_in",
    "joins",
    "panel_width_in",
    "panel_length_in",
    "first_piece_in",
    "ridge_slot_in",
    "past_tail_in",
]
Kind = Literal["slope", "length", "word"]
Where = Annotated[str, Meta(max_length=60)]
Place = Literal["wing", "rafter", "heel", "landing", "sheathing"]

JOB_INPUTS: tuple[Input, ...] = get_args(Input)


@dataclass(frozen=True, slots=True)
class InputInfo:
    """What an input is called, how its value is written, and which part of the job it stands in."""

    words: str
    kind: Kind
    place: Place


INPUTS: Mapping[Input, InputInfo] = MappingProxyType(
    {
        "slope_in_12": InputInfo("slope", "slope", "wing"),
        "plate_in": InputInfo("plate height", "length", "wing"),
        "eave_overhang_in": InputInfo("overhang at the eaves", "length", "wing"),
        "rake_overhang_in": InputInfo("overhang at the rakes", "length", "wing"),
        "spacing_in": InputInfo("rafter spacing", "length", "rafter"),
        "depth_in": InputInfo("rafter depth", "length", "rafter"),
        "hap_in": InputInfo("height above plate", "length", "heel"),
        "seat_in": InputInfo("seat", "length", "heel"),
        "landing_in": InputInfo("landing height", "length", "landing"),
        "joins": InputInfo("joined", "word", "wing"),
        "panel_width_in": InputInfo("sheet width", "length", "sheathing"),
        "panel_length_in": InputInfo("sheet length", "length", "sheathing"),
        "first_piece_in": InputInfo("first piece of the first row", "length", "sheathing"),
        "ridge_slot_in": InputInfo("ridge slot", "length", "sheathing"),
        "past_tail_in": InputInfo("sheathing past the tail", "length", "sheathing"),
    }
)
"""Every input; those of the sheathing are the job's, all others a wing's."""


class Change(Value, frozen=True, kw_only=True):
    """One input at another value.

    Attributes:
        input: Which.
        value: Inches, rise in 12, or a word, as the job file has it.
        wing: Id of the wing; empty changes every wing that has the input. Without meaning for the sheathing's.
        edge: Id of one edge of the wing, for its own slope, plate or overhang; empty changes the whole wing, and edges
            then lose their own value.
    """

    input: Input
    value: Annotated[float, Meta(ge=-12_000.0, le=12_000.0)] | Annotated[str, Meta(max_length=40)]
    wing: Where = ""
    edge: Where = ""


def edge_field(name: Input) -> str | None:
    """What an edge calls its own value of an input; None where edges have none."""
    match name:
        case "slope_in_12" | "plate_in":
            return name
        case "eave_overhang_in" | "rake_overhang_in":
            return "overhang_in"
        case _:
            return None
