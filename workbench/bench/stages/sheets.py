"""Sheets: rows with their snap lines, the piece in hand, the sheets to buy, and the choices beside what they buy."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import groupby

from workbench.bench.drawing_view import DrawingView
from workbench.bench.fields import LengthField, add_row, new_form
from workbench.bench.how import HowButton
from workbench.bench.panel import Panel
from workbench.bench.stages.best_form import BestForm
from workbench.bench.stages.choices import ChoicesForm
from workbench.bench.stages.cut_sheets_form import CutSheetsForm
from workbench.bench.stages.dry_in import DryInPart
from workbench.bench.stages.exposed_form import ExposedForm
from workbench.bench.stages.fewest_form import FewestForm
from workbench.bench.stages.panel_kind import PanelKindForm
from workbench.bench.stages.panel_size import PanelSizeField
from workbench.bench.table import Cells, Table
from workbench.drawing.factory import edge_words
from workbench.drawing.primitives import Drawing
from workbench.drawing.stock_sheet import is_rectangle, stock_sheet
from workbench.errors import BadInput
from workbench.job import edits
from workbench.measure import Units
from workbench.plan import Plan
from workbench.sheathing.model import Piece, PlaneSheets, SplitOption, StockSheet

_SPLIT_WORDS = {"one": "one row", "halves": "two halves", "least": "least first"}


class SheetsPanel(Panel):
    """Rows, piece, choices, measures, stock."""

    title = "Sheets"

    def build(self) -> None:
        """From the plane in hand to the whole job."""
        self.how = HowButton("the number of sheets", self)
        self.add_heading("Fewest sheets", self.how)
        self.fewest = FewestForm(self.document, self)
        self.add(self.fewest)
        self.add_heading("Best for me")
        self.best = BestForm(self.document, self)
        self.add(self.best)
        self.rows_heading = self.add_heading("Rows")
        self.total = self.add_note()
        self.rows = Table(
            "Rows from the eave up", ("Row", "Width", "Snap line from the eave"), numeric=(1, 2), stretch=2, parent=self
        )
        self.add(self.rows)
        self.split_heading = self.add_heading("Ways to split the leftover")
        self.splits = Table(
            "Ways to split", ("Split", "Row widths", "This plane buys"), numeric=(2,), stretch=1, wrap=True, parent=self
        )
        self.add(self.splits)
        self.piece_heading = self.add_heading("Piece")
        self.piece_note = self.add_note()
        self.sheet = DrawingView("Stock sheet", 220, self)
        self.sheet.chosen.connect(self.selection.select)
        self.sheet.hovered.connect(self._hovered)
        self.add(self.sheet)
        self.cut_form = CutSheetsForm(self.document, self)
        self.add(self.cut_form)
        self.add_heading("Choices, and what each would buy")
        self.choices = ChoicesForm(self.document, self)
        self.add(self.choices)
        self.add_heading("Measures")
        self._add_measures()
        self.add_heading("Kind of sheets, nailing")
        self.kind = PanelKindForm(self.document, self)
        self.add(self.kind)
        self.add_heading("Exposed eaves and rakes")
        self.exposed = ExposedForm(self.document, self)
        self.add(self.exposed)
        self.add_heading("Sheets to buy")
        self.stock_note = self.add_note()
        self.stock = Table("Sheets to cut", ("Sheet", "Cut into"), stretch=1, wrap=True, parent=self)
        self.stock.chosen.connect(self._stock_chosen)
        self.add(self.stock)
        self.dry_in = DryInPart(self.document, self)
        self.add(self.dry_in)

    def _add_measures(self) -> None:
        form = new_form()
        self.size = PanelSizeField(self.document, self)
        add_row(form, self.size)
        self._fields: list[tuple[LengthField, str]] = []
        for name, label, placeholder in (
            ("panel_length_in", "Panel length", ""),
            ("panel_width_in", "Panel width", ""),
            ("gap_in", "Gap between panels", ""),
            ("least_in", "Least row width", ""),
            ("stagger_in", "Stagger at least", ""),
            ("first_piece_in", "First piece", "searched"),
            ("ridge_slot_in", "Slot at the ridge", ""),
            ("past_tail_in", "Run past the tail", ""),
            ("kerf_in", "Saw kerf", ""),
        ):
            field = LengthField(self.plan.units, None, label, self)
            field.edit.setPlaceholderText(placeholder)
            field.committed.connect(self._setter(field, name, label))
            self._fields.append((field, name))
            add_row(form, field)
        self.add(form)

    def refresh(self) -> None:
        """Show the plan's sheets and the selection."""
        plan, plane = self.plan, self.plane
        sheets = plan.sheets_of(plane.id) if plane is not None else None
        name = plane.name if plane is not None else ""
        self.rows_heading.setText(f"Rows on {name}" if name else "Rows")
        self.how.set_traces(plan.sheathing.traces)
        self.total.setText(total_words(plan, sheets))
        self.rows.setVisible(sheets is not None)
        self.rows.set_rows(row_rows(sheets, plan.units) if sheets is not None else [])
        options = sheets.options if sheets is not None else ()
        self.split_heading.setVisible(bool(options))
        self.splits.setVisible(bool(options))
        self.splits.set_rows(split_rows(options, plan.units))
        self._show_piece()
        self.choices.show_plane(plane.id if plane is not None else "", name)
        for field, attribute in self._fields:
            field.set_units(plan.units)
            field.set_value(getattr(plan.job.sheathing, attribute))
        self.size.show_size(plan.job.sheathing)
        self.kind.show_job(plan.job)
        self.exposed.show_plan(plan)
        self.stock_note.setText(stock_words(plan.sheathing.stock))
        self.stock.set_rows(stock_rows(plan))
        self.dry_in.refresh(plane.wing if plane is not None else "")

    def stop(self) -> None:
        """The window closes."""
        self.choices.stop()

    @property
    def piece(self) -> Piece | None:
        """The selected piece."""
        return piece_of(self.plan, self.selection.key)

    def _show_piece(self) -> None:
        piece = self.piece
        self.cut_form.show_piece(self.plan, piece)
        self.piece_heading.setVisible(piece is not None)
        self.sheet.setVisible(piece is not None)
        self.piece_note.setText(
            "Press a piece on the drawing to see its size and its stock sheet."
            if piece is None
            else f"{piece_words(piece, self.plan.units)} {edge_words(self.plan, piece)}"
        )
        if piece is None:
            return
        self.piece_heading.setText(f"Piece {piece.label}, from {sheet_name(piece.stock)}")
        stock = next((sheet for sheet in self.plan.sheathing.stock if sheet.name == piece.stock), None)
        self.sheet.show_drawing(
            stock_sheet(stock, self.plan.units) if stock is not None else Drawing(), self.selection.key
        )
        self.stock.select_key(f"stock:{piece.stock}")

    def _hovered(self, key: str) -> None:
        piece = piece_of(self.plan, key) or self.piece
        if piece is not None:
            self.piece_note.setText(f"{piece_words(piece, self.plan.units)} {edge_words(self.plan, piece)}")

    def _stock_chosen(self, key: str) -> None:
        name = key.partition(":")[2]
        stock = next((sheet for sheet in self.plan.sheathing.stock if sheet.name == name), None)
        if stock is not None and stock.cuts:
            self.selection.select(f"piece:{stock.cuts[0].plane}/{stock.cuts[0].label}")

    def _setter(self, field: LengthField, name: str, label: str) -> Callable[[float], None]:
        def take(value: float) -> None:
            try:
                job = edits.set_sheathing(self.document.job, **{name: value})
            except BadInput as error:
                field.show_error(str(error))
                return
            self.document.apply(job, f"Change {label.lower()}")

        return take


def piece_of(plan: Plan, key: str) -> Piece | None:
    """The piece of a key, or None."""
    kind, _, name = key.partition(":")
    plane, _, label = name.rpartition("/")
    sheets = plan.sheets_of(plane) if kind == "piece" else None
    return next((piece for piece in sheets.pieces if piece.label == label), None) if sheets is not None else None


def total_words(plan: Plan, sheets: PlaneSheets | None) -> str:
    """What is covered and bought."""
    if sheets is None:
        return "No sheets on this plane." if plan.roof.planes else "Draw a roof first."
    return (
        f"{plan.units.length(sheets.covered_in)} up the slope to cover. The first row starts with a piece of "
        f"{plan.units.length(sheets.first_piece_in)}."
    )


def row_rows(sheets: PlaneSheets, units: Units) -> list[Cells]:
    """Rows from the eave up with the tape's reading of their snap line; the last row needs none."""
    last = len(sheets.rows)
    return [
        Cells(
            (
                str(row.number),
                units.inches(row.width_in),
                "top edge" if row.number == last else units.tape(row.snap_in),
            ),
            f"row:{row.number}",
        )
        for row in sheets.rows
    ]


def split_rows(options: Sequence[SplitOption], units: Units) -> list[Cells]:
    """The splits compared; the chosen one is said in words."""
    return [
        Cells(
            (
                _SPLIT_WORDS[option.split],
                widths_words(option.widths_in, units),
                f"{option.sheets}, chosen" if option.chosen else f"{option.sheets}",
            )
        )
        for option in options
    ]


def widths_words(widths: Sequence[float], units: Units) -> str:
    """Row widths from the eave up, equal neighbours counted: ``24 + 44 1/2 + 3 × 48``."""
    runs = [(shown, len(list(same))) for shown, same in groupby(units.compact(width) for width in widths)]
    return " + ".join(shown if count == 1 else f"{count} × {shown}" for shown, count in runs)


def piece_words(piece: Piece, units: Units) -> str:
    """Size and cuts of a piece."""
    size = f"{units.inches(piece.cut_width_in)} up the slope by {units.inches(piece.cut_length_in)} across"
    if piece.whole:
        return f"{piece.label}: {size}. A whole sheet, nothing to cut."
    sides = len(piece.polygon)
    shape = "square cuts" if is_rectangle(piece.polygon) else f"{sides} sides, cut as drawn"
    return f"{piece.label}: {size}; {shape}."


def sheet_name(name: str) -> str:
    """What a stock sheet is called in a sentence."""
    return name[:1].lower() + name[1:] if name.lower().startswith("sheet") else f"sheet {name}"


def stock_words(stock: Sequence[StockSheet]) -> str:
    """How many, and how many of them go up whole."""
    whole = sum(1 for sheet in stock if len(sheet.cuts) == 1)
    return f"{len(stock)} sheets; {len(stock) - whole} of them give more than one piece." if stock else "None yet."


def stock_rows(plan: Plan) -> list[Cells]:
    """The sheets that are cut into several pieces, in the order they are needed."""
    names = {plane.id: plane.name for plane in plan.roof.planes}
    return [
        Cells(
            (sheet.name, "; ".join(f"{cut.label} {names.get(cut.plane, cut.plane)}" for cut in sheet.cuts)),
            f"stock:{sheet.name}",
        )
        for sheet in plan.sheathing.stock
        if len(sheet.cuts) > 1
    ]
