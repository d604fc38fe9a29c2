"""Reference design values of framing lumber and the factors that go with them."""

from __future__ import annotations

from functools import lru_cache
from typing import Literal

import msgspec

from workbench.errors import BadInput
from workbench.resources import resource_text

LoadType = Literal["roof_live", "snow", "ceiling"]
Basis = Literal["current", "ibc2018"]


class GradeValues(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Values of one species and grade, psi; ``size`` where they hold for one nominal size only."""

    species: str
    grades: tuple[str, ...]
    size: str | None
    fb_psi: float
    fv_psi: float
    e_psi: float


class BasisValue(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A bending value that another basis has in place of the current one, psi."""

    species: str
    grade: str
    fb_psi: float


class ValueBasis(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A set of values a published table was made with."""

    source: str
    fb_psi: tuple[BasisValue, ...]


class LumberTable(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The whole table, with the source of each part."""

    name: str
    edition: str
    source: str
    values: tuple[GradeValues, ...]
    size_factors: dict[str, float]
    size_factor_source: str
    size_factor_not_for: tuple[str, ...]
    repetitive: float
    repetitive_source: str
    duration: dict[str, float]
    duration_source: str
    bases: dict[str, ValueBasis]


class DesignValues(msgspec.Struct, frozen=True, kw_only=True):
    """What a span is reckoned with: reference values in psi, the size factor, and where they come from."""

    fb_psi: float
    fv_psi: float
    e_psi: float
    size_factor: float
    source: str


@lru_cache(maxsize=1)
def lumber_table() -> LumberTable:
    """The shipped table."""
    return msgspec.json.decode(resource_text("rules", "lumber.json"), type=LumberTable)


def design_values(species: str, grade: str, size: str, basis: Basis = "current") -> DesignValues:
    """Reference values of one species, grade and nominal size.

    Args:
        species: Such as ``Douglas fir-larch``; capitals do not matter.
        grade: Such as ``No.2`` or ``SS``.
        size: Nominal, such as ``2x8``.
        basis: Which set of bending values.

    Raises:
        BadInput: The table has no such species, grade or size; the sentence lists what it has.
    """
    table = lumber_table()
    rows = [row for row in table.values if row.species.lower() == species.strip().lower()]
    if not rows:
        names = ", ".join(dict.fromkeys(row.species for row in table.values))
        msg = f'There is no species "{species}" in the lumber table; it has {names}.'
        raise BadInput(msg)
    wanted = _plain(grade)
    graded = [row for row in rows if wanted in (_plain(name) for name in row.grades)]
    if not graded:
        names = ", ".join(dict.fromkeys(name for row in rows for name in row.grades))
        msg = f'{rows[0].species} has no grade "{grade}" in the lumber table; it has {names}.'
        raise BadInput(msg)
    factor = table.size_factors.get(size.strip().lower())
    row = next((row for row in graded if row.size in (None, size.strip().lower())), None)
    if factor is None or row is None:
        sizes = [row.size for row in graded if row.size] or list(table.size_factors)
        msg = f'There is no size "{size}" for {rows[0].species} {grade}; the table has {", ".join(sizes)}.'
        raise BadInput(msg)
    if row.species in table.size_factor_not_for:
        factor = 1.0
    other = next((b for b in table.bases[basis].fb_psi if b.species == row.species and _plain(b.grade) == wanted), None)
    source = table.source if other is None else table.bases[basis].source
    fb = row.fb_psi if other is None else other.fb_psi
    return DesignValues(fb_psi=fb, fv_psi=row.fv_psi, e_psi=row.e_psi, size_factor=factor, source=source)


def _plain(grade: str) -> str:
    return grade.lower().replace(" ", "").replace(".", "").replace("#", "no")
