"""Dormers, skylights and chimneys drawn, moved and stretched: tools as state machines over a host of plain values."""

from __future__ import annotations

import math

import pytest

from workbench.bench.surface.tools import make_tool
from workbench.bench.surface.tools.base import Pointer
from workbench.bench.surface.tools.dormer import Dormer, outline_of, settled, with_dormer
from workbench.bench.surface.tools.sites import site_at, site_selected
from workbench.errors import EditError
from workbench.job.edits import add_opening, add_wing
from workbench.job.model import Heel, Job
from workbench.measure import Units
from workbench.plan import solve

HEEL = Heel(given="hap", hap_in=6.0)
MAIN = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))


class Host:
    """What a tool sees; keeps what the tool did."""

    def __init__(self, job, scale=1.0, grid=12.0):
        self.job = job
        self.units = Units()
        self.scale = scale
        self.grid = grid
        self.selected = ""
        self.editable = True
        self.shown = None
        self.edits = []
        self.refused = []
        self.hints = []
        self.asked = 0
        self.finished = 0

    @property
    def plan(self):
        return solve(self.shown or self.job)

    def preview(self, job):
        self.shown = job

    def cancel_preview(self):
        self.shown = None

    def apply(self, job, text):
        self.shown = None
        if job != self.job:
            self.job = job
            self.edits.append(text)

    def refuse(self, error):
        self.refused.append(str(error))

    def select(self, key):
        self.selected = key

    def say(self, hint):
        self.hints.append(hint)

    def ask(self):
        self.asked += 1

    def finish(self):
        self.finished += 1


def house(**fields):
    given = {"slope_in_12": 9.0, "eave_overhang_in": 16.0, "rake_overhang_in": 12.0, "heel": HEEL, **fields}
    job, _ = add_wing(Job(), MAIN, ["eave", "rake", "eave", "rake"], name="main", **given)
    return job


@pytest.fixture
def host():
    return Host(house())


def live(tool):
    return {ask.name: ask.live for ask in tool.asks()}


def click(tool, x, y):
    for act in (tool.move, tool.press, tool.release):
        act(Pointer((x, y)))


def drag(tool, start, end, target="", *, free=False):
    tool.move(Pointer(start, target, free))
    tool.press(Pointer(start, target, free))
    for share in (0.4, 1.0):
        at = (start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
        tool.move(Pointer(at, "", free))
    tool.release(Pointer(end, "", free))


class TestSites:
    def test_measured_from_the_left_end_of_the_wall_as_seen_from_outside(self, host):
        front, back = site_at(host, (120.0, 60.0)), site_at(host, (120.0, 300.0))
        assert front.along((120.0, 60.0)) == pytest.approx((120.0, 60.0))
        assert back.along((120.0, 300.0)) == pytest.approx((360.0, 36.0))
        assert back.at(360.0, 36.0) == pytest.approx((120.0, 300.0))

    def test_height_and_top_are_the_planes(self, host):
        front = site_at(host, (120.0, 60.0))
        assert front.height(0.0) == pytest.approx(97.125 + 6.0)
        assert front.height(40.0) == pytest.approx(97.125 + 6.0 + 30.0)
        assert front.top == pytest.approx((168.0, 97.125 + 6.0 + 126.0))

    def test_beside_the_roof_there_is_none(self, host):
        assert site_at(host, (900.0, 60.0)) is None
        assert site_selected(Host(Job())) is None

    def test_the_higher_roof_is_meant_where_two_lie_over_one_another(self, host):
        job, dormer = with_dormer(host.job, site_at(host, (240.0, 40.0)), Dormer(204.0, 40.0))
        assert site_at(Host(job), (230.0, 60.0)).plane.wing == dormer

    def test_without_pointer_the_selected_plane_is_meant(self, host):
        host.selected = "plane:wing-1/e3"
        assert site_selected(host).plane.id == "wing-1/e3"
        host.selected = "edge:wing-1/e2"
        assert site_selected(host).plane.wing == "wing-1"


class TestDormerWorkedOut:
    def test_the_front_wall_stands_four_feet_over_the_roof_where_there_is_room(self):
        site = site_at(Host(house(slope_in_12=12.0)), (120.0, 20.0))
        dormer = settled(site, Dormer(84.0, 20.0))
        assert dormer.plate == math.floor(site.height(20.0) + 48.0)

    def test_it_never_comes_out_over_the_ridge_by_itself(self, host):
        site = site_at(host, (120.0, 40.0))
        dormer = settled(site, Dormer(0.0, 40.0, width=144.0))
        top = dormer.plate + 6.0 + dormer.slope * 72.0
        assert top < site.top[1]

    def test_no_room_is_said(self, host):
        with pytest.raises(EditError, match="no room for a dormer"):
            settled(site_at(host, (120.0, 40.0)), Dormer(0.0, 150.0, width=144.0))

    def test_a_plate_under_the_roof_is_refused(self, host):
        with pytest.raises(EditError, match="would not stand out"):
            settled(site_at(host, (120.0, 40.0)), Dormer(84.0, 40.0, plate=100.0))

    def test_a_shed_as_steep_as_the_roof_is_refused(self, host):
        with pytest.raises(EditError, match=r"less than 9 in 12"):
            settled(site_at(host, (120.0, 40.0)), Dormer(84.0, 40.0, form="shed", slope=0.75))

    @pytest.mark.parametrize("form", ["gable", "shed", "hip"])
    @pytest.mark.parametrize("at", [(120.0, 40.0), (300.0, 290.0)])
    def test_its_walls_run_back_to_where_it_meets_the_roof_and_no_further(self, host, form, at):
        """In the joined roof its highest point lies on the main plane, an inch before the back wall at most two."""
        site = site_at(host, at)
        dormer = settled(site, Dormer(84.0, 40.0, form=form))
        plan = solve(with_dormer(host.job, site, dormer)[0])
        planes = [plane for plane in plan.roof.planes if plane.wing == "wing-2"]
        assert planes
        assert not {finding.code for finding in plan.findings} & {"wing-trimmed", "roof-not-watertight"}
        back = max(site.along((x, y))[1] for plane in planes for x, y, _ in plane.corners)
        assert 0.0 < 40.0 + dormer.depth - back <= 2.0
        main = next(plane for plane in plan.roof.planes if plane.whole == site.plane.whole)
        assert len(main.openings) == 1

    def test_its_outline_runs_anticlockwise_from_the_left_end_of_the_front(self, host):
        site = site_at(host, (120.0, 300.0))
        corners = outline_of(site, Dormer(12.0, 24.0, width=60.0, depth=50.0))
        assert corners == ((468.0, 312.0), (408.0, 312.0), (408.0, 262.0), (468.0, 262.0))


class TestDormerTool:
    def test_a_click_asks_for_its_measures_and_enter_takes_them(self, host):
        tool = make_tool("dormer", host)
        click(tool, 121.0, 37.0)
        assert host.asked == 1
        assert host.shown is not None  # seen before it is taken
        shown = live(tool)
        assert (shown["right"], shown["inward"], shown["width"]) == (84.0, 36.0, 72.0)
        tool.typed(shown)
        assert host.edits == ["Draw dormer"]
        wing = host.job.wings[1]
        assert wing.outline[:2] == ((84.0, 36.0), (156.0, 36.0))
        assert [edge.kind for edge in wing.edges] == ["rake", "eave", "rake", "eave"]
        assert wing.slope_in_12 == 9.0
        assert wing.edges[2].overhang_in == 0.0
        assert host.selected == "wing:wing-2"

    def test_dragging_draws_the_front_wall(self, host):
        tool = make_tool("dormer", host)
        drag(tool, (61.0, 37.0), (157.0, 50.0))
        shown = live(tool)
        assert (shown["right"], shown["inward"], shown["width"]) == (60.0, 36.0, 96.0)

    def test_the_middle_of_the_wall_catches(self, host):
        tool = make_tool("dormer", host)
        tool.move(Pointer((245.0, 37.0)))
        assert tool.feedback().snap.word == "middle"
        assert live(tool)["right"] == 204.0

    def test_what_is_left_as_shown_follows_from_what_is_typed(self, host):
        tool = make_tool("dormer", host)
        click(tool, 120.0, 36.0)
        shown = live(tool)
        tool.typed({**shown, "form": 1.0, "plate": 150.0})
        shed = host.job.wings[1]
        assert [edge.kind for edge in shed.edges] == ["eave", "rake", "wall", "rake"]
        assert shed.slope_in_12 == 3.0
        # 150 + 6 against 97.125 + 6 + 36 · 0.75 at the front wall, closing at 9 − 3 in 12; an inch over, rounded up.
        assert shed.outline[2][1] - shed.outline[1][1] == math.ceil((156.0 - 130.125) / 0.5 + 1.0)

    def test_given_measures_are_kept(self, host):
        tool = make_tool("dormer", host)
        click(tool, 120.0, 36.0)
        tool.typed({**live(tool), "plate": 150.0, "depth": 100.0, "slope": 0.5})
        wing = host.job.wings[1]
        assert (wing.plate_in, wing.slope_in_12) == (150.0, 6.0)
        assert wing.outline[2][1] == 136.0

    def test_a_width_of_nothing_is_refused(self, host):
        tool = make_tool("dormer", host)
        click(tool, 120.0, 36.0)
        with pytest.raises(EditError, match="width"):
            tool.typed({**live(tool), "width": 0.0})

    def test_letters_choose_the_form(self, host):
        tool = make_tool("dormer", host)
        tool.move(Pointer((120.0, 36.0)))
        assert tool.key("s")
        assert "shed" in tool.feedback().live
        tool.key("h")
        click(tool, 120.0, 36.0)
        tool.typed(live(tool))
        assert [edge.kind for edge in host.job.wings[1].edges] == ["eave", "eave", "rake", "eave"]

    def test_without_a_pointer_it_stands_on_the_selected_plane(self, host):
        host.selected = "plane:wing-1/e3"
        tool = make_tool("dormer", host)
        tool.key("enter")
        tool.typed(live(tool))
        assert min(y for _, y in host.job.wings[1].outline) > 168.0

    def test_escape_goes_back_a_step_and_then_leaves(self, host):
        tool = make_tool("dormer", host)
        click(tool, 120.0, 36.0)
        tool.key("escape")
        assert host.shown is None
        assert host.finished == 0
        tool.key("escape")
        assert host.finished == 1
        assert host.edits == []

    def test_a_place_without_room_is_told_beside_the_pointer(self, host):
        tool = make_tool("dormer", host)
        tool.move(Pointer((120.0, 164.0)))
        assert "no room" in tool.feedback().problem

    def test_beside_the_roof_nothing_begins(self, host):
        tool = make_tool("dormer", host)
        click(tool, 900.0, 36.0)
        assert host.asked == 0
        assert "no plane here" in host.hints[-1]

    def test_names_are_counted(self, host):
        for x in (120.0, 360.0):
            tool = make_tool("dormer", host)
            click(tool, x, 36.0)
            tool.typed(live(tool))
        assert [wing.name for wing in host.job.wings] == ["main", "dormer", "dormer 2"]


class TestOpeningTool:
    def test_dragging_makes_a_skylight_in_the_planes_own_axes(self, host):
        tool = make_tool("opening", host)
        drag(tool, (180.0, 40.0), (210.0, 88.0), free=True)
        (opening,) = host.job.openings
        assert (opening.plane, opening.kind) == ("wing-1/e1", "skylight")
        # The plane begins 12 in left of the wall and 16 in before it; up the slope everything is 1.25 times as long.
        assert (opening.x_in, opening.width_in) == pytest.approx((192.0, 30.0), abs=1 / 64)
        assert (opening.y_in, opening.length_in) == pytest.approx((70.0, 60.0), abs=1 / 64)
        assert host.selected == "opening:skylight-1"
        assert host.edits == ["Draw skylight"]

    def test_a_click_asks_for_place_size_and_kind(self, host):
        tool = make_tool("opening", host)
        click(tool, 190.0, 40.0)
        assert host.asked == 1
        shown = live(tool)
        assert shown["width"] == 22.5  # one bay between two rafters
        tool.typed({**shown, "width": 32.0, "length": 20.0, "kind": 1.0})
        (opening,) = host.job.openings
        assert (opening.kind, opening.width_in, opening.length_in) == ("chimney", 32.0, 20.0)

    def test_the_faces_of_rafters_catch(self, host):
        tool = make_tool("opening", host)
        plane = host.plan.roof.plane("wing-1/e1")
        rafter = host.plan.framing.supports_of(plane.id)[4]
        tool.move(Pointer((plane.origin[0] + rafter + 3.0, 60.0)))
        assert live(tool)["x"] == pytest.approx(rafter + 0.75)
        assert tool.feedback().snap.word == "rafter"

    def test_a_size_of_nothing_is_refused(self, host):
        tool = make_tool("opening", host)
        click(tool, 190.0, 40.0)
        with pytest.raises(EditError, match="Width"):
            tool.typed({**live(tool), "width": 0.0})

    def test_escape_goes_back_a_step(self, host):
        tool = make_tool("opening", host)
        click(tool, 190.0, 40.0)
        tool.key("escape")
        assert host.finished == 0
        tool.key("escape")
        assert host.finished == 1


class TestOpeningsInHand:
    @pytest.fixture
    def host(self):
        job, _ = add_opening(house(), "wing-1/e3", x_in=100.0, y_in=50.0, width_in=24.0, length_in=48.0)
        return Host(job, grid=0.0)

    @property
    def key(self):
        return "opening:skylight-1"

    def corners(self, host):
        return make_tool("select", host).feedback().handles

    def test_dragged_along_its_plane(self, host):
        """On the back plane left and right are the other way round, and up the slope is down the page."""
        drag(make_tool("select", host), (380.0, 300.0), (360.0, 292.0), self.key)
        (opening,) = host.job.openings
        assert opening.x_in == pytest.approx(120.0)
        assert opening.y_in == pytest.approx(60.0)
        assert host.edits == ["Move opening"]

    def test_handles_are_its_corners_and_stretch_it(self, host):
        host.selected = self.key
        corners = self.corners(host)
        assert len(corners) == 4
        left_low = corners[0]
        drag(make_tool("select", host), left_low, (left_low[0] + 10.0, left_low[1]), "handle:skylight-1/0")
        (opening,) = host.job.openings
        assert (opening.x_in, opening.width_in) == pytest.approx((90.0, 34.0))
        assert (opening.y_in, opening.length_in) == pytest.approx((50.0, 48.0))
        assert host.edits == ["Change size of opening"]

    def test_a_corner_drawn_past_the_other_turns_it_over(self, host):
        host.selected = self.key
        right_high = self.corners(host)[2]
        drag(make_tool("select", host), right_high, (right_high[0] + 40.0, right_high[1]), "handle:skylight-1/2")
        (opening,) = host.job.openings
        assert (opening.x_in, opening.width_in) == pytest.approx((84.0, 16.0))

    @pytest.mark.parametrize(
        ("arrow", "x", "y"), [("left", 101.0, 50.0), ("right", 99.0, 50.0), ("down", 100.0, 51.0), ("up", 100.0, 49.0)]
    )
    def test_arrows_nudge_it_the_way_they_point(self, host, arrow, x, y):
        host.selected = self.key
        assert make_tool("select", host).key(arrow)
        (opening,) = host.job.openings
        assert (opening.x_in, opening.y_in) == (x, y)

    def test_delete_closes_it(self, host):
        host.selected = self.key
        make_tool("select", host).key("delete")
        assert host.job.openings == ()
        assert len(host.job.wings) == 1
        assert host.edits == ["Remove skylight"]
