"""The drawing tools as state machines, without a window: a host of plain values stands in for the surface."""

from __future__ import annotations

import math

import pytest

from workbench.bench.surface.tools import VERBS, make_tool
from workbench.bench.surface.tools.base import Pointer
from workbench.bench.surface.tools.kinds import anticlockwise, likely_kinds
from workbench.errors import BadInput
from workbench.job.edits import add_wing
from workbench.job.model import Job
from workbench.measure import Units
from workbench.plan import solve

GABLE = ((0.0, 0.0), (480.0, 0.0), (480.0, 336.0), (0.0, 336.0))


class Host:
    """What a tool sees; keeps what the tool did."""

    def __init__(self, job=None, scale=1.0, grid=12.0):
        self.job = job or Job()
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


def gable_host(**fields):
    job, _ = add_wing(Job(), GABLE, ["eave", "rake", "eave", "rake"], name="main", **fields)
    return Host(job)


def click(tool, x, y, target=""):
    pointer = Pointer((x, y), target)
    tool.move(pointer)
    tool.press(pointer)
    tool.release(pointer)


def live(tool):
    return {ask.name: ask.live for ask in tool.asks()}


def outline(host):
    return host.job.wings[-1].outline


def kinds(host):
    return [edge.kind for edge in host.job.wings[-1].edges]


class TestOutline:
    def test_four_clicks_and_the_first_corner_make_a_wing(self):
        host = Host()
        tool = make_tool("outline", host)
        for x, y in ((3, 2), (478, 3), (482, 333), (2, 338)):
            click(tool, x, y)
        assert not host.edits
        click(tool, 4, 4)
        assert outline(host) == GABLE
        assert kinds(host) == ["eave", "rake", "eave", "rake"]
        assert host.edits == ["Draw main"]
        assert host.selected == "wing:wing-1"
        assert host.finished == 1

    def test_enter_closes(self):
        host = Host()
        tool = make_tool("outline", host)
        for x, y in ((0, 0), (120, 0), (120, 240)):
            click(tool, x, y)
        assert tool.key("enter")
        assert outline(host) == ((0.0, 0.0), (120.0, 0.0), (120.0, 240.0))

    def test_drawn_clockwise_it_is_kept_anticlockwise(self):
        host = Host()
        tool = make_tool("outline", host)
        for x, y in ((0, 0), (0, 336), (480, 336), (480, 0)):
            click(tool, x, y)
        tool.key("enter")
        assert outline(host) == GABLE
        assert kinds(host) == ["eave", "rake", "eave", "rake"]

    def test_typed_lengths_and_angles(self):
        host = Host()
        tool = make_tool("outline", host)
        tool.typed({"x": 12.0, "y": 24.0})
        tool.typed({"length": 162.5, "angle": math.radians(30.0)})
        tool.typed({"length": 100.0, "angle": math.radians(150.0)})
        tool.key("enter")
        assert math.dist(outline(host)[0], outline(host)[1]) == pytest.approx(162.5, abs=1.0 / 64.0)

    def test_left_turns_need_only_lengths(self):
        host = Host()
        tool = make_tool("outline", host)
        tool.typed(live(tool))
        for length in (480.0, 336.0, 480.0):
            tool.typed({**live(tool), "length": length})
        tool.key("enter")
        assert outline(host) == GABLE

    def test_backspace_takes_the_last_corner_back(self):
        host = Host()
        tool = make_tool("outline", host)
        for x, y in ((0, 0), (120, 0), (600, 600)):
            click(tool, x, y)
        tool.key("backspace")
        click(tool, 120, 240)
        tool.key("enter")
        assert outline(host) == ((0.0, 0.0), (120.0, 0.0), (120.0, 240.0))

    def test_backspace_on_nothing_is_harmless(self):
        tool = make_tool("outline", Host())
        tool.key("backspace")
        assert tool.feedback().lines == ()

    def test_escape_leaves_the_job_alone(self):
        host = Host()
        tool = make_tool("outline", host)
        click(tool, 0, 0)
        click(tool, 120, 0)
        tool.key("escape")
        assert host.finished == 1
        assert host.job == Job()

    def test_two_corners_are_refused_in_a_sentence(self):
        host = Host()
        tool = make_tool("outline", host)
        click(tool, 0, 0)
        click(tool, 120, 0)
        tool.key("enter")
        assert "three corners" in host.refused[0]

    def test_a_crossing_outline_is_refused_and_can_be_mended(self):
        host = Host()
        tool = make_tool("outline", host)
        for x, y in ((0, 0), (240, 0), (0, 240), (240, 240)):
            click(tool, x, y)
        tool.key("enter")
        assert "crosses itself" in host.refused[0]
        tool.key("backspace")
        tool.key("enter")
        assert len(outline(host)) == 3

    def test_a_length_of_nothing_is_refused(self):
        host = Host()
        tool = make_tool("outline", host)
        click(tool, 0, 0)
        with pytest.raises(BadInput, match="over 0"):
            tool.typed({"length": -5.0, "angle": 0.0})

    def test_the_rubber_line_tells_length_and_angle(self):
        tool = make_tool("outline", Host())
        click(tool, 0, 0)
        tool.move(Pointer((0.0, 163.0)))
        assert tool.feedback().live == "14' 0\"   90°" or tool.feedback().live == "14'   90°"

    def test_snapping_is_suspended_while_its_key_is_held(self):
        tool = make_tool("outline", Host())
        tool.move(Pointer((100.3, 100.3), free=True))
        assert tool.feedback().snap.point == (100.296875, 100.296875)


class TestRectangle:
    def test_two_clicks(self):
        host = Host()
        tool = make_tool("rectangle", host)
        click(tool, 0, 0)
        click(tool, 480, 336)
        assert outline(host) == GABLE
        assert kinds(host) == ["eave", "rake", "eave", "rake"]

    def test_typed_width_and_depth(self):
        host = Host()
        tool = make_tool("rectangle", host)
        tool.typed({"x": 0.0, "y": 0.0})
        tool.typed({"width": 480.0, "depth": 336.0})
        assert outline(host) == GABLE

    def test_typed_to_the_side_the_pointer_is_on(self):
        host = Host()
        tool = make_tool("rectangle", host)
        click(tool, 0, 0)
        tool.move(Pointer((-50.0, -70.0)))
        tool.typed({"width": 480.0, "depth": 336.0})
        assert {x for x, _ in outline(host)} == {0.0, -480.0}
        assert {y for _, y in outline(host)} == {0.0, -336.0}

    def test_the_longer_sides_become_eaves(self):
        host = Host()
        tool = make_tool("rectangle", host)
        tool.typed({"x": 0.0, "y": 0.0})
        tool.typed({"width": 200.0, "depth": 336.0})
        wing = host.job.wings[0]
        for i, edge in enumerate(wing.edges):
            long = math.dist(wing.outline[i], wing.outline[(i + 1) % 4]) == 336.0
            assert edge.kind == ("eave" if long else "rake")

    def test_no_width_makes_nothing(self):
        host = Host()
        tool = make_tool("rectangle", host)
        click(tool, 0, 0)
        click(tool, 0, 336)
        assert not host.edits

    def test_a_second_wing_takes_over_heights_and_rafters(self):
        host = gable_host(plate_in=110.0, slope_in_12=9.0, eave_overhang_in=16.0)
        tool = make_tool("rectangle", host)
        click(tool, 600, 0)
        click(tool, 720, 120)
        new = host.job.wings[-1]
        assert (new.plate_in, new.slope_in_12, new.eave_overhang_in) == (110.0, 9.0, 16.0)


class TestSinglePlane:
    def draw(self, host, distance=120.0, landing=180.0, aim=(100.0, 50.0)):
        tool = make_tool("plane", host)
        click(tool, 0, 0)
        click(tool, 240, 0)
        tool.move(Pointer(aim))
        tool.typed({"distance": distance})
        assert host.asked == 1
        tool.typed({"landing": landing})
        return tool

    def test_low_wall_distance_and_landing(self):
        host = Host()
        self.draw(host)
        wing = host.job.wings[0]
        assert outline(host) == ((0.0, 0.0), (240.0, 0.0), (240.0, 120.0), (0.0, 120.0))
        assert kinds(host) == ["eave", "rake", "wall", "rake"]
        assert wing.landing.landing_in == 180.0
        assert wing.landing.find == "slope"
        assert host.edits == ["Draw main"]

    def test_to_the_other_side_of_the_low_wall(self):
        host = Host()
        self.draw(host, aim=(100.0, -50.0))
        assert {y for _, y in outline(host)} == {0.0, -120.0}
        wing = host.job.wings[0]
        eave = next(i for i, edge in enumerate(wing.edges) if edge.kind == "eave")
        assert wing.outline[eave][1] == wing.outline[(eave + 1) % 4][1] == 0.0

    def test_clicked_distance(self):
        host = Host()
        tool = make_tool("plane", host)
        for x, y in ((0, 0), (240, 0), (100, 121)):
            click(tool, x, y)
        assert host.asked == 1
        assert live(tool) == {"landing": round(97.125 + 7.0 / 12.0 * 120.0)}

    def test_backspace_goes_a_step_back(self):
        host = Host()
        tool = make_tool("plane", host)
        for x, y in ((0, 0), (240, 0), (100, 121)):
            click(tool, x, y)
        tool.key("backspace")
        assert set(live(tool)) == {"distance"}
        tool.key("backspace")
        assert set(live(tool)) == {"length", "angle"}
        tool.key("backspace")
        assert set(live(tool)) == {"x", "y"}

    def test_an_impossible_height_is_refused_and_can_be_typed_again(self):
        host = Host()
        tool = make_tool("plane", host)
        for x, y in ((0, 0), (240, 0), (100, 121)):
            click(tool, x, y)
        with pytest.raises(BadInput):
            tool.typed({"landing": 1e9})
        tool.typed({"landing": 180.0})
        assert host.edits == ["Draw main"]


class TestSelect:
    def test_press_selects(self):
        host = gable_host()
        tool = make_tool("select", host)
        click(tool, 100, 100, "plane:wing-1/e1")
        assert host.selected == "plane:wing-1/e1"
        assert not host.edits

    def test_a_dragged_corner_previews_and_is_one_edit(self):
        host = gable_host()
        tool = make_tool("select", host)
        tool.press(Pointer((480.0, 336.0), "corner:wing-1/2"))
        for x in (490.0, 500.0, 541.0):
            tool.move(Pointer((x, 338.0)))
            assert host.shown is not None
            assert not host.edits
        tool.release(Pointer((541.0, 338.0)))
        assert host.edits == ["Move corner"]
        assert host.job.wings[0].outline[2] == (540.0, 336.0)

    def test_a_dragged_edge_goes_by_grid_steps(self):
        host = gable_host()
        tool = make_tool("select", host)
        tool.press(Pointer((200.0, 0.0), "edge:wing-1/e1"))
        tool.move(Pointer((210.0, -49.0)))
        tool.release(Pointer((210.0, -49.0)))
        assert host.edits == ["Move edge"]
        assert host.job.wings[0].outline[:2] == ((0.0, -48.0), (480.0, -48.0))

    def test_escape_puts_back(self):
        host = gable_host()
        before = host.job
        tool = make_tool("select", host)
        tool.press(Pointer((200.0, 0.0), "edge:wing-1/e1"))
        tool.move(Pointer((210.0, -49.0)))
        assert tool.dragging
        tool.key("escape")
        tool.release(Pointer((210.0, -49.0)))
        assert host.job == before
        assert host.shown is None

    def test_where_it_cannot_go_the_last_good_place_stays(self):
        host = gable_host()
        tool = make_tool("select", host)
        tool.press(Pointer((480.0, 336.0), "corner:wing-1/2"))
        tool.move(Pointer((492.0, 348.0)))
        tool.move(Pointer((-300.0, -300.0), free=True))
        assert tool.feedback().problem
        tool.release(Pointer((-300.0, -300.0)))
        assert host.job.wings[0].outline[2] == (492.0, 348.0)

    def test_a_small_shake_is_a_click(self):
        host = gable_host()
        tool = make_tool("select", host)
        tool.press(Pointer((200.0, 0.0), "edge:wing-1/e1"))
        tool.move(Pointer((202.0, 2.0)))
        tool.release(Pointer((202.0, 2.0)))
        assert not host.edits
        assert host.selected == "edge:wing-1/e1"

    @pytest.mark.parametrize(("key", "kind"), [("r", "rake"), ("w", "wall")])
    def test_letters_say_what_an_edge_is(self, key, kind):
        host = gable_host()
        host.selected = "edge:wing-1/e1"
        assert make_tool("select", host).key(key)
        assert host.job.wings[0].edges[0].kind == kind

    def test_the_last_eave_stays(self):
        job, _ = add_wing(Job(), GABLE, ["eave", "rake", "wall", "rake"])
        host = Host(job)
        host.selected = "edge:wing-1/e1"
        make_tool("select", host).key("r")
        assert "no eave" in host.refused[0]
        assert host.job == job

    def test_delete_removes_the_selected_wing(self):
        host = gable_host()
        host.selected = "plane:wing-1/e1"
        assert make_tool("select", host).key("delete")
        assert host.job.wings == ()
        assert host.edits == ["Remove main"]

    def test_arrows_nudge_by_the_grid(self):
        host = gable_host()
        tool = make_tool("select", host)
        host.selected = "corner:wing-1/2"
        tool.key("right")
        tool.key("up")
        assert host.job.wings[0].outline[2] == (492.0, 348.0)
        host.selected = "edge:wing-1/e1"
        tool.key("down")
        assert host.job.wings[0].outline[0][1] == -12.0
        before = host.job
        assert tool.key("left")
        assert host.job == before

    def test_in_other_stages_nothing_is_changed(self):
        host = gable_host()
        host.editable = False
        tool = make_tool("select", host)
        tool.press(Pointer((200.0, 0.0), "edge:wing-1/e1"))
        tool.move(Pointer((210.0, -49.0)))
        tool.release(Pointer((210.0, -49.0)))
        assert not tool.key("delete")
        assert not host.edits
        assert host.selected == "edge:wing-1/e1"


class TestMoveRepeatSplitTrim:
    def test_move_by_clicks(self):
        host = gable_host()
        tool = make_tool("move", host)
        click(tool, 2, 1, "plane:wing-1/e1")
        click(tool, 121, 59)
        assert outline(host)[0] == (120.0, 60.0)
        assert host.edits == ["Move main"]

    def test_move_the_selected_wing_by_typing(self):
        host = gable_host()
        host.selected = "wing:wing-1"
        tool = make_tool("move", host)
        tool.typed({"right": 10.5, "up": -6.0})
        assert outline(host)[0] == (10.5, -6.0)

    def test_repeat_keeps_everything_but_the_place(self):
        host = gable_host(slope_in_12=9.0, rake_overhang_in=12.0)
        host.selected = "wing:wing-1"
        tool = make_tool("repeat", host)
        tool.typed({"right": 600.0, "up": 0.0})
        old, new = host.job.wings
        assert new.outline == tuple((x + 600.0, y) for x, y in old.outline)
        assert new.edges == old.edges
        assert (new.slope_in_12, new.rake_overhang_in) == (9.0, 12.0)
        assert host.selected == f"wing:{new.id}"

    def test_escape_lets_go(self):
        host = gable_host()
        before = host.job
        tool = make_tool("move", host)
        click(tool, 2, 1, "plane:wing-1/e1")
        tool.move(Pointer((100.0, 100.0)))
        assert host.shown is not None
        tool.key("escape")
        assert host.shown is None
        assert host.job == before
        assert host.finished == 0
        tool.key("escape")
        assert host.finished == 1

    def test_split_at_the_middle(self):
        host = gable_host()
        tool = make_tool("split", host)
        click(tool, 243, 2, "edge:wing-1/e1")
        assert outline(host) == ((0.0, 0.0), (240.0, 0.0), *GABLE[1:])
        assert kinds(host) == ["eave", "eave", "rake", "eave", "rake"]
        assert len({edge.id for edge in host.job.wings[0].edges}) == 5
        assert host.selected == "corner:wing-1/1"

    def test_split_by_typing(self):
        host = gable_host()
        host.selected = "edge:wing-1/e2"
        tool = make_tool("split", host)
        tool.typed({"along": 100.25})
        assert outline(host)[2] == (480.0, 100.25)

    def test_split_past_the_end_is_refused(self):
        host = gable_host()
        host.selected = "edge:wing-1/e2"
        with pytest.raises(BadInput, match="between the ends"):
            make_tool("split", host).typed({"along": 400.0})

    def test_trim(self):
        host = gable_host()
        tool = make_tool("trim", host)
        click(tool, 478, 334)
        assert outline(host) == ((0.0, 0.0), (480.0, 0.0), (0.0, 336.0))
        assert host.edits == ["Trim corner"]

    def test_a_triangle_can_not_be_trimmed(self):
        job, _ = add_wing(Job(), GABLE[:3], ["eave", "rake", "rake"])
        host = Host(job)
        click(make_tool("trim", host), 1, 1)
        assert "three corners" in host.refused[0]


class TestKinds:
    def test_the_ends_of_an_l_are_rakes(self):
        shape = ((0, 0), (600, 0), (600, 288), (288, 288), (288, 528), (0, 528))
        assert likely_kinds(shape) == ("eave", "rake", "eave", "eave", "rake", "eave")

    def test_a_square_has_its_eaves_in_front_and_behind(self):
        assert likely_kinds(((0, 0), (240, 0), (240, 240), (0, 240))) == ("eave", "rake", "eave", "rake")

    def test_there_is_always_an_eave(self):
        for count in range(3, 12):
            corners = tuple(
                (100.0 * math.cos(math.tau * i / count), 100.0 * math.sin(math.tau * i / count)) for i in range(count)
            )
            assert "eave" in likely_kinds(corners)

    def test_anticlockwise_keeps_the_first_corner(self):
        assert anticlockwise(tuple(reversed(GABLE)))[0] == GABLE[-1]
        assert anticlockwise(GABLE) == GABLE


@pytest.mark.parametrize("verb", VERBS, ids=lambda verb: verb.name)
def test_every_tool_survives_any_key_on_an_empty_job(verb):
    host = Host()
    tool = make_tool(verb.name, host)
    tool.start()
    for key in ("enter", "backspace", "delete", "left", "up", "e", "r", "w", "escape"):
        tool.key(key)
        tool.feedback()
        tool.asks()
    click(tool, 5, 5)
    tool.cancel()
    assert host.job == Job()


def test_an_unknown_tool_is_a_key_error():
    with pytest.raises(KeyError):
        make_tool("saw", Host())
