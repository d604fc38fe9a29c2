"""Safety: the caution, always in sight, and what this program works out about falls. Screening, never a plan."""

from __future__ import annotations

from collections.abc import Sequence

from workbench.bench.panel import Panel, note
from workbench.bench.table import Cells, Table
from workbench.measure import Units
from workbench.plan import Plan
from workbench.roof.model import Plane

CAUTION = (
    "Anyone on this roof can fall off it. This page screens; it is no safety plan. The local code, the law where you "
    "work, the engineer and whoever is responsible on site decide. Nobody goes up on the strength of these figures."
)
STEEP_IN_12 = 4.0
STEEP_SOURCE = "29 CFR 1926.500(b), definition of steep roof, from memory"
_NOISE = 1e-9


class SafetyPanel(Panel):
    """Heights and steepness of every plane under a caution that never scrolls away."""

    title = "Safety"

    def build(self) -> None:
        """Caution pinned above; heights, steepness and limits below."""
        self.caution = note(f"⚠ {CAUTION}", self)
        self.caution.setProperty("quiet", False)
        self.caution.setProperty("warning", True)
        self.pinned.addWidget(self.caution)
        self.add_heading("Heights")
        self.heights = Table("Heights of the planes", ("Plane", "Eave edge", "Highest"), numeric=(1, 2), parent=self)
        self.heights.chosen.connect(self.selection.select)
        self.add(self.heights)
        self.add_note(
            "Measured to the tops of the rafters, from the level that the job measures its plates from. Where the "
            "ground lies lower than that level, the fall is longer by as much."
        )
        self.add_heading("Steepness")
        self.steep = Table("Steepness of the planes", ("Plane", "Slope", "Counts as"), stretch=0, parent=self)
        self.steep.chosen.connect(self.selection.select)
        self.add(self.steep)
        self.add_note(f"Over {STEEP_IN_12:g} in 12 counts as steep. Source: {STEEP_SOURCE}.")
        self.add_heading("Rakes and open edges")
        self.open_edges = self.add_note()
        self.add_heading("Not worked out here")
        self.add_note(
            "Anchors, rope lengths, exposed strips, decks, rails, loads carried and heat are not worked out by this "
            "version. Plan them on site with whoever is responsible."
        )

    def refresh(self) -> None:
        """Show the plan's heights and slopes."""
        planes, units = self.plan.roof.planes, self.plan.units
        self.heights.set_rows(height_rows(planes, units))
        self.steep.set_rows(steep_rows(planes, units))
        plane = self.plane
        key = f"plane:{plane.id}" if plane is not None else ""
        self.heights.select_key(key)
        self.steep.select_key(key)
        self.open_edges.setText(open_edge_words(self.plan))


def height_rows(planes: Sequence[Plane], units: Units) -> list[Cells]:
    """Lowest and highest point of each plane."""
    rows: list[Cells] = []
    for plane in planes:
        heights = [corner[2] for corner in plane.corners]
        rows.append(Cells((plane.name, units.length(min(heights)), units.length(max(heights))), f"plane:{plane.id}"))
    return rows


def steep_rows(planes: Sequence[Plane], units: Units) -> list[Cells]:
    """Slope of each plane and whether it counts as steep."""
    return [
        Cells(
            (plane.name, units.slope(plane.tangent), "steep" if is_steep(plane) else "low slope"), f"plane:{plane.id}"
        )
        for plane in planes
    ]


def is_steep(plane: Plane) -> bool:
    """Whether a plane is over 4 in 12."""
    return plane.in_12 > STEEP_IN_12 + _NOISE


def open_edge_words(plan: Plan) -> str:
    """How much edge one can fall over, by kind."""
    lengths = {"eave": 0.0, "rake": 0.0}
    for plane in plan.roof.planes:
        for edge in plane.edges:
            if edge.kind in lengths and edge.neighbour is None:
                lengths[edge.kind] += edge.length_in
    if not plan.roof.planes:
        return "Nothing is drawn yet."
    eaves, rakes = (plan.units.length(lengths[kind]) for kind in ("eave", "rake"))
    return (
        f"Eaves {eaves} and rakes {rakes} in all are open edges. A rope set so that the eave can't be passed does "
        f"nothing at the rakes."
    )
