"""What was measured on site: plate heights at the corners, lengths taped from corner to corner, plane lengths.

Nothing here moves the drawing. What is measured stands beside what is drawn, the plan says what follows from the
difference, and an edit (``as_built_edits.py``) takes it over where the user wants that.
"""

from __future__ import annotations

from msgspec.structs import replace

from workbench.errors import JobError
from workbench.job.safety import EdgeName, unique
from workbench.job.values import Identifier, PlaneName, Position, PositiveLength, Value


class PlateMeasured(Value, frozen=True, kw_only=True):
    """The plate's top at both ends of one eave, from the level that plates are drawn from.

    Attributes:
        edge: The drawn eave, as ``wing/edge``.
        left_in: At the corner on the left, seen from outside below; None as drawn.
        right_in: At the corner on the right; None as drawn.
    """

    edge: EdgeName
    left_in: Position | None = None
    right_in: Position | None = None


class Taped(Value, frozen=True, kw_only=True):
    """A length taped on the level between two corners of a building line: a diagonal, or the length of a wall.

    Attributes:
        wing: Id of the wing.
        start: The edge that begins at the one corner.
        end: The edge that begins at the other corner.
        length_in: What the tape read.
    """

    wing: Identifier
    start: Identifier
    end: Identifier
    length_in: PositiveLength


class PlaneMeasured(Value, frozen=True, kw_only=True):
    """The length of a plane up the slope, taped on the rafters along its left and right end.

    It is taped from the lower edge of the sheathing to its upper edge, as ``plane_length_in`` is reckoned.

    Attributes:
        plane: Id of the plane.
        left_in: Along the left end, seen from outside below; None where nobody has measured: it is
            then taken to be as long as the other end.
        right_in: Along the right end.
    """

    plane: PlaneName
    left_in: PositiveLength | None = None
    right_in: PositiveLength | None = None


class AsBuilt(Value, frozen=True, kw_only=True):
    """All that was measured.

    Attributes:
        plates: Plate heights, one an eave.
        tapes: Diagonals and wall lengths.
        planes: Plane lengths, one a plane.
    """

    plates: tuple[PlateMeasured, ...] = ()
    tapes: tuple[Taped, ...] = ()
    planes: tuple[PlaneMeasured, ...] = ()

    def plate(self, edge: str) -> PlateMeasured | None:
        """What was measured along an eave (``wing/edge``), or None."""
        return next((plate for plate in self.plates if plate.edge == edge), None)

    def plane(self, plane_id: str) -> PlaneMeasured | None:
        """The measured lengths of a plane, or None."""
        return next((plane for plane in self.planes if plane.plane == plane_id), None)

    def tapes_of(self, wing_id: str) -> tuple[Taped, ...]:
        """What was taped on one wing."""
        return tuple(tape for tape in self.tapes if tape.wing == wing_id)


def check_as_built(as_built: AsBuilt) -> None:
    """Check what no field of the measured values can say alone.

    Raises:
        JobError: One sentence with the place and the mend.
    """
    unique("as_built, plates", [plate.edge for plate in as_built.plates])
    unique("as_built, planes", [plane.plane for plane in as_built.planes])
    seen: set[tuple[str, frozenset[str]]] = set()
    for tape in as_built.tapes:
        if tape.start == tape.end:
            msg = f'as_built, tapes: one runs from corner "{tape.start}" to itself; name two corners.'
            raise JobError(msg)
        between = (tape.wing, frozenset((tape.start, tape.end)))
        if between in seen:
            msg = (
                f'as_built, tapes: wing "{tape.wing}" has two lengths between the corners "{tape.start}" and '
                f'"{tape.end}"; keep one.'
            )
            raise JobError(msg)
        seen.add(between)


def unmeasured_wing(as_built: AsBuilt, wing_id: str) -> AsBuilt:
    """The measured values without those of a wing."""

    def kept(name: str) -> bool:
        return not name.startswith(f"{wing_id}/")

    return replace(
        as_built,
        plates=tuple(plate for plate in as_built.plates if kept(plate.edge)),
        tapes=tuple(tape for tape in as_built.tapes if tape.wing != wing_id),
        planes=tuple(plane for plane in as_built.planes if kept(plane.plane)),
    )
