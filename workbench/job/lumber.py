"""What lumber the job is built of: the lengths that can be had, the saw, what can be carried, species and grade."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from workbench.errors import BadInput, JobError
from workbench.job.safety import unique
from workbench.job.values import Identifier, Name, PositiveLength, Value
from workbench.rules.lumber import design_values, lumber_table

ORDINARY_LENGTHS_IN = tuple(12.0 * feet for feet in (8, 10, 12, 14, 16, 18, 20, 22, 24))
"""Lengths that framing lumber is sold in (common practice, no source)."""

_SIZE = "2x8"  # species and grade are looked up with it; every species has it

Lengths = Annotated[tuple[PositiveLength, ...], Meta(max_length=40)]
SectionName = Annotated[str, Meta(min_length=1, max_length=40)]


class SectionStock(Value, frozen=True, kw_only=True):
    """What differs for one section; an empty field takes the job's.

    Attributes:
        section: Its name as on the cut list, such as ``2x8``.
        lengths_in: Lengths that can be had of it.
        species: Species.
        grade: Grade.
    """

    section: SectionName
    lengths_in: Lengths = ()
    species: Name = ""
    grade: Name = ""


class Lumber(Value, frozen=True, kw_only=True):
    """The lumber of a job.

    Attributes:
        lengths_in: Lengths that can be had.
        kerf_in: What the saw takes between two pieces of one board.
        longest_in: Longest board that can be carried to the saw; longer ones are not ordered where a shorter one does.
        alone: Kinds of members, such as ``hip_rafter``, of which every piece gets a board of its own; pieces of all
            other kinds share boards.
        species: Species, such as ``Douglas fir-larch``; empty while not decided.
        grade: Grade, such as ``No.2``.
        sections: What differs for single sections.
    """

    lengths_in: Annotated[tuple[PositiveLength, ...], Meta(min_length=1, max_length=40)] = ORDINARY_LENGTHS_IN
    kerf_in: Annotated[float, Meta(ge=0.0, le=1.0, description="inches")] = 0.125
    longest_in: PositiveLength | None = None
    alone: Annotated[tuple[Identifier, ...], Meta(max_length=40)] = ()
    species: Name = ""
    grade: Name = ""
    sections: Annotated[tuple[SectionStock, ...], Meta(max_length=60)] = ()

    def lengths_of(self, section: str) -> tuple[float, ...]:
        """Lengths of a section that can be had and carried, shortest first; all that can be had if none can."""
        own = next((s.lengths_in for s in self.sections if s.section == section and s.lengths_in), self.lengths_in)
        known = sorted(set(own))
        carried = [x for x in known if self.longest_in is None or x <= self.longest_in + 1e-9]
        return tuple(carried or known)

    def grade_of(self, section: str) -> tuple[str, str]:
        """Species and grade of a section; empty where not decided."""
        own = next((s for s in self.sections if s.section == section), SectionStock(section=section))
        return own.species or self.species, own.grade or self.grade

    def name_of(self, section: str) -> str:
        """How a section is ordered: ``2x8 Douglas fir-larch No.2``."""
        return " ".join(word for word in (section, *self.grade_of(section)) if word)


ORDINARY_LUMBER = Lumber()
"""Lumber of which nothing is said."""


def check_lumber(lumber: Lumber) -> None:
    """Check what no field of the lumber settings can say alone.

    Raises:
        JobError: One sentence with the place and the mend.
    """
    unique("lumber, sections", [own.section for own in lumber.sections])
    unique("lumber, alone", lumber.alone)
    known = {(lumber.species, lumber.grade), *(lumber.grade_of(own.section) for own in lumber.sections)}
    for species, grade in sorted(known):
        if species:
            _check_grade(species, grade)
        elif grade:
            msg = f'lumber has the grade "{grade}" but no species; name the species too, or take the grade away.'
            raise JobError(msg)


def _check_grade(species: str, grade: str) -> None:
    """Refuse a species or a grade that the table of design values does not have; a species may stand alone."""
    rows = [row for row in lumber_table().values if row.species.lower() == species.strip().lower()]
    first = rows[0].grades[0] if rows else "SS"
    try:
        design_values(species, grade or first, _SIZE)
    except BadInput as error:
        raise JobError(f"lumber: {error}") from None
