"""Sheets on the planes: rows, pieces, stock sheets, seams, nails. Inches, in each plane's own axes, unrounded."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from workbench.findings import Finding
from workbench.measure.trace import Trace
from workbench.roof.model import Point2

SeamKind = Literal["upslope", "level", "ridge", "hip", "valley", "wall"]
NailLineKind = Literal["edge", "field", "boundary", "blocking", "gable_end"]
StripEdge = Literal["eave", "rake"]


@dataclass(frozen=True, slots=True)
class Row:
    """One row of sheets.

    Attributes:
        number: 1 at the eave.
        width_in: Net width up the slope.
        bottom_in: y of its lower edge.
        snap_in: Distance from the eave edge of the sheathing to the row's upper edge: the snap line.
        width_ends_in: Width at the left and the right end, where these differ on a plane measured out of square;
            ``width_in`` is then the greater.
        snap_ends_in: The snap line's distance at the left and the right end, where these differ.
    """

    number: int
    width_in: float
    bottom_in: float
    snap_in: float
    width_ends_in: tuple[float, float] | None = None
    snap_ends_in: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of sheathing, net of gaps.

    Attributes:
        label: Row number and letter, such as ``2C``; unique on its plane.
        plane: Plane id.
        row: Row number.
        polygon: Net shape in plane axes, anticlockwise.
        cut_width_in: Width to cut across the sheet, up the slope.
        cut_length_in: Length to cut along the sheet.
        stock: Name of the stock sheet it is cut from, unique in the job.
        whole: Whether it is a whole sheet, uncut but for the end gap.
    """

    label: str
    plane: str
    row: int
    polygon: tuple[Point2, ...]
    cut_width_in: float
    cut_length_in: float
    stock: str
    whole: bool


@dataclass(frozen=True, slots=True)
class StockCut:
    """Where a piece lies in its stock sheet.

    Attributes:
        plane: Plane id.
        label: The piece's label.
        polygon: Its shape in the sheet's axes (x along the length, y across).
        turned_over: Whether the face that lies up in the sheet goes down on the roof.
    """

    plane: str
    label: str
    polygon: tuple[Point2, ...]
    turned_over: bool = False


@dataclass(frozen=True, slots=True)
class StockSheet:
    """One sheet to buy and what is cut from it."""

    name: str
    length_in: float
    width_in: float
    cuts: tuple[StockCut, ...]


@dataclass(frozen=True, slots=True)
class Seam:
    """A joint between two pieces, counted once, or a plane's edge to be taped; plane axes."""

    kind: SeamKind
    plane: str
    start: Point2
    end: Point2
    length_in: float


@dataclass(frozen=True, slots=True)
class NailLine:
    """Nails driven along one straight line of one piece.

    Attributes:
        kind: Which spacing of the schedule applies.
        plane: Plane id.
        piece: Piece label.
        start: One end, plane axes.
        end: Other end.
        spacing_in: Spacing along it.
        count: Nails in it, both end nails counted.
    """

    kind: NailLineKind
    plane: str
    piece: str
    start: Point2
    end: Point2
    spacing_in: float
    count: int


@dataclass(frozen=True, slots=True)
class ClipLine:
    """Edge clips on one level joint: its ends in plane axes, clips between two rafters, and how many in all."""

    plane: str
    start: Point2
    end: Point2
    a_span: int
    count: int


@dataclass(frozen=True, slots=True)
class SplitOption:
    """One way of splitting the leftover into rows, with what it buys for the whole plane."""

    split: Literal["one", "halves", "least"]
    widths_in: tuple[float, ...]
    sheets: int
    chosen: bool


@dataclass(frozen=True)
class PlaneSheets:
    """The sheets of one plane.

    Attributes:
        plane: Plane id.
        covered_in: Length up the slope to be covered.
        rows: From the eave up.
        first_piece_in: Nominal length of the first row's first piece on the framing.
        pieces: In the order a carrier meets them.
        options: The splits compared.
        sheets: Sheets this plane would buy on its own.
        joints_in: x of the end joints of each row.
    """

    plane: str
    covered_in: float
    rows: tuple[Row, ...]
    first_piece_in: float
    pieces: tuple[Piece, ...]
    options: tuple[SplitOption, ...]
    sheets: int
    joints_in: tuple[tuple[float, ...], ...]


@dataclass(frozen=True, slots=True)
class ExposedStrip:
    """A strip along a plane's eaves or rakes in another material.

    Attributes:
        plane: Plane id.
        edge: Which edges it lies along.
        width_in: Its width: up the slope from an eave, level in from a rake.
        polygons: What it covers, plane axes.
        changes: Lines along which the ordinary sheets begin.
        area_sqin: Its area.
        courses: Courses of boards; 0 where it is of panels.
        length_in: Length of the boards, net.
        pieces: Its panels, none where it is of boards.
        seams: Joints between its panels.
        nails: Nails in it.
    """

    plane: str
    edge: StripEdge
    width_in: float
    polygons: tuple[tuple[Point2, ...], ...]
    changes: tuple[tuple[Point2, Point2], ...]
    area_sqin: float
    courses: int = 0
    length_in: float = 0.0
    pieces: tuple[Piece, ...] = ()
    seams: tuple[Seam, ...] = ()
    nails: int = 0


@dataclass(frozen=True, slots=True)
class SeamTotals:
    """Seam lengths of the job, inches, each joint once."""

    upslope: float = 0.0
    level: float = 0.0
    ridge: float = 0.0
    hip: float = 0.0
    valley: float = 0.0
    wall: float = 0.0


@dataclass(frozen=True)
class SheathingPlan:
    """The sheathing of a job.

    Attributes:
        planes: One a plane, in the order of the roof.
        stock: Every sheet to buy.
        at_least: A number of sheets that no layout the job's rules allow can go under.
        seams: Every joint once.
        seam_totals: Their lengths by kind.
        nail_lines: Every nailed line.
        findings: What is wrong or noteworthy.
        traces: How the counts were found.
        clip_lines: Edge clips, joint by joint, where the span table asks for them.
        exposed: Strips along eaves and rakes in another material.
        exposed_stock: Sheets of finish panels for them, and what is cut from each.
    """

    planes: tuple[PlaneSheets, ...] = ()
    stock: tuple[StockSheet, ...] = ()
    at_least: int = 0
    seams: tuple[Seam, ...] = ()
    seam_totals: SeamTotals = SeamTotals()
    nail_lines: tuple[NailLine, ...] = ()
    findings: tuple[Finding, ...] = ()
    traces: tuple[Trace, ...] = ()
    clip_lines: tuple[ClipLine, ...] = ()
    exposed: tuple[ExposedStrip, ...] = ()
    exposed_stock: tuple[StockSheet, ...] = ()

    @property
    def count(self) -> int:
        """Sheets to buy."""
        return len(self.stock)

    @property
    def proven(self) -> bool:
        """Whether fewer sheets are proven impossible."""
        return self.count == self.at_least

    @property
    def nail_counts(self) -> dict[NailLineKind, int]:
        """Nails by kind of line."""
        counts: dict[NailLineKind, int] = {"edge": 0, "field": 0, "boundary": 0, "blocking": 0, "gable_end": 0}
        for line in self.nail_lines:
            counts[line.kind] += line.count
        return counts
