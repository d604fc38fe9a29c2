"""Headroom points and hardware: a table each, the fields of the row in hand, and buttons that add and remove."""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, LengthField, NumberField, TextField
from workbench.bench.stages.form_base import Form, OwnLength
from workbench.bench.stages.screening.forms import SettingsForm
from workbench.bench.stages.screening.rows import connector_rows, headroom_rows
from workbench.bench.table import Cells, Table
from workbench.errors import BadInput
from workbench.job.model import Job
from workbench.job.screening import Connector, HeadroomPoint
from workbench.job.screening_edits import (
    add_connector,
    add_headroom,
    remove_connector,
    remove_headroom,
    set_connector,
    set_headroom,
)
from workbench.roof.model import Plane
from workbench.screening.connectors import PLACE_WORDS


class ListPart(QWidget):
    """A table of things, the form of the one in hand, and the buttons."""

    def __init__(self, document: Document, table: Table, form: Form, words: tuple[str, str], parent: QWidget) -> None:
        super().__init__(parent)
        self.document = document
        self.table = table
        self.form = form
        self.add, self.remove = QPushButton(words[0], self), QPushButton(words[1], self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(table)
        column.addWidget(form)
        row = QHBoxLayout()
        row.addWidget(self.add)
        row.addStretch(1)
        row.addWidget(self.remove)
        column.addLayout(row)
        self.in_hand = ""
        table.chosen.connect(self._choose)
        self.add.clicked.connect(self.make)
        self.remove.clicked.connect(self.drop)

    def show_rows(self, rows: list[Cells], ids: list[str]) -> None:
        """Show the rows, and the form of the one in hand."""
        if self.in_hand not in ids:
            self.in_hand = ids[-1] if ids else ""
        self.table.set_rows(rows)
        self.table.select_key(self.in_hand)
        for widget in (self.table, self.form, self.remove):
            widget.setVisible(bool(ids))

    def apply(self, made: tuple[Job, str] | Job, text: str) -> None:
        """Take an edit over; what was added comes into the hand."""
        if isinstance(made, tuple):
            job, self.in_hand = made
        else:
            job = made
        self.document.apply(job, text)

    def refresh(self) -> None:
        """Show the plan's."""
        raise NotImplementedError

    def make(self) -> None:
        """Add one."""
        raise NotImplementedError

    def drop(self) -> None:
        """Remove the one in hand."""
        raise NotImplementedError

    def _choose(self, key: str) -> None:
        self.in_hand = key
        self.refresh()


class _PointForm(SettingsForm):
    """Fields of one headroom point."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        units = document.plan.units
        self.point_id = ""
        self.name = TextField("", "What is there", self)
        self.add(self.name)
        self.name.committed.connect(
            lambda text: self.edit(self.name, lambda job: set_headroom(job, self.point_id, name=text), "Name a point")
        )
        self.bind(LengthField(units, None, "From the left, plan", self), "x_in")
        self.bind(LengthField(units, None, "From below, plan", self), "y_in")
        self.bind(LengthField(units, None, "Floor height", self), "floor_in")
        self.bind(OwnLength(units, None, "Clear height needed", self), "least_in", "as the code")
        self.bind(LengthField(units, None, "Ceiling under the rafters", self), "ceiling_in")

    def value_of(self, job: Job) -> HeadroomPoint:
        """The point in hand."""
        points = {point.id: point for point in job.screening.headroom}
        return points.get(self.point_id, HeadroomPoint(id="none", x_in=0.0, y_in=0.0))

    def changed(self, job: Job, fields: dict[str, Any]) -> Job:
        """The point changed."""
        return set_headroom(job, self.point_id, **fields)

    def show_point(self, point_id: str) -> None:
        """Show a point."""
        self.point_id = point_id
        self.name.set_value(self.value_of(self.document.plan.job).name)
        self.show_settings()


class HeadroomPart(ListPart):
    """Points to stand upright at."""

    def __init__(self, document: Document, parent: QWidget) -> None:
        self.points = _PointForm(document)
        table = Table("Headroom", ("Point", "Clear"), numeric=(1,))
        super().__init__(document, table, self.points, ("Add point", "Remove point"), parent)
        self.add.setToolTip("Add a point in the middle of the selected plane; its place is given in plan")
        self.plane: Plane | None = None

    def hold(self, key: str) -> None:
        """Take the point selected on the drawing into the hand."""
        kind, _, name = key.partition(":")
        if kind == "headroom":
            self.in_hand = name

    def refresh(self) -> None:
        """Show the plan's points."""
        plan = self.document.plan
        self.show_rows(headroom_rows(plan), [point.id for point in plan.job.screening.headroom])
        self.points.show_point(self.in_hand)
        self.add.setEnabled(self.plane is not None)

    def make(self) -> None:
        """A point in the middle of the selected plane."""
        if self.plane is None:
            return
        xs, ys = [c[0] for c in self.plane.corners], [c[1] for c in self.plane.corners]
        x, y = round(sum(xs) / len(xs)), round(sum(ys) / len(ys))
        self.apply(add_headroom(self.document.job, x_in=float(x), y_in=float(y)), "Add headroom point")

    def drop(self) -> None:
        """Remove the point in hand."""
        if self.in_hand:
            self.apply(remove_headroom(self.document.job, self.in_hand), "Remove headroom point")


class _ConnectorForm(SettingsForm):
    """Fields of one piece of hardware."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self.connector_id = ""
        self.name = TextField("", "What to buy", self)
        self.add(self.name)
        self.name.committed.connect(
            lambda text: self.edit(
                self.name, lambda job: set_connector(job, self.connector_id, name=text), "Name hardware"
            )
        )
        self.place = ChoiceField(tuple(PLACE_WORDS.items()), None, "One set at all", self)
        self.add(self.place)
        self.place.committed.connect(self._put)
        self.each = NumberField(None, "How many there", self, least=1.0, decimals=0, whole=True)
        self.count = NumberField(None, "How many in all", self, least=1.0, decimals=0, whole=True)
        for field, name in ((self.each, "each"), (self.count, "count")):
            self.add(field)
            field.committed.connect(lambda x, field=field, name=name: self._number(field, name, x))

    def value_of(self, job: Job) -> Connector:
        """The hardware in hand."""
        known = {each.id: each for each in job.screening.connectors}
        return known.get(self.connector_id, Connector(id="none", name=""))

    def changed(self, job: Job, fields: dict[str, Any]) -> Job:
        """The hardware changed."""
        return set_connector(job, self.connector_id, **fields)

    def show_settings(self) -> None:
        """Show the plan's; the number only where it is given as such."""
        connector = self.value_of(self.document.plan.job)
        self.name.set_value(connector.name)
        self.place.set_value(connector.place)
        self.each.set_value(float(connector.each))
        self.count.set_value(float(connector.count))
        self.show_row(self.each, connector.place != "given")
        self.show_row(self.count, connector.place == "given")

    def show_connector(self, connector_id: str) -> None:
        """Show one."""
        self.connector_id = connector_id
        self.show_settings()

    def _put(self, place: object) -> None:
        fields: dict[str, Any] = {"place": place}
        if place == "given" and not self.value_of(self.document.job).count:
            fields["count"] = 1
        self.edit(self.place, lambda job: self.changed(job, fields), "Say where hardware goes")

    def _number(self, field: NumberField, name: str, value: float) -> None:
        self.edit(field, lambda job: self.changed(job, {name: round(value)}), f"Change {field.label.lower()}")


class ConnectorPart(ListPart):
    """Ties, hangers and straps that were called for."""

    def __init__(self, document: Document, parent: QWidget) -> None:
        self.fields = _ConnectorForm(document)
        table = Table("Hardware called for", ("What", "Where", "How many"), numeric=(2,), stretch=1)
        super().__init__(document, table, self.fields, ("Add hardware", "Remove hardware"), parent)

    def refresh(self) -> None:
        """Show the plan's."""
        plan = self.document.plan
        self.show_rows(connector_rows(plan), [each.id for each in plan.job.screening.connectors])
        self.fields.show_connector(self.in_hand)

    def make(self) -> None:
        """Something to be named."""
        try:
            self.apply(add_connector(self.document.job, "tie as called for"), "Add hardware")
        except BadInput as error:
            self.document.refuse(error)

    def drop(self) -> None:
        """Remove the one in hand."""
        if self.in_hand:
            self.apply(remove_connector(self.document.job, self.in_hand), "Remove hardware")
