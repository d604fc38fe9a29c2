"""Every shape of roof drawn once through the plan page's own tools and fields, solved, drawn and stood in space."""

from __future__ import annotations

import math

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QHBoxLayout, QWidget

from workbench.bench.document import Document
from workbench.bench.selection import Selection
from workbench.bench.space.walls import walls_of
from workbench.bench.stages.plan import PlanPanel
from workbench.bench.surface.tools import make_tool
from workbench.bench.surface.tools.base import Pointer
from workbench.bench.surface.view import Surface
from workbench.drawing.primitives import Text
from workbench.drawing.roof_plan import roof_plan
from workbench.job.edits import set_heel
from workbench.job.model import Job

HAP = 6.0
PLATE = 97.125


class Bench:
    """The plan page with its surface; tools are told where the pointer is, fields are typed into."""

    def __init__(self, qtbot):
        self.document, self.selection = Document(), Selection()
        self.window = QWidget()
        row = QHBoxLayout(self.window)
        self.surface = Surface(self.document, self.selection, self.window)
        self.panel = PlanPanel(self.document, self.selection, self.window)
        row.addWidget(self.surface, 1)
        row.addWidget(self.panel)
        qtbot.addWidget(self.window)
        self.document.new(Job())
        self.window.resize(1200, 900)
        self.window.show()

    @property
    def plan(self):
        return self.document.plan

    def plane(self, name):
        plane = self.plan.plane(name)
        assert plane is not None, [plane.id for plane in self.plan.roof.planes]
        return plane

    def rectangle(self, x, y, width, depth, *, up=True):
        """From typed numbers, the pointer on the side it goes to; heels of 6 in, so that heights are round."""
        tool = make_tool("rectangle", self.surface._host)
        tool.typed({"x": float(x), "y": float(y)})
        tool.move(Pointer((x + 50.0, y + (50.0 if up else -50.0)), free=True))
        tool.typed({"width": float(width), "depth": float(depth)})
        wing = self.document.job.wings[-1].id
        self.document.apply(set_heel(self.document.job, wing, given="hap", hap_in=HAP), "Change heel")
        self.selection.select(f"wing:{wing}")
        return wing

    def edge(self, wing, number):
        self.selection.select(f"edge:{wing}/e{number}")
        return self.panel.edge_form

    def kinds(self, wing, *kinds):
        for number, kind in enumerate(kinds, start=1):
            choose(self.edge(wing, number).kind, kind)
        self.selection.select(f"wing:{wing}")

    def enter(self, field, text):
        field.edit.setFocus()
        field.edit.selectAll()
        QTest.keyClick(field.edit, Qt.Key.Key_Delete)
        QTest.keyClicks(field.edit, text)
        QTest.keyClick(field.edit, Qt.Key.Key_Return)

    def check(self):
        """What every roof has to keep to, whatever its shape."""
        codes = [finding.code for finding in self.plan.findings]
        for code in ("stage-failed", "roof-not-watertight", "roof-unsolved", "roofs-cross"):
            assert code not in codes
        walls = [wall for given in walls_of(self.plan) for wall in given.walls()]
        assert walls
        names = [item for item in roof_plan(self.plan).items if isinstance(item, Text) and item.role == "plane_name"]
        assert len(names) == len(self.plan.roof.planes)
        for plane in self.plan.roof.planes:
            assert self.plan.sheets_of(plane.id) is not None
        return walls


def choose(field, value):
    index = field._values.index(value)
    field.combo.setCurrentIndex(index)
    field.combo.activated.emit(index)


def kinds_of(plane):
    return sorted(edge.kind for edge in plane.edges)


@pytest.fixture
def bench(qtbot):
    return Bench(qtbot)


def test_saltbox(bench):
    """10 in 12 over 112 in and 5 in 12 over 224 in rise to one ridge: 93 1/3 in."""
    wing = bench.rectangle(0, 0, 480, 336)
    bench.enter(bench.edge(wing, 1).slope, "10/12")
    bench.enter(bench.edge(wing, 3).slope, "5/12")
    front = bench.plane(f"{wing}/e1")
    ridge = next(edge for edge in front.edges if edge.kind == "ridge")
    assert ridge.start[1] == pytest.approx(112.0)
    assert ridge.start[2] == pytest.approx(PLATE + HAP + 112.0 * 10.0 / 12.0)
    bench.check()


def test_unequal_plates(bench):
    """The back plate 36 in higher moves the ridge 36/(2·7/12) in back from the middle."""
    wing = bench.rectangle(0, 0, 480, 336)
    bench.enter(bench.panel.wing_form.slope, "7/12")
    bench.enter(bench.edge(wing, 3).plate, "133 1/8")
    ridge = next(edge for edge in bench.plane(f"{wing}/e1").edges if edge.kind == "ridge")
    assert ridge.start[1] == pytest.approx(168.0 + 36.0 / (2.0 * 7.0 / 12.0))
    bench.check()


def test_two_slopes_on_either_side(bench):
    wing = bench.rectangle(0, 0, 480, 336)
    bench.enter(bench.panel.wing_form.slope, "18/12")
    for number in (1, 3):
        choose(bench.edge(wing, number).higher, "second")
        bench.enter(bench.panel.edge_form.change_at, "90")
        bench.enter(bench.panel.edge_form.second, "6/12")
    upper = bench.plane(f"{wing}/e1-upper")
    assert kinds_of(upper) == ["pitch_break", "rake", "rake", "ridge"]
    run = (90.0 - HAP) / 1.5
    assert max(z for *_, z in upper.corners) == pytest.approx(PLATE + 90.0 + (168.0 - run) * 0.5)
    bench.check()


def test_gable_over_a_hip(bench):
    wing = bench.rectangle(0, 0, 480, 336)
    bench.enter(bench.panel.wing_form.slope, "7/12")
    bench.panel.all_eaves.click()
    for number in (2, 4):
        choose(bench.edge(wing, number).higher, "straight")
        bench.enter(bench.panel.edge_form.change_at, "60")
    end = bench.plane(f"{wing}/e2")
    assert kinds_of(end) == ["eave", "hip", "hip", "wall"]
    walls = bench.check()
    assert sum(wall.foot[0][2] > PLATE for wall in walls) == 4  # two halves of a gable at either end


def test_lower_roofs_against_the_wall_of_a_storey(bench):
    main = bench.rectangle(0, 0, 480, 336)
    bench.enter(bench.panel.wing_form.plate, "17'")
    annex = bench.rectangle(480, 40, 220, 260)
    bench.enter(bench.panel.wing_form.plate, "97 1/8")
    bench.kinds(annex, "eave", "rake", "eave", "wall")
    porch = bench.rectangle(60, 0, 240, 96, up=False)
    bench.enter(bench.panel.wing_form.plate, "7'")
    bench.enter(bench.panel.wing_form.slope, "3/12")
    bench.kinds(porch, "rake", "eave", "rake", "wall")  # drawn down from the wall: its first side is the left one
    choose(bench.panel.wing_form.stands, "posts")
    assert "wall" in kinds_of(bench.plane(f"{annex}/e1"))
    assert kinds_of(bench.plane(f"{porch}/e2")) == ["eave", "rake", "rake", "wall"]
    assert len([plane for plane in bench.plan.roof.planes if plane.wing == main]) == 2
    walls = bench.check()
    assert not [
        w for w in walls if w.wing == porch and math.dist(w.foot[0][:2], w.foot[1][:2]) > 10 and not w.foot[0][2]
    ]
    assert bench.plan.drying_in is not None


@pytest.mark.parametrize(("form", "planes"), [("gable", 2), ("shed", 1), ("hip", 3)])
def test_dormers_with_walls(bench, form, planes):
    main = bench.rectangle(0, 0, 480, 336)
    bench.enter(bench.panel.wing_form.slope, "9/12")
    host = bench.surface._host
    tool = make_tool("dormer", host)
    bench.selection.select(f"plane:{main}/e1")
    tool.press(Pointer((200.0, 40.0), f"plane:{main}/e1", free=True))
    tool.release(Pointer((200.0, 40.0), f"plane:{main}/e1", free=True))
    asks = {ask.name: ask for ask in tool.asks()}
    values = {name: ask.live if ask.live is not None else 0.0 for name, ask in asks.items()}
    tool.typed({**values, "form": float(asks["form"].words.index(form))})
    dormer = bench.document.job.wings[-1].id
    assert dormer != main
    assert len([plane for plane in bench.plan.roof.planes if plane.wing == dormer]) == planes
    walls = [wall for wall in bench.check() if wall.wing == dormer]
    fronts = [wall for wall in walls if wall.edge == 0]
    cheeks = [wall for wall in walls if wall.edge in (1, 3)]
    assert len(fronts) == 1
    assert len(cheeks) == 2
    # A cheek ends where the roof has caught up with its top.
    assert all(min(top[2] - PLATE for top in cheek.top) > 0.0 for cheek in cheeks)


def test_clipped_gable_and_one_undo_step_each(bench):
    wing = bench.rectangle(0, 0, 480, 336)
    before = bench.document.stack.index()
    choose(bench.edge(wing, 2).gable, "clipped")
    bench.enter(bench.panel.edge_form.clip_at, "60")
    assert bench.document.stack.index() == before + 2
    assert bench.plane(f"{wing}/e2").area_sqft > 1.0
    bench.check()
    bench.document.stack.undo()
    bench.document.stack.undo()
    assert bench.document.job.wing(wing).edges[1].clip_height_in is None
