"""The roof as a DXF drawing in space: inches, seen from above it is the roof plan. One layer a kind of thing."""

from __future__ import annotations

import io
import math
from collections.abc import Iterator, Sequence
from importlib import import_module
from typing import Any

from shapely import Polygon, constrained_delaunay_triangles, get_coordinates

from workbench.drawing.roof_plan import building_lines, drawn_edges
from workbench.drawing.shapes import centroid, visual_centre
from workbench.drawing.styles import STYLES
from workbench.errors import BadInput
from workbench.exchange.words import MEMBER_LAYERS, OTHER_MEMBERS, kind_words, member_layer, one_line, plane_words
from workbench.findings import SCREENING
from workbench.plan import Plan
from workbench.roof.model import EdgeKind, Plane, Point2, Point3

PLANES, SHEETS, BUILDING_LINES = "Planes", "Sheets", "Building lines"
TEXT_PLANES, TEXT_MEMBERS, TEXT_SHEETS, TEXT_NOTES = "Text planes", "Text members", "Text sheets", "Text notes"
EDGE_KINDS: tuple[EdgeKind, ...] = ("eave", "rake", "ridge", "hip", "valley", "wall", "pitch_break", "step")

_SIZES_IN = {TEXT_PLANES: 8.0, TEXT_MEMBERS: 3.0, TEXT_SHEETS: 5.0, TEXT_NOTES: 8.0}
"""Height of lettering, inches of the real thing."""

_WEIGHTS = (5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211)
"""Line weights the format knows, hundredths of a millimetre."""

_INCHES = 1
_BLACK_OR_WHITE = 7
_GREY = 8


def dxf_bytes(plan: Plan) -> bytes:
    """The roof as DXF (release 2018); the same plan gives the same bytes.

    Planes are 3-D faces, edges and members lines in space (a member its top edge's centre line), sheets closed 3-D
    polylines on the planes' underside of the sheathing.

    Raises:
        BadInput: The library for it is not installed.
    """
    try:
        ezdxf: Any = import_module("ezdxf")
    except ImportError:
        msg = 'DXF needs the ezdxf package, which is not installed; install "roof-workbench[exchange]".'
        raise BadInput(msg) from None
    options = ezdxf.options
    known = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True  # no clock and no chance in the file
    try:
        document = ezdxf.new("R2018", setup=False, units=_INCHES)
        document.header["$INSUNITS"] = _INCHES
        document.header["$MEASUREMENT"] = 0
        document.header["$LUNITS"] = 4  # feet and inches with fractions
        _Drawer(plan, document).draw()
        stream = io.StringIO()
        document.write(stream)
    finally:
        options.write_fixed_meta_data_for_testing = known
    return bytes(document.encode(stream.getvalue()))


class _Drawer:
    """Draws one plan into one document."""

    def __init__(self, plan: Plan, document: Any) -> None:
        self._plan = plan
        self._document = document
        self._space = document.modelspace()

    def draw(self) -> None:
        """Everything, a layer a kind."""
        self._layers()
        for plane in self._plan.roof.planes:
            self._plane(plane)
        self._edges()
        self._members()
        self._sheets()
        self._building_lines()
        self._note()

    def _layers(self) -> None:
        layer = self._document.layers.add
        layer(PLANES, color=_GREY)
        for kind in EDGE_KINDS:
            weight = _weight(STYLES[kind].weight)
            dash = self._line_type(f"Edge {kind_words(kind)}", STYLES[kind].dash)
            layer(f"Edges {kind_words(kind)}", color=_BLACK_OR_WHITE, lineweight=weight, linetype=dash)
        for name in dict.fromkeys((*MEMBER_LAYERS.values(), OTHER_MEMBERS)):
            layer(name, color=_BLACK_OR_WHITE, lineweight=18)
        layer(SHEETS, color=_BLACK_OR_WHITE, lineweight=25)
        dash = self._line_type("Building line", STYLES["building_line"].dash)
        layer(BUILDING_LINES, color=_GREY, lineweight=25, linetype=dash)
        for name in _SIZES_IN:
            layer(name, color=_BLACK_OR_WHITE)

    def _line_type(self, name: str, dash: Sequence[float]) -> str:
        """A line type as the paper has it: points there are inches of the real thing here."""
        if not dash:
            return "Continuous"
        lengths = [length if i % 2 == 0 else -length for i, length in enumerate(dash)]
        self._document.linetypes.add(name, [sum(dash), *lengths], description=name)
        return name

    def _plane(self, plane: Plane) -> None:
        ring, holes = plane.polygon, plane.opening_polygons
        for corners, shown in _faces(ring, holes):
            points = [plane.to_space(corner) for corner in corners]
            face = self._space.add_3dface(points, dxfattribs={"layer": PLANES})
            for i, seen in enumerate(shown):
                face.set_edge_visibility(i, seen)
        at = plane.to_space(visual_centre(ring))
        words = f"{plane_words(self._plan, plane)}, {self._plan.units.area(plane.area_sqft)}"
        self._text(TEXT_PLANES, words, at, _turn(plane.across))

    def _edges(self) -> None:
        done: set[frozenset[Point3]] = set()
        for plane in self._plan.roof.planes:
            for edge in plane.all_edges:
                ends = frozenset((_rounded(edge.start), _rounded(edge.end)))
                if ends not in done:
                    done.add(ends)
                    layer = f"Edges {kind_words(edge.kind)}"
                    self._space.add_line(edge.start, edge.end, dxfattribs={"layer": layer})

    def _members(self) -> None:
        for member in self._plan.framing.members:
            for place in member.placements:
                self._space.add_line(place.start, place.end, dxfattribs={"layer": member_layer(member.kind)})
                middle = _between(place.start, place.end)
                along = (place.end[0] - place.start[0], place.end[1] - place.start[1])
                self._text(TEXT_MEMBERS, member.mark, middle, _turn(along))

    def _sheets(self) -> None:
        for sheets in self._plan.sheathing.planes:
            plane = self._plan.plane(sheets.plane)
            if plane is None:
                continue
            for piece in sheets.pieces:
                points = [plane.to_space(corner) for corner in piece.polygon]
                self._space.add_polyline3d(points, close=True, dxfattribs={"layer": SHEETS})
                self._text(TEXT_SHEETS, piece.label, plane.to_space(centroid(piece.polygon)), _turn(plane.across))

    def _building_lines(self) -> None:
        plates = {wing.id: wing.plate_in for wing in self._plan.job.wings}
        for line in building_lines(self._plan):
            z = plates.get(line.key.removeprefix("wing:"), 0.0)
            ends = ((*line.start, z), (*line.end, z))
            self._space.add_line(*ends, dxfattribs={"layer": BUILDING_LINES})

    def _note(self) -> None:
        """Title and caution below the drawing."""
        points = [end for edge in drawn_edges(self._plan) for end in (edge.start, edge.end)]
        x, y = (min(x for x, _ in points), min(y for _, y in points)) if points else (0.0, 0.0)
        job = self._plan.job
        title = ", ".join(filter(None, (job.name, f"revision {job.revision}" if job.revision else "", job.date)))
        for i, words in enumerate((title, SCREENING, "Inches; planes are the rafters' top edges.")):
            self._text(TEXT_NOTES, words, (x, y - 30.0 - 14.0 * i, 0.0), 0.0, left=True)

    def _text(self, layer: str, words: str, at: Point3, turn_deg: float, *, left: bool = False) -> None:
        from ezdxf.enums import TextEntityAlignment

        attributes = {"layer": layer, "height": _SIZES_IN[layer], "rotation": turn_deg}
        text = self._space.add_text(one_line(words), dxfattribs=attributes)
        text.set_placement(at, align=TextEntityAlignment.LEFT if left else TextEntityAlignment.MIDDLE_CENTER)


def _faces(ring: Sequence[Point2], holes: Sequence[Sequence[Point2]]) -> Iterator[tuple[list[Point2], list[bool]]]:
    """A flat shape as faces of three or four corners, with which of their sides are sides of the shape."""
    sides = {frozenset(pair) for outline in (ring, *holes) for pair in zip(outline, [*outline[1:], outline[0]])}
    if len(ring) in (3, 4) and not holes and _is_convex(ring):
        yield list(ring), [True] * len(ring)
        return
    shape = Polygon(ring, holes)
    for triangle in constrained_delaunay_triangles(shape).geoms:
        corners = [(float(x), float(y)) for x, y in get_coordinates(triangle)[:3]]
        yield corners, [frozenset((corners[i], corners[(i + 1) % 3])) in sides for i in range(3)]


def _is_convex(ring: Sequence[Point2]) -> bool:
    turns = [
        (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
        for a, b, c in ((ring[i - 2], ring[i - 1], ring[i]) for i in range(len(ring)))
    ]
    return all(turn > 0.0 for turn in turns) or all(turn < 0.0 for turn in turns)


def _weight(points: float) -> int:
    """The format's line weight nearest to a printed one."""
    wanted = points / 72.0 * 2540.0
    return min(_WEIGHTS, key=lambda weight: abs(weight - wanted))


def _turn(direction: Point2) -> float:
    """Turn of lettering along a direction, degrees, so that it is read from below or from the right."""
    angle = math.degrees(math.atan2(direction[1], direction[0]))
    return angle - 180.0 if angle > 90.0 else angle + 180.0 if angle <= -90.0 else angle


def _between(a: Point3, b: Point3) -> Point3:
    return (a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0, (a[2] + b[2]) / 2.0


def _rounded(point: Point3) -> Point3:
    return round(point[0], 6), round(point[1], 6), round(point[2], 6)
