"""Roofs of invented buildings with their safety stage alone, without frame and sheets."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from msgspec.structs import replace

from workbench.framing.model import Framing
from workbench.job import edits
from workbench.job.model import Job
from workbench.measure import Units
from workbench.roof.build import build_roof, build_wing
from workbench.safety.solve import plan_safety
from workbench.sheathing.model import SheathingPlan

UNITS = Units()


def rectangle(width, depth, kinds, **fields):
    """A job with one wing over a rectangle."""
    outline = [(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)]
    return edits.add_wing(Job(), outline, kinds, **fields)[0]


def gable(width=480.0, depth=288.0, **fields):
    return rectangle(width, depth, ["eave", "rake", "eave", "rake"], **fields)


def hip(width=480.0, depth=288.0, **fields):
    return rectangle(width, depth, ["eave"] * 4, **fields)


def ell(**fields):
    """An L of two gables that meet in a valley."""
    outline = [(0.0, 0.0), (480.0, 0.0), (480.0, 240.0), (240.0, 240.0), (240.0, 480.0), (0.0, 480.0)]
    return edits.add_wing(Job(), outline, ["eave", "rake", "eave", "eave", "rake", "eave"], **fields)[0]


def roof_of(job):
    return build_roof(job.wings, UNITS, job.openings).roof


def safety_of(job, *, framing=None, sheathing=None, **fields):
    """The safety stage of a job, with other safety settings."""
    if fields:
        job = replace(job, safety=replace(job.safety, **fields))
    built = build_roof(job.wings, UNITS, job.openings)
    alone = [plane for wing in job.wings for plane in build_wing(wing, UNITS).planes]
    wings = [wing.effective for wing in built.wings]
    return plan_safety(job, built.roof, alone, wings, framing or Framing(), sheathing or SheathingPlan(), UNITS)


@pytest.fixture(scope="session")
def build():
    """The builders above under one name."""
    return SimpleNamespace(
        rectangle=rectangle, gable=gable, hip=hip, ell=ell, roof_of=roof_of, safety_of=safety_of, units=UNITS
    )
