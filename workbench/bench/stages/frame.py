"""Frame: the table of marks, the cut card of the mark in hand, and the stock its wing is framed with."""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import groupby

from workbench.bench.drawing_view import DrawingView
from workbench.bench.how import HowButton
from workbench.bench.panel import Panel
from workbench.bench.stages.build_up import BuildUpForm
from workbench.bench.stages.cut_done import CutDoneForm
from workbench.bench.stages.screening import ScreeningPart
from workbench.bench.stages.site import SitePart
from workbench.bench.stages.stock import StockForm
from workbench.bench.stages.trim import TrimForm, tie_forms
from workbench.bench.table import Cells, Table
from workbench.drawing.cut_card import CutSide, cut_angle_text, cut_card, cut_detail, cut_sides, is_plain, lettered_cuts
from workbench.drawing.primitives import Dimension, Drawing, Text
from workbench.drawing.shapes import contains
from workbench.framing.already_cut import NOTHING_CUT, AlreadyCut
from workbench.framing.marks import KIND_WORDS
from workbench.framing.model import Framing, Member, MemberKind
from workbench.framing.words import notes_of
from workbench.measure import Units
from workbench.roof.model import Point2
from workbench.site.plates import seat_note

_DETAIL_IN = 26.0
_SHORT_IN = 10.0  # under this the text is longer than what it measures
_OFF_IN = 1.1
_ON_EDGE = 1e-6
_END_SCALE = 9.5  # pixels an inch, so that both ends are drawn alike
MOST_OPEN = 14
"""Up to so many marks all are listed; of more, only the kind of the one in hand is, the others on a line each."""

_PLURALS: Mapping[MemberKind, str] = {
    "common_rafter": "Common rafters",
    "barge_rafter": "Barge rafters",
    "ridge_board": "Ridge boards",
    "fascia": "Fascia",
    "sub_fascia": "Sub-fascia",
}


class FramePanel(Panel):
    """Marks, cut card, stock, trim, ties."""

    title = "Frame"

    def build(self) -> None:
        """Table of marks, the card below it, the stock last."""
        self.marks = Table("Marks", ("Mark", "Pieces", "Length", "Stock"), numeric=(1, 2, 3), parent=self)
        self.marks.chosen.connect(self.selection.select)
        self.add(self.marks)
        self.how = HowButton("this mark", self)
        self.name = self.add_heading("Cut card", self.how)
        self.order = self.add_note()
        self.done = CutDoneForm(self.document, self.marks, self)
        self.add(self.done)
        self.card = DrawingView("Side view of the whole member", 72, self)
        self.low = DrawingView(
            "Low end, with its cuts from the side and from above", 156, self, largest_scale=_END_SCALE
        )
        self.high = DrawingView(
            "High end, with its cuts from the side and from above", 156, self, largest_scale=_END_SCALE
        )
        for view in (self.card, self.low, self.high):
            self.add(view)
        self.cuts = Table("Cuts", ("", "Cut, and how the saw is set"), stretch=1, wrap=True, parent=self)
        self.measures = Table("Measures", ("Mark on the stock", "Length"), numeric=(1,), parent=self)
        self.add(self.cuts)
        self.add(self.measures)
        self.add_heading("Stock and layout")
        self.stock = StockForm(self.document, self.selection, self)
        self.add(self.stock)
        self.build_up = BuildUpForm(self.document, self)
        self.add(self.build_up)
        self.trim_heading = self.add_heading("Fascia, lookouts, blocks")
        self.trim = TrimForm(self.document, self)
        self.add(self.trim)
        self.ties_heading = self.add_heading("Ties")
        self.ties = tie_forms(self.document, self)
        for form in self.ties:
            self.add(form)
        self.site = SitePart(self.document, self.selection, self)
        self.add(self.site)
        self.screening = ScreeningPart(self.document, self.selection, self)
        self.add(self.screening)

    def refresh(self) -> None:
        """Show the plan's marks and the one in hand."""
        plan, member = self.plan, self.member
        kind = member.kind if member is not None else None
        self.marks.set_rows(mark_rows(plan.framing, plan.units, kind, plan.cut))
        self.marks.select_key(f"member:{member.mark}" if member is not None else "")
        self._show_card(member, plan.units)
        self.done.show_member(member)
        self.stock.refresh()
        self.screening.refresh(self.plane)
        wing = next((wing for wing in plan.job.wings if self.plane is not None and wing.id == self.plane.wing), None)
        for widget in (self.trim_heading, self.trim, self.ties_heading, *self.ties):
            widget.setVisible(wing is not None)
        if wing is not None:
            for form in (self.build_up, self.trim, *self.ties):
                form.show_wing(wing)
        self.site.refresh()

    @property
    def member(self) -> Member | None:
        """The selected mark; else the first that stands on the selected plane; else the first."""
        members = self.plan.framing.members
        if self.selection.kind == "member":
            chosen = next((member for member in members if member.mark == self.selection.id), None)
            if chosen is not None:
                return chosen
        plane = self.plane
        on_plane = self.plan.members_of(plane.id) if plane is not None else ()
        return next(iter(on_plane or members), None)

    def _show_card(self, member: Member | None, units: Units) -> None:
        for widget in (self.order, self.card, self.low, self.high, self.cuts, self.measures):
            widget.setVisible(member is not None)
        if member is None:
            trusses = any(wing.framed_with == "trusses" for wing in self.plan.job.wings)
            self.name.setText("Trusses by others: no cuts here" if trusses else "No rafters yet")
            self.how.set_traces(())
            return
        self.name.setText(f"Cut card: {member.mark}")
        self.order.setText(f"{order_words(member, units)} {seat_note(self.plan.site.plates, [member.mark])}".strip())
        self.how.set_traces(member.traces)
        whole = cut_card(member, units, top=True)
        # The measures stand in the table below; on so small a drawing they would only run into each other.
        self.card.show_drawing(Drawing(tuple(item for item in whole.items if not isinstance(item, Dimension | Text))))
        start, end = min(x for x, _ in member.profile), max(x for x, _ in member.profile)
        plain = is_plain(member)
        self.low.setVisible(not plain)
        self.high.setVisible(not plain and end - start > _DETAIL_IN)
        self.low.show_drawing(end_detail(member, units, start, min(end, start + _DETAIL_IN)))
        self.high.show_drawing(end_detail(member, units, max(start, end - _DETAIL_IN), end))
        self.cuts.set_rows(
            [Cells((letter, f"{cut.name}\n{cut_angle_text(cut, units)}")) for letter, cut in lettered_cuts(member)]
        )
        self.measures.set_rows([Cells((m.name, units.tape(m.length_in))) for m in member.measures])


def mark_rows(
    framing: Framing, units: Units, kind: MemberKind | None = None, cut: AlreadyCut = NOTHING_CUT
) -> list[Cells]:
    """One row a mark, by kind, in the order of work.

    Args:
        framing: The frame.
        units: How lengths are shown.
        kind: Where there are many marks the only kind that is listed in full; of the others one line says how many
            there are, and leads to the first of them.
        cut: What is cut already.
    """
    rows: list[Cells] = []
    many = len(framing.members) > MOST_OPEN
    for each, found in groupby(framing.members, lambda member: member.kind):
        members = list(found)
        pieces = sum(member.count for member in members)
        marks = "1 mark" if len(members) == 1 else f"{len(members)} marks"
        words = _PLURALS.get(each, f"{KIND_WORDS[each]}s")
        if many and each != kind:
            rows.append(Cells((f"{words}: {marks}", str(pieces), "", ""), f"member:{members[0].mark}"))
            continue
        rows.append(Cells((words, str(pieces), "", ""), heading=True))
        rows += [
            Cells((m.mark, _pieces(m, cut), units.length(m.length_in), units.length(m.stock_in)), f"member:{m.mark}")
            for m in members
        ]
    return rows


def _pieces(member: Member, cut: AlreadyCut) -> str:
    done = cut.of(member.mark).count
    return f"{member.count}, {done} cut" if done else str(member.count)


def order_words(member: Member, units: Units) -> str:
    """What to take for it: ``42 pieces of 2x8, from stock 18' 0" long, at 28.9°; 20 left, 22 right.``."""
    pieces = "1 piece" if member.count == 1 else f"{member.count} pieces"
    said = f"{pieces} of {member.section}, from stock {units.length(member.stock_in)} long"
    if abs(member.angle_deg) > 0.05:
        said += f"; stands at {units.angle(math.radians(member.angle_deg))}"
    if member.left and member.right:
        said += f"; {member.left} left as drawn, {member.right} right, the mirror image"
    elif member.right:
        said += "; right-hand, the mirror image of the drawing"
    if member.drop_in > 0.0:
        said += f"; top dropped {units.inches(member.drop_in)} plumb"
    if member.backing_deg:
        said += f"; top backed {' and '.join(units.angle(math.radians(deg)) for deg in member.backing_deg)}"
    return " ".join([f"{said}.", *notes_of(member)])


def end_detail(member: Member, units: Units, start_in: float, end_in: float) -> Drawing:
    """One end of a member for a small place: letters beside their cuts, measures only where their text has room."""
    kept = [
        item
        for item in cut_detail(member, units, start_in, end_in).items
        if not (isinstance(item, Text) and item.role == "title")
        and not (isinstance(item, Dimension) and _is_short(item))
    ]
    letters = [
        Text("", "note", _beside(side, member), side.letter)
        for side in cut_sides(member)
        if all(start_in <= point[0] <= end_in for point in (side.start, side.end))
    ]
    return Drawing((*kept, *letters))


def _is_short(item: Dimension) -> bool:
    return math.dist(item.start, item.end) < _SHORT_IN


def _beside(side: CutSide, member: Member) -> Point2:
    """A point off the middle of a cut, on the side where there is no wood."""
    (x0, y0), (x1, y1) = side.start, side.end
    length = math.dist(side.start, side.end) or 1.0
    off = ((y1 - y0) / length * _OFF_IN, (x0 - x1) / length * _OFF_IN)
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    here, there = (middle[0] + off[0], middle[1] + off[1]), (middle[0] - off[0], middle[1] - off[1])
    free = there if contains(member.profile, here) else here
    # Only the cuts of a notch stop short of the top edge.
    in_notch = max(side.start[1], side.end[1]) < member.depth_in - _ON_EDGE
    return (middle[0], -_OFF_IN) if in_notch else free
