"""As built: readings of a wing typed in, corner by corner; what they say; taking them over into the drawing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtWidgets import QPushButton, QWidget

from workbench.bench.document import Document
from workbench.bench.fields import Field
from workbench.bench.stages.form_base import Form, OwnLength
from workbench.bench.tab_order import tab_before
from workbench.errors import BadInput
from workbench.job.as_built import AsBuilt
from workbench.job.as_built_edits import (
    clear_as_built,
    measure_corner,
    measure_plane,
    measure_plate,
    take_over_outline,
    take_over_plates,
    tape,
)
from workbench.job.model import Edge, Job, Wing
from workbench.plan import Plan
from workbench.roof.eaves import edge_plate

_Change = Callable[[Job, float | None], Job]
_Read = Callable[[AsBuilt], float | None]


@dataclass(frozen=True, slots=True)
class Reading:
    """One thing to be measured.

    Attributes:
        label: What it is called.
        drawn_in: What the drawing says.
        read: The reading in the job, or None.
        change: Puts a reading into a job, None takes it away.
        after_a_tape: Whether it is asked for only once something else was taped on the wing.
    """

    label: str
    drawn_in: float
    read: _Read
    change: _Change
    after_a_tape: bool = False


def readings_of(plan: Plan, wing: Wing) -> list[Reading]:
    """Everything that can be measured on a wing: plate corners, diagonals or walls, plane lengths."""
    return [*_corners(plan, wing), *_tapes(plan, wing), *_planes(plan, wing)]


def _corners(plan: Plan, wing: Wing) -> list[Reading]:
    found: list[Reading] = []
    count = len(wing.edges)
    for i in range(count):
        beside: list[tuple[Edge, str]] = [(wing.edges[i], "left_in"), (wing.edges[i - 1], "right_in")]
        eaves = [(edge, end) for edge, end in beside if edge.kind == "eave"]
        heights = {edge_plate(wing, edge) for edge, _ in eaves}
        if len(eaves) == 2 and len(heights) == 1:
            names = " and ".join(_name(plan, wing, edge) for edge, _ in eaves)
            found.append(_corner(f"Plate at corner {i + 1}, {names}", wing, i, eaves, heights.pop()))
        else:
            found += [_end(plan, wing, edge, end, i) for edge, end in eaves]
    return found


def _corner(label: str, wing: Wing, index: int, eaves: list[tuple[Edge, str]], drawn: float) -> Reading:
    readers = [_plate_reader(wing, edge, end) for edge, end in eaves]

    def read(as_built: AsBuilt) -> float | None:
        return next((found for reader in readers if (found := reader(as_built)) is not None), None)

    def change(job: Job, value: float | None) -> Job:
        return measure_corner(job, wing.id, index, value)

    return Reading(label, drawn, read, change)


def _end(plan: Plan, wing: Wing, edge: Edge, end: str, index: int) -> Reading:
    def change(job: Job, value: float | None) -> Job:
        return measure_plate(job, wing.id, edge.id, **{end: value})

    label = f"Plate at corner {index + 1}, {_name(plan, wing, edge)}"
    return Reading(label, edge_plate(wing, edge), _plate_reader(wing, edge, end), change)


def _plate_reader(wing: Wing, edge: Edge, end: str) -> _Read:
    def read(as_built: AsBuilt) -> float | None:
        reading = as_built.plate(f"{wing.id}/{edge.id}")
        return None if reading is None else getattr(reading, end)

    return read


def _name(plan: Plan, wing: Wing, edge: Edge) -> str:
    plane = next((plane for plane in plan.roof.planes if plane.wing == wing.id and plane.drawn == edge.id), None)
    return edge.id if plane is None else plane.name


def _tapes(plan: Plan, wing: Wing) -> list[Reading]:
    """Both diagonals of four corners, of others those from the first corner; the walls; whatever else was taped."""
    count = len(wing.edges)
    pairs = [(0, 2), (1, 3)] if count == 4 else [(0, k) for k in range(2, count - 1)]
    pairs += [(i, i + 1) for i in range(count - 1)] + [(0, count - 1)]
    known = {edge.id: i for i, edge in enumerate(wing.edges)}
    for taped in plan.job.site.as_built.tapes_of(wing.id):
        if taped.start in known and taped.end in known:
            pair = tuple(sorted((known[taped.start], known[taped.end])))
            if pair not in pairs:
                pairs.append((pair[0], pair[1]))
    return [_tape(wing, i, j, wall=j - i in (1, count - 1)) for i, j in pairs]


def _tape(wing: Wing, i: int, j: int, *, wall: bool) -> Reading:
    (ax, ay), (bx, by) = wing.outline[i], wing.outline[j]
    start, end = wing.edges[i].id, wing.edges[j].id

    def change(job: Job, value: float | None) -> Job:
        return tape(job, wing.id, start, end, value)

    def read(as_built: AsBuilt) -> float | None:
        ends = {start, end}
        return next((t.length_in for t in as_built.tapes_of(wing.id) if {t.start, t.end} == ends), None)

    drawn = ((ax - bx) ** 2 + (ay - by) ** 2) ** 0.5
    return Reading(f"Corner {i + 1} to corner {j + 1}", drawn, read, change, after_a_tape=wall)


def _planes(plan: Plan, wing: Wing) -> list[Reading]:
    found: list[Reading] = []
    for plane in plan.roof.planes:
        if plane.wing == wing.id:
            for word, end in (("left", "left_in"), ("right", "right_in")):
                found.append(_plane(f"Up the slope, {word} end of {plane.name}", plane.id, plane.plane_length_in, end))
    return found


def _plane(label: str, plane_id: str, drawn: float, end: str) -> Reading:
    def change(job: Job, value: float | None) -> Job:
        return measure_plane(job, plane_id, **{end: value})

    def read(as_built: AsBuilt) -> float | None:
        reading = as_built.plane(plane_id)
        return None if reading is None else getattr(reading, end)

    return Reading(label, drawn, read, change)


class ReadingField(OwnLength):
    """What was measured, typed in full or as the difference from the drawing: ``+1/4`` or ``-3/8``."""

    drawn_in = 0.0

    def read(self, text: str) -> float:
        """Inches; with a sign before it the drawn length and so much."""
        bare = text.strip().replace("−", "-")
        if bare[:1] not in ("+", "-"):
            return super().read(text)
        off = super().read(bare[1:])
        return self.drawn_in + (off if bare[0] == "+" else -off)


class AsBuiltForm(Form):
    """Fields for the readings of one wing, and what can be done with them."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self.fields: list[ReadingField] = []
        self._readings: list[Reading] = []
        self._labels: tuple[str, ...] = ()
        self.highest = QPushButton("Draw the plates at the highest reading", self)
        self.square = QPushButton("Draw the outline as taped", self)
        self.clear = QPushButton("Take all readings away", self)
        for button, done in (
            (self.highest, self._take_plates),
            (self.square, self._take_outline),
            (self.clear, self._take_away),
        ):
            button.clicked.connect(done)
            self.column.addWidget(button)

    def show_wing(self, wing: Wing) -> None:
        """Show a wing's readings; fields are made anew where there is other to be measured."""
        self.wing_id = wing.id
        plan = self.document.plan
        self._readings = readings_of(plan, wing)
        labels = (wing.id, *(reading.label for reading in self._readings))
        if labels != self._labels:
            self._labels = labels
            self._rebuild()
        as_built = self.document.job.site.as_built
        for field, reading in zip(self.fields, self._readings, strict=True):
            field.set_units(plan.units)
            field.drawn_in = reading.drawn_in
            field.edit.setPlaceholderText(f"{plan.units.length(reading.drawn_in)} drawn")
            value = reading.read(as_built)
            field.set_value(value)
            field.set_note("" if value is None else plan.units.signed(value - reading.drawn_in))
            self.show_row(field, not reading.after_a_tape or bool(as_built.tapes_of(wing.id)))
        name = f"{wing.id}/"
        plates = [plate for plate in as_built.plates if plate.edge.startswith(name)]
        squaring = next((one for one in plan.site.squarings if one.wing == wing.id), None)
        self.highest.setVisible(bool(plates))
        self.square.setVisible(squaring is not None and squaring.fits)
        self.clear.setVisible(bool(plates or squaring or any(p.plane.startswith(name) for p in as_built.planes)))

    def _rebuild(self) -> None:
        while self.form.rowCount():
            # Kept until the event loop comes round: it may be one of them that is committing.
            row = self.form.takeRow(0)
            for item in (row.labelItem, row.fieldItem):
                widget = None if item is None else item.widget()
                if widget is not None:
                    widget.hide()
                    widget.deleteLater()
        self.fields = []
        for number, reading in enumerate(self._readings):
            field = ReadingField(self.document.plan.units, None, reading.label, self)
            field.committed.connect(self._setter(number))
            field.cleared.connect(self._setter(number))
            self.fields.append(field)
        self.add(*self.fields)
        tab_before(self.highest, (field.edit for field in self.fields))

    def _setter(self, number: int) -> Callable[..., None]:
        def take(value: float | None = None) -> None:
            field, reading = self.fields[number], self._readings[number]
            self.edit(field, lambda job: reading.change(job, value), f"Measure: {reading.label}")

        return take

    def _take_plates(self) -> None:
        job = self.document.job
        name = f"{self.wing_id}/"
        heights: dict[str, float] = {}
        for plate in job.site.as_built.plates:
            read = [height for height in (plate.left_in, plate.right_in) if height is not None]
            if plate.edge.startswith(name) and read:
                heights[plate.edge.removeprefix(name)] = max(read)
        self._do(lambda: take_over_plates(job, self.wing_id, heights), "Draw plates at their highest reading")

    def _take_outline(self) -> None:
        found = next((one for one in self.document.plan.site.squarings if one.wing == self.wing_id), None)
        if found is not None:
            job = self.document.job
            self._do(lambda: take_over_outline(job, self.wing_id, found.outline), "Draw the outline as taped")

    def _take_away(self) -> None:
        self._do(lambda: clear_as_built(self.document.job, self.wing_id), "Take readings away")

    def _do(self, change: Callable[[], Job], text: str) -> None:
        first: Field | None = self.fields[0] if self.fields else None
        try:
            self.document.apply(change(), text)
        except BadInput as error:
            if first is not None:
                first.show_error(str(error))
