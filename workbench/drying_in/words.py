"""What is said about drying in, on screen and on paper alike."""

from __future__ import annotations

import math

from workbench.drying_in.model import Air
from workbench.measure import Units
from workbench.rules.dry_in import dry_in_rules

CAUTION = (
    "Wet panels, tape and underlayment are slippery. What keeps water out is for the local code and the makers; this "
    "page counts and orders, it approves nothing."
)
MAKERS_FIRST = (
    "The makers' instructions for tape, underlayment, metal and flashing go before everything on this page: surface "
    "dry and clean, above the least temperature, every length rolled down."
)
ICE_NOT_SAID = "No ice barrier is chosen. Where the roof's edge can ice up the local code asks for one: find out first."
AIR_NOT_SAID = "Nobody has said whether the space under this roof is vented; then the ridge slot and the intake follow."


def air_words(air: Air, units: Units) -> list[str]:
    """Net free area, ridge and intake as sentences."""
    needed, ridge, low = math.ceil(air.needed_sqin), math.floor(air.upper_sqin), math.ceil(air.intake_sqin)
    words = [
        f"Vented area {units.area(air.area_sqft)}: {needed:,} sq in of net free area are needed in all.",
        f"The open ridge gives {ridge:,} sq in; {low:,} sq in have to come in low down.",
    ]
    if air.slot_in is not None:
        words.append(
            f"For its share the ridge slot is {at_least(air.slot_in, units)} on each side, measured up the slope."
        )
    if air.open_in is not None:
        gap = units.inches(dry_in_rules().vent_gap_in)
        words.append(
            f"{air.bays} vented blocks: leave at least {at_least(air.open_in, units)} open over each, and {gap} over "
            "the insulation all the way up."
        )
    return words


def at_least(x: float, units: Units) -> str:
    """A least length rounded up to what a tape shows, so that the length as shown still keeps it."""
    step = 1.0 / 25.4 if units.system == "mm" else 1.0 / units.fraction
    return units.inches(math.ceil(x / step - 1e-9) * step)


def run_words(length_in: float, units: Units) -> str:
    """A length to be laid, up to a whole inch or centimetre: nobody cuts tape to a sixteenth."""
    if units.system == "mm":
        return units.length(math.ceil(length_in * 2.54 - 1e-6) / 2.54)
    return units.length(math.ceil(length_in - 1e-6))
