"""Spans, deflections and thrusts against a general-purpose frame library.

Source: PyNiteFEA, a general finite element library for frames. The spans under test come from closed formulas; the
library solves the same beam by stiffness, so the two agree only if the mechanics does.
"""

from __future__ import annotations

import math

import pytest

from workbench.framing.span import SpanInput, greatest_span
from workbench.job.edits import add_wing
from workbench.job.model import Job
from workbench.job.screening_edits import set_screening
from workbench.plan import solve
from workbench.rules.lumber import design_values, lumber_table

Pynite = pytest.importorskip("Pynite")

DEPTHS = {"2x4": 3.5, "2x6": 5.5, "2x8": 7.25, "2x10": 9.25, "2x12": 11.25}
CASES = [
    (species, grade, size, spacing, live, dead, k, load)
    for species, grade in (("Douglas fir-larch", "No.2"), ("Hem-fir", "No.2"))
    for size, spacing in (("2x4", 24.0), ("2x6", 24.0), ("2x8", 24.0), ("2x10", 16.0), ("2x12", 12.0))
    for live, dead, k, load in ((20.0, 10.0, 180.0, "roof_live"), (50.0, 20.0, 240.0, "snow"))
]


def beam(span_in: float, load_pli: float, e_psi: float, inertia: float):
    """A simple beam with a uniform load, solved; its greatest moment and deflection."""
    model = Pynite.FEModel3D()
    model.add_node("A", 0.0, 0.0, 0.0)
    model.add_node("B", span_in, 0.0, 0.0)
    model.add_material("wood", e_psi, e_psi / 16.0, 0.3, 0.0)
    model.add_section("board", 10.0, inertia, inertia, inertia)
    model.add_member("rafter", "A", "B", "wood", "board")
    model.def_support("A", True, True, True, True, False, False)
    model.def_support("B", False, True, True, False, False, False)
    model.add_member_dist_load("rafter", "Fy", -load_pli, -load_pli)
    model.analyze(check_statics=False)
    rafter = model.members["rafter"]
    return max(abs(rafter.max_moment("Mz")), abs(rafter.min_moment("Mz"))), abs(rafter.min_deflection("dy"))


def test_there_are_twenty_cases() -> None:
    assert len(CASES) == 20


@pytest.mark.parametrize("case", CASES, ids=lambda case: " ".join(str(part) for part in case))
def test_the_beam_is_used_up_at_the_greatest_span(case: tuple) -> None:
    species, grade, size, spacing, live, dead, k, load = case
    answer = greatest_span(SpanInput(species, grade, size, spacing, live, dead, k, load))
    values, table = design_values(species, grade, size), lumber_table()
    inertia = 1.5 * DEPTHS[size] ** 3 / 12.0
    modulus = inertia / (DEPTHS[size] / 2.0)
    moment, _ = beam(answer.bending_in, (live + dead) * spacing / 144.0, values.e_psi, inertia)
    allowed = values.fb_psi * values.size_factor * table.repetitive * table.duration[load]
    assert moment / modulus == pytest.approx(allowed, rel=1e-6)
    _, sag = beam(answer.deflection_in, live * spacing / 144.0, values.e_psi, inertia)
    # The library reads a member's deflection at twenty points, so that the very middle may lie between two of them.
    assert sag == pytest.approx(answer.deflection_in / k, rel=4e-3)


@pytest.mark.parametrize(
    ("front", "back", "depth_in"), [(6.0, 6.0, 288.0), (4.0, 4.0, 240.0), (6.0, 9.0, 312.0), (3.0, 12.0, 240.0)]
)
def test_thrust_is_that_of_a_three_hinged_frame(front: float, back: float, depth_in: float) -> None:
    outline = [(0.0, 0.0), (360.0, 0.0), (360.0, depth_in), (0.0, depth_in)]
    job, wing = add_wing(Job(), outline, ["eave", "rake", "eave", "rake"], slope_in_12=front)
    from workbench.job.edits import set_edge

    job = set_edge(job, wing, job.wings[0].edges[2].id, slope_in_12=back)
    job = set_screening(job, live_psf=20.0, dead_psf=12.0)
    plan = solve(job, "preview")
    runs = [back / (front + back) * depth_in, front / (front + back) * depth_in]
    rise = runs[0] * front / 12.0
    model = Pynite.FEModel3D()
    model.add_node("A", 0.0, 0.0, 0.0)
    model.add_node("R", runs[0], rise, 0.0)
    model.add_node("B", depth_in, 0.0, 0.0)
    model.add_material("wood", 1.6e6, 1e5, 0.3, 0.0)
    model.add_section("board", 1e4, 50.0, 50.0, 50.0)  # hardly shortens, so that the shape stays
    for name, ends in (("left", ("A", "R")), ("right", ("R", "B"))):
        model.add_member(name, *ends, "wood", "board")
    model.def_releases("left", Rzj=True)
    for node in ("A", "B"):
        model.def_support(node, True, True, True, True, True, False)
    model.def_support("R", False, False, True, True, True, False)
    for name, rise_12 in (("left", front), ("right", back)):
        tangent = rise_12 / 12.0
        w = 20.0 + 12.0 * math.hypot(1.0, tangent)  # psf on the level
        along = w / 144.0 * 12.0 / math.hypot(1.0, tangent)  # pounds an inch of member, a foot of wall
        model.add_member_dist_load(name, "FY", -along, -along)
    model.analyze(check_statics=False)
    pushed = {side: abs(next(iter(model.nodes[side].RxnFX.values()))) for side in ("A", "B")}
    for found in plan.screening.thrusts:
        assert found.plf == pytest.approx(pushed["A"], rel=0.01)
        assert found.plf == pytest.approx(pushed["B"], rel=0.01)
    assert len(plan.screening.thrusts) == 2
