"""What is given of a rafter that must land, and what comes out; inches, slopes as rise / run."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from workbench.errors import BadInput
from workbench.findings import Finding
from workbench.measure.trace import Trace
from workbench.measure.units import Units

HighEnd = Literal["notched", "whole", "ridge", "face"]
LowEnd = Literal["hap", "seat"]
Unknown = Literal["slope", "run", "low_plate", "landing", "hap_low", "hap_high", "seat"]

LEVEL, UPRIGHT = 1e-9, 1e6
"""Slopes outside these are level or upright for every purpose of a roof; float noise alone leaves them."""


@dataclass(frozen=True, slots=True)
class LandingInput:
    """What is known of one rafter, inches; the measure named by ``find`` is not read.

    Attributes:
        run_in: Level run R between the bearing lines; to a ridge board's centreline; to a ledger's or beam's face.
        low_plate_in: Height of the low plate, z0.
        landing_in: Height of the landing, z1; of the top of the ridge board, ledger or beam.
        low_end: Whether the HAP or the seat is given at the low plate; the other follows.
        hap_low_in: HAP at the low plate (read with ``low_end`` hap).
        seat_in: Seat length on the low plate (read with ``low_end`` seat).
        high_end: How the upper end bears.
        hap_high_in: HAP on the landing (read with ``high_end`` notched).
        depth_in: Depth of the rafter square to its edge.
        tangent: Slope m = rise / run.
        ridge_thickness_in: Thickness of the ridge board (read with ``high_end`` ridge).
        find: The one unknown.
    """

    run_in: float
    low_plate_in: float
    landing_in: float
    low_end: LowEnd
    hap_low_in: float
    seat_in: float
    high_end: HighEnd
    hap_high_in: float
    depth_in: float
    tangent: float
    ridge_thickness_in: float = 0.0
    find: Unknown = "slope"

    @property
    def setback_in(self) -> float:
        """How far short of the run the top edge meets its upper point: half a ridge board, else 0; inches."""
        return self.ridge_thickness_in / 2 if self.high_end == "ridge" else 0.0

    @property
    def reach_in(self) -> float:
        """Level distance from the low bearing line to where the top edge meets its upper point, inches."""
        return self.run_in - self.setback_in


@dataclass(frozen=True, slots=True)
class LandingAnswer:
    """A rafter that lands, inches.

    Attributes:
        tangent: Slope m = rise / run.
        run_in: Level run R.
        low_plate_in: Height of the low plate.
        landing_in: Height of the landing, or of the top of the ridge, ledger or beam.
        hap_low_in: HAP at the low plate.
        hap_high_in: HAP on the landing; d / cos θ for a whole rafter; 0 at a ridge or face.
        seat_in: Seat on the low plate; negative where the rafter passes above the plate.
        seat_high_in: Seat of a notched upper end; 0 for the others.
        length_in: Length along the slope over the run, R / cos θ.
        traces: How the figures were found.
        findings: What stands against building it so.
        also: The other, steeper answer where there are two.
    """

    tangent: float
    run_in: float
    low_plate_in: float
    landing_in: float
    hap_low_in: float
    hap_high_in: float
    seat_in: float
    seat_high_in: float
    length_in: float
    traces: tuple[Trace, ...]
    findings: tuple[Finding, ...]
    also: tuple[LandingAnswer, ...] = ()

    @property
    def in_12(self) -> float:
        """Slope as rise in 12."""
        return 12 * self.tangent

    @property
    def angle(self) -> float:
        """Slope angle θ in radians."""
        return math.atan(self.tangent)


def check_input(given: LandingInput, units: Units) -> None:
    """Refuse what can't be reckoned with.

    Raises:
        BadInput: A measure can't be used, or the unknown does not belong to these ends.
    """
    _check_unknown(given)
    read = _measures_read(given)
    read.pop(given.find, None)
    for label, value in read.values():
        if not math.isfinite(value):
            raise BadInput(f"{label} is not a finite number; give it as a length.")
    if given.depth_in <= 0:
        raise BadInput(f"Rafter depth must be over 0, not {units.length(given.depth_in)}; give it square to the edge.")
    if given.find != "slope" and not LEVEL < given.tangent < UPRIGHT:
        raise BadInput("The slope must rise, between level and upright; give it as a rise in 12 over 0.")
    if given.low_end == "seat" and given.find != "seat" and given.seat_in < 0:
        raise BadInput(f"The seat can't be {units.length(given.seat_in)} long; give 0 or more.")
    if given.high_end == "ridge" and given.ridge_thickness_in < 0:
        raise BadInput(f"The ridge board can't be {units.length(given.ridge_thickness_in)} thick; give 0 or more.")
    if given.find != "run":
        _check_run(given, units)


def _check_run(given: LandingInput, units: Units) -> None:
    if given.run_in <= 0:
        raise BadInput(f"The run must be over 0, not {units.length(given.run_in)}; give the level distance.")
    taken = given.seat_in if given.low_end == "seat" and given.find != "seat" else 0.0
    if given.reach_in <= taken:
        raise BadInput(
            f"A run of {units.length(given.run_in)} leaves no room for the seat and half the ridge board; "
            f"give a longer run or smaller ends."
        )


def _check_unknown(given: LandingInput) -> None:
    if given.find == "hap_high" and given.high_end != "notched":
        raise BadInput(
            "The HAP on the landing can be found only for a notched upper end; choose that end or another unknown."
        )
    if given.find == "hap_low" and given.low_end == "seat":
        raise BadInput("The HAP at the low plate follows from the seat given there; give the HAP or find the seat.")
    if given.find == "seat" and given.low_end == "hap":
        raise BadInput("The seat follows from the HAP given at the low plate; give the seat or find the HAP.")


def _measures_read(given: LandingInput) -> dict[str, tuple[str, float]]:
    """Every measure these ends read, by the name of the unknown it can be, with its label."""
    read = {
        "slope": ("The slope", given.tangent),
        "run": ("The run", given.run_in),
        "low_plate": ("The low plate's height", given.low_plate_in),
        "landing": ("The landing's height", given.landing_in),
        "depth": ("The rafter depth", given.depth_in),
    }
    if given.low_end == "hap":
        read["hap_low"] = ("The HAP at the low plate", given.hap_low_in)
    else:
        read["seat"] = ("The seat", given.seat_in)
    if given.high_end == "notched":
        read["hap_high"] = ("The HAP on the landing", given.hap_high_in)
    if given.high_end == "ridge":
        read["ridge"] = ("The ridge board's thickness", given.ridge_thickness_in)
    return read
