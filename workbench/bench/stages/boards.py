"""Boards to cut: what comes out of which board, and the lumber they are cut from, as fields."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QWidget

from workbench.bench.document import Document
from workbench.bench.fields import ChoiceField, LengthField, TextField, typed_lengths
from workbench.bench.how import HowButton
from workbench.bench.panel import heading, note
from workbench.bench.stages.form_base import Form, OwnLength
from workbench.bench.table import Cells, Table
from workbench.errors import MeasureError
from workbench.framing.marks import KIND_WORDS
from workbench.framing.model import MemberKind
from workbench.job.lumber import SectionStock
from workbench.job.lumber_edits import set_lumber, set_section
from workbench.job.model import Job, Wing
from workbench.measure import Units
from workbench.plan import Plan
from workbench.quantities.lumber_lines import board_lines
from workbench.quantities.lumber_model import LumberPlan, SectionBoards
from workbench.rules.lumber import lumber_table

_KINDS: dict[str, MemberKind] = {word.lower(): kind for kind, word in KIND_WORDS.items()}


class BoardsPart(Form):
    """The table of boards; the section in hand says how its feet were found and may have lengths of its own."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(document, parent)
        self.column.insertWidget(0, heading("Boards to cut", self))
        self.about = note("", self)
        self.table = Table(
            "Boards to cut", ("Boards", "Long", "Cut from each"), numeric=(0, 1), stretch=2, wrap=True, parent=self
        )
        self.table.chosen.connect(lambda _: self._show_section())
        self.how = HowButton("the boards of this section", self)
        for place, widget in enumerate((self.about, self.table, self.how), start=1):
            self.column.insertWidget(place, widget)
        units = document.plan.units
        self.lengths = TextField("", "Lengths to be had", self, longest=400)
        self.longest = OwnLength(units, None, "Longest to carry", self)
        self.longest.edit.setPlaceholderText("any")
        self.kerf = LengthField(units, None, "Saw kerf", self)
        self.species = ChoiceField(_species("not said"), "", "Species", self)
        self.grade = ChoiceField((("", "not said"),), "", "Grade", self)
        self.alone = TextField("", "Boards of their own", self, longest=400)
        self.alone.edit.setPlaceholderText("none; such as hip; ridge")
        self.alone.setToolTip("Kinds of members of which every piece gets a board of its own, with ; between them")
        self.own_lengths = TextField("", "Lengths", self, longest=400)
        self.own_lengths.edit.setPlaceholderText("as above")
        self.own_species = ChoiceField(_species("as above"), "", "Species", self)
        self.own_grade = ChoiceField((("", "as above"),), "", "Grade", self)
        self.add(self.lengths, self.longest, self.kerf, self.species, self.grade, self.alone)
        self.section_title = note("", self)
        self.form.addRow(self.section_title)
        self.add(self.own_lengths, self.own_species, self.own_grade)
        self._connect()

    def show_wing(self, wing: Wing) -> None:
        """Nothing of it is a wing's."""

    def again(self) -> None:
        """Show the job's values again."""
        self._show_fields()

    def refresh(self, plan: Plan) -> None:
        """Show a plan's boards."""
        lumber, units = plan.lumber, plan.units
        self.table.set_rows(board_rows(lumber, units))
        total = sum(section.bought_in for section in lumber.sections)
        least = sum(section.at_least_in for section in lumber.sections)
        proof = "fewest proven" if lumber.proven else f"no way of cutting buys less than {units.length(least)}"
        done = sum(count.count for _, count in plan.cut.done)
        cut = f" {done} pieces are cut already and not among them." if done else ""
        self.about.setText(
            f"{units.length(total)} of boards in all: {proof}.{cut}" if lumber.sections else f"No boards to cut.{cut}"
        )
        self._show_fields()
        self._show_section()

    @property
    def section(self) -> SectionBoards | None:
        """The section in hand: that of the marked row, else the first."""
        sections = self.document.plan.lumber.sections
        name = self.table.key.removeprefix("section:")
        return next((section for section in sections if section.section == name), sections[0] if sections else None)

    def _show_fields(self) -> None:
        units, lumber = self.document.plan.units, self.document.plan.job.lumber
        for field in (self.longest, self.kerf):
            field.set_units(units)
        self.lengths.set_value("; ".join(units.length(length) for length in lumber.lengths_in))
        self.longest.set_value(lumber.longest_in)
        self.kerf.set_value(lumber.kerf_in)
        self.species.set_value(lumber.species)
        self.grade.set_choices(_grades(lumber.species, "not said"))
        self.grade.set_value(lumber.grade)
        words: dict[str, str] = {kind: word for word, kind in _KINDS.items()}
        self.alone.set_value("; ".join(words.get(kind, kind) for kind in lumber.alone))

    def _show_section(self) -> None:
        section, units = self.section, self.document.plan.units
        shown = section is not None
        self.how.setVisible(shown)
        self.section_title.setVisible(shown)
        for field in (self.own_lengths, self.own_species, self.own_grade):
            self.show_row(field, shown)
        if section is None:
            return
        lumber = self.document.plan.job.lumber
        own = next((s for s in lumber.sections if s.section == section.section), SectionStock(section=section.section))
        self.how.set_traces((section.trace,))
        self.section_title.setText(f"For {section.section} alone:")
        self.own_lengths.set_value("; ".join(units.length(length) for length in own.lengths_in))
        self.own_species.set_value(own.species)
        self.own_grade.set_choices(_grades(own.species or lumber.species, "as above"))
        self.own_grade.set_value(own.grade)

    def _connect(self) -> None:
        self.lengths.committed.connect(lambda text: self._set_lengths(self.lengths, text))
        self.longest.committed.connect(self._setter(self.longest, "longest_in", "longest board to carry"))
        self.longest.cleared.connect(self._setter(self.longest, "longest_in", "longest board to carry"))
        self.kerf.committed.connect(self._setter(self.kerf, "kerf_in", "saw kerf"))
        self.species.committed.connect(self._set_species)
        self.grade.committed.connect(self._setter(self.grade, "grade", "grade"))
        self.alone.committed.connect(self._set_alone)
        self.own_lengths.committed.connect(lambda text: self._set_lengths(self.own_lengths, text))
        self.own_species.committed.connect(lambda value: self._set_own(self.own_species, species=value, grade=""))
        self.own_grade.committed.connect(lambda value: self._set_own(self.own_grade, grade=value))

    def _setter(self, field: LengthField | ChoiceField, name: str, words: str) -> Callable[..., None]:
        def take(value: object = None) -> None:
            fields: dict[str, Any] = {name: value}
            self.edit(field, lambda job: set_lumber(job, **fields), f"Change {words}")

        return take

    def _set_species(self, value: object) -> None:
        def change(job: Job) -> Job:
            grades = [grade for grade, _ in _grades(str(value), "")]
            kept = job.lumber.grade if job.lumber.grade in grades else ""
            return set_lumber(job, species=value, grade=kept)

        self.edit(self.species, change, "Change species")

    def _set_lengths(self, field: TextField, text: str) -> None:
        def change(job: Job) -> Job:
            lengths = tuple(sorted(set(typed_lengths(text, self.document.plan.units, field.label))))
            if field is self.lengths:
                return set_lumber(job, lengths_in=lengths)
            return set_section(job, self._section_name(), lengths_in=lengths)

        self.edit(field, change, "Change lengths to be had")

    def _set_alone(self, text: str) -> None:
        self.edit(self.alone, lambda job: set_lumber(job, alone=typed_kinds(text)), "Change boards of their own")

    def _set_own(self, field: ChoiceField, **fields: object) -> None:
        self.edit(field, lambda job: set_section(job, self._section_name(), **fields), "Change lumber of a section")

    def _section_name(self) -> str:
        section = self.section
        return "" if section is None else section.section


def board_rows(lumber: LumberPlan, units: Units) -> list[Cells]:
    """Rows of the table: each section under its heading, boards that the same marks are cut from on one line."""
    rows: list[Cells] = []
    for section in lumber.sections:
        rows.append(Cells((str(section.boards), "", section.name), heading=True))
        rows += [
            Cells((str(line.count), units.length(line.stock_in), line.text), f"section:{section.section}")
            for line in board_lines(section)
        ]
    return rows


def typed_kinds(text: str) -> tuple[MemberKind, ...]:
    """Kinds of members from words with ; between them.

    Raises:
        MeasureError: A word is no kind of member.
    """
    words = [word.strip().lower().removesuffix("s") for word in text.split(";") if word.strip()]
    for word in words:
        if word not in _KINDS:
            msg = f'"{word}" is no kind of member; the kinds are {", ".join(_KINDS)}.'
            raise MeasureError(msg)
    return tuple(dict.fromkeys(_KINDS[word] for word in words))


def _species(without: str) -> tuple[tuple[str, str], ...]:
    names = dict.fromkeys(row.species for row in lumber_table().values)
    return (("", without), *((name, name) for name in names))


def _grades(species: str, without: str) -> tuple[tuple[str, str], ...]:
    rows = [row for row in lumber_table().values if row.species == species]
    names = dict.fromkeys(grade for row in rows for grade in row.grades)
    return (("", without), *((name, name) for name in names))
