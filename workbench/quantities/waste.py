"""Waste as laid and as cut: what is bought against what is in place, as figures and never as a rule of thumb."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from workbench.framing.already_cut import NOTHING_CUT, AlreadyCut
from workbench.framing.model import Framing
from workbench.job.model import Sheathing
from workbench.measure import Trace, Units
from workbench.quantities.model import Quantity
from workbench.sheathing.model import SheathingPlan

LUMBER = "lumber-"
"""What the codes of boards begin with; they end with the board's length in inches."""

_SQIN_PER_SQFT = 144.0


@dataclass(frozen=True, slots=True)
class Waste:
    """One material bought and built.

    Attributes:
        what: Its name in words.
        bought: Square feet of sheets, or inches of board.
        placed: The same in place.
        unit: ``sqft`` or ``in``.
        trace: How they were found; its value is what is left over.
    """

    what: str
    bought: float
    placed: float
    unit: str
    trace: Trace

    @property
    def left(self) -> float:
        """What is bought and not built."""
        return self.bought - self.placed


def waste_as_built(
    quantities: Iterable[Quantity],
    framing: Framing,
    sheathing: SheathingPlan,
    settings: Sheathing,
    units: Units,
    cut: AlreadyCut = NOTHING_CUT,
) -> tuple[Waste, ...]:
    """Sheets and lumber, bought against in place; only what the job has, and of members only those still to cut."""
    found = (_sheets(sheathing, settings, units), _lumber(quantities, framing, units, cut))
    return tuple(waste for waste in found if waste.bought)


def lumber_bought_in(quantities: Iterable[Quantity]) -> float:
    """Length of all boards of an order list, inches."""
    return sum(q.amount * board_length_in(q) for q in quantities if q.code.startswith(LUMBER))


def board_length_in(quantity: Quantity) -> float:
    """Length of one board of a line of the order list, inches."""
    return float(quantity.code.rsplit("-", 1)[1])


def lumber_placed_in(framing: Framing) -> float:
    """Length of all members along their top edges, inches."""
    return sum(member.count * member.length_in for member in framing.members)


def sheets_covered_sqft(sheathing: SheathingPlan) -> float:
    """Area of all pieces as laid, gaps left out, square feet."""
    return sum(_area(piece.polygon) for plane in sheathing.planes for piece in plane.pieces) / _SQIN_PER_SQFT


def _sheets(sheathing: SheathingPlan, settings: Sheathing, units: Units) -> Waste:
    each = settings.panel_width_in * settings.panel_length_in / _SQIN_PER_SQFT
    bought, placed = sheathing.count * each, sheets_covered_sqft(sheathing)
    values = (
        f"{sheathing.count} sheets · {units.area(each)} = {units.area(bought)}; laid {units.area(placed)}; left over "
        f"{units.area(bought - placed)}"
    )
    trace = Trace(
        "sheets left over",
        bought - placed,
        "sqft",
        "sheets · stated area of one, less the area of the pieces as laid (gaps and saw cuts are in what is left over)",
        values,
        "geometry",
    )
    return Waste("Sheets", bought, placed, "sqft", trace)


def _lumber(quantities: Iterable[Quantity], framing: Framing, units: Units, cut: AlreadyCut) -> Waste:
    bought = lumber_bought_in(quantities)
    # Boards are bought only for what is still to cut.
    done = sum(cut.of(member.mark).count * member.length_in for member in framing.members)
    placed = lumber_placed_in(framing) - done
    left = units.length(bought - placed)
    trace = Trace(
        "lumber left over",
        bought - placed,
        "in",
        "length of all boards, less the length of all members along their top edges (what mitred ends and kerfs take "
        "is in what is left over)",
        f"{units.length(bought)} bought; {units.length(placed)} in place"
        f"{f', less {units.length(done)} cut already' if done else ''}; left over {left}",
        "geometry",
    )
    return Waste("Lumber", bought, placed, "in", trace)


def _area(ring: tuple[tuple[float, float], ...]) -> float:
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1], strict=True))) / 2.0


def waste_words(waste: Waste, units: Units) -> str:
    """Bought, built and left over, in a line."""

    def write(value: float) -> str:
        return units.area(value) if waste.unit == "sqft" else _feet(value, units)

    return f"{waste.what}: {write(waste.bought)} bought, {write(waste.placed)} built, {write(waste.left)} left over."


def _feet(length_in: float, units: Units) -> str:
    return f"{length_in * 0.0254:,.1f} m" if units.system == "mm" else f"{length_in / 12.0:,.0f} ft"
