"""Skylights and chimneys: in the job, and cut out of the planes."""

from __future__ import annotations

import pytest
from shapely.geometry import Polygon, box

from workbench.errors import EditError, JobError
from workbench.job import edits
from workbench.job.model import Heel, Job
from workbench.job.read import parse_job
from workbench.job.write import dump_job
from workbench.measure import Units
from workbench.roof.build import build_wing
from workbench.roof.joining import footprint, opening_axes

HEEL = Heel(given="hap", hap_in=6.0)
RECTANGLE = [(0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0)]
GABLE = ["eave", "rake", "eave", "rake"]


def gable():
    return edits.add_wing(
        Job(), RECTANGLE, GABLE, slope_in_12=9.0, eave_overhang_in=16.0, rake_overhang_in=12.0, heel=HEEL
    )[0]


def test_a_skylight_is_a_hole_in_its_plane(joined) -> None:
    job, name = edits.add_opening(gable(), "wing-1/e1", x_in=100.0, y_in=60.0, width_in=24.0, length_in=46.0)
    built = joined(job)
    plane = built.roof.plane("wing-1/e1")
    (hole,) = plane.opening_polygons
    assert Polygon(hole).symmetric_difference(box(100, 60, 124, 106)).area < 1e-4
    assert {(edge.kind, edge.opening) for edge in plane.opening_edges[0]} == {("wall", name)}
    # Net area: the plane less the rectangle, measured in the plane (shapely).
    net = Polygon(plane.polygon, plane.opening_polygons).area
    assert plane.area_sqft == pytest.approx(net / 144.0)
    assert net == pytest.approx(Polygon(plane.polygon).area - 24.0 * 46.0)
    assert built.roof.planes[1] is build_wing(job.wings[0], Units()).planes[1]


def test_a_chimney_on_the_ridge_goes_through_both_planes(joined) -> None:
    length = build_wing(gable().wings[0], Units()).planes[0].plane_length_in
    job, name = edits.add_opening(
        gable(), "wing-1/e1", x_in=200.0, y_in=length - 15.0, width_in=30.0, length_in=30.0, kind="chimney"
    )
    built = joined(job)
    for plane in built.roof.planes:
        walls = [edge for edge in plane.edges if edge.opening == name]
        assert sorted(edge.length_in for edge in walls) == pytest.approx([15.0, 15.0, 30.0])
        assert [edge.kind for edge in plane.edges].count("ridge") == 2
    assert not [finding for finding in built.findings if finding.object == name]


def test_a_skylight_stays_where_it_is_when_a_dormer_cuts_the_plane(joined) -> None:
    job, _ = edits.add_opening(gable(), "wing-1/e1", x_in=300.0, y_in=60.0, width_in=24.0, length_in=46.0)
    before = joined(job).roof.plane("wing-1/e1").openings[0]
    dormer = [(60.0, 0.0), (120.0, 0.0), (120.0, 160.0), (60.0, 160.0)]
    more, _ = edits.add_wing(job, dormer, ["rake", "eave", "rake", "eave"], plate_in=150.0, slope_in_12=9.0, heel=HEEL)
    after = joined(more).roof.plane("wing-1/e1").openings
    assert any(Polygon(ring).symmetric_difference(Polygon(before)).area < 1e-4 for ring in after)


@pytest.mark.parametrize(("x", "y"), [(470.0, 60.0), (100.0, 220.0), (-30.0, 10.0)])
def test_a_skylight_past_an_edge_is_told(joined, x, y) -> None:
    job, name = edits.add_opening(gable(), "wing-1/e1", x_in=x, y_in=y, width_in=44.0, length_in=46.0)
    told = [finding for finding in joined(job).findings if finding.object == name]
    assert [finding.code for finding in told] == ["opening-off-plane"]


def test_an_opening_whose_plane_is_gone_waits_with_a_finding(joined) -> None:
    job, name = edits.add_opening(gable(), "wing-1/e3", x_in=100.0, y_in=60.0, width_in=24.0, length_in=46.0)
    job = edits.set_edge(job, "wing-1", "e3", kind="wall")
    told = [finding for finding in joined(job).findings if finding.object == name]
    assert [finding.code for finding in told] == ["opening-without-plane"]


def test_axes_of_an_opening_and_back() -> None:
    job, _ = edits.add_opening(gable(), "wing-1/e3", x_in=30.0, y_in=20.0, width_in=24.0, length_in=46.0)
    plane = build_wing(job.wings[0], Units()).planes[1]
    corner = footprint(plane, job.openings[0])[0]
    assert opening_axes(plane, corner) == pytest.approx((30.0, 20.0))


def test_openings_are_edited_written_and_read() -> None:
    job, first = edits.add_opening(gable(), "wing-1/e1", x_in=100.0, y_in=60.0, width_in=24.0, length_in=46.0)
    job, second = edits.add_opening(
        job, "wing-1/e3", x_in=10.0, y_in=60.0, width_in=30.0, length_in=30.0, kind="chimney"
    )
    assert (first, second) == ("skylight-1", "chimney-1")
    job = edits.set_opening(job, first, x_in=120.0)
    assert job.openings[0].x_in == 120.0
    assert parse_job(dump_job(job), "job") == job
    assert [o.id for o in edits.remove_opening(job, first).openings] == [second]
    assert edits.remove_wing(job, "wing-1").openings == ()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (lambda job: edits.add_opening(job, "wing-9/e1", x_in=0, y_in=0, width_in=1, length_in=1), "no wing"),
        (lambda job: edits.add_opening(job, "wing-1/e9", x_in=0, y_in=0, width_in=1, length_in=1), "no edge"),
        (lambda job: edits.add_opening(job, "wing-1/e2", x_in=0, y_in=0, width_in=1, length_in=1), "no eave"),
        (lambda job: edits.add_opening(job, "wing-1/e1", x_in=0, y_in=0, width_in=0, length_in=1), "Width has to be"),
        (lambda job: edits.set_opening(job, "skylight-9", x_in=1.0), "no opening"),
        (lambda job: edits.remove_opening(job, "skylight-9"), "no opening"),
    ],
)
def test_what_can_not_be_opened_is_refused_in_one_sentence(change, words) -> None:
    with pytest.raises(EditError, match=words):
        change(gable())


def test_two_openings_of_one_id_are_refused() -> None:
    job, _ = edits.add_opening(gable(), "wing-1/e1", x_in=100.0, y_in=60.0, width_in=24.0, length_in=46.0)
    data = dump_job(job).replace(b'"openings": [', b'"openings": [' + _opening_json() + b",")
    with pytest.raises(JobError, match='"skylight-1" stands twice'):
        parse_job(data, "job")


def _opening_json() -> bytes:
    return (
        b'{"id": "skylight-1", "plane": "wing-1/e1", "x_in": 1.0, "y_in": 1.0, "width_in": 2.0, "length_in": 2.0, '
        b'"kind": "skylight"}'
    )
