"""What every drawing tool is: a small state machine that is told plain values and knows no window.

The surface tells a tool where the pointer is and which keys were pressed, shows what the tool feeds back, and opens a
box for the numbers the tool asks for. A tool changes the job only through its host: previews while something moves, one
edit when it is done.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal, Protocol

from workbench.bench.surface.snapping import Segment, Snap, Targets
from workbench.errors import BadInput, EditError
from workbench.job.model import Job, Opening, Wing
from workbench.measure import Units
from workbench.plan import Plan
from workbench.roof.model import Point2


@dataclass(frozen=True, slots=True)
class Pointer:
    """Where the pointer is.

    Attributes:
        at: Plan inches, not snapped.
        target: Key of the object under it; empty for none.
        free: Whether snapping is suspended for as long as its key is held.
    """

    at: Point2
    target: str = ""
    free: bool = False


@dataclass(frozen=True, slots=True)
class Ask:
    """A number that can be typed now.

    Attributes:
        name: The name it is given back under.
        label: What it is called beside its box.
        kind: ``length`` in inches, ``angle`` in radians, ``slope`` as rise/run, or ``choice`` of a word.
        live: What the pointer says it is; taken when nothing is typed.
        words: The words of a choice; its value is the place of the chosen one.
    """

    name: str
    label: str
    kind: Literal["length", "angle", "slope", "choice"]
    live: float | None = None
    words: tuple[str, ...] = ()


@dataclass(frozen=True)
class Feedback:
    """What a tool shows over the drawing.

    Attributes:
        lines: What is being drawn.
        guides: What it was snapped along, thin.
        handles: Round hollow handles.
        held: The handle in the hand, filled.
        snap: The snapped pointer: marker and word.
        live: Measures beside the pointer.
        problem: Why the present place can't be taken.
        at: Where the words stand while nothing was snapped.
    """

    lines: tuple[Segment, ...] = ()
    guides: tuple[Segment, ...] = ()
    handles: tuple[Point2, ...] = ()
    held: Point2 | None = None
    snap: Snap | None = None
    live: str = ""
    problem: str = ""
    at: Point2 | None = None

    def without_words(self) -> Feedback:
        """The same without measures and snap word, for while a box stands in their place."""
        return replace(self, live="", problem="", snap=replace(self.snap, word="") if self.snap else None)


class Host(Protocol):
    """What a tool may ask of the surface it works on."""

    @property
    def job(self) -> Job:
        """The job as last applied."""
        ...

    @property
    def plan(self) -> Plan:
        """The plan on show."""
        ...

    @property
    def units(self) -> Units:
        """How lengths are shown."""
        ...

    @property
    def scale(self) -> float:
        """Pixels an inch."""
        ...

    @property
    def grid(self) -> float:
        """Grid spacing in inches; 0 while the grid does not catch."""
        ...

    @property
    def selected(self) -> str:
        """Key of the selected object."""
        ...

    @property
    def editable(self) -> bool:
        """Whether what is drawn may be moved and removed: in the plan stage."""
        ...

    def preview(self, job: Job) -> None:
        """Show a job that is not the document's yet."""
        ...

    def cancel_preview(self) -> None:
        """Show the document's own job again."""
        ...

    def apply(self, job: Job, text: str) -> None:
        """Make an edit: one undo step called ``text``."""
        ...

    def refuse(self, error: BadInput) -> None:
        """Say why an edit can't be made."""
        ...

    def select(self, key: str) -> None:
        """Select an object."""
        ...

    def say(self, hint: str) -> None:
        """Tell what to do next."""
        ...

    def ask(self) -> None:
        """Open the box for the tool's numbers now, without waiting for a digit."""
        ...

    def finish(self) -> None:
        """Go back to selecting."""
        ...


class Tool:
    """Base of the tools; on its own it does nothing."""

    hint = ""
    """What to do first."""

    def __init__(self, host: Host) -> None:
        self.host = host

    @property
    def unfinished(self) -> bool:
        """Whether something has been begun that is lost when another tool is taken."""
        return False

    def start(self) -> None:
        """Begin."""
        self.host.say(self.hint)

    def press(self, pointer: Pointer) -> None:
        """The main button went down."""

    def move(self, pointer: Pointer) -> None:
        """The pointer moved, with the main button down or not."""

    def release(self, pointer: Pointer) -> None:
        """The main button came up."""

    def key(self, name: str) -> bool:
        """A key was pressed: ``enter``, ``escape``, ``backspace``, ``delete``, an arrow's name or a letter.

        Returns:
            Whether the tool used it.
        """
        return False

    def asks(self) -> tuple[Ask, ...]:
        """The numbers that can be typed now."""
        return ()

    def typed(self, values: Mapping[str, float]) -> None:
        """Take typed numbers; those left empty come with the pointer's value.

        Raises:
            BadInput: They can't be used.
        """

    def cancel(self) -> None:
        """Leave everything as it was."""
        self.host.cancel_preview()

    def feedback(self) -> Feedback:
        """What to show now."""
        return Feedback()


def segments(points: tuple[Point2, ...]) -> tuple[Segment, ...]:
    """The sides of an open line."""
    return tuple(zip(points, points[1:], strict=False))


def ring(points: tuple[Point2, ...]) -> tuple[Segment, ...]:
    """The sides of a closed outline."""
    return segments((*points, points[0])) if points else ()


def targets_of(job: Job, *, but: str = "") -> Targets:
    """Corners and edges of the job's wings, without the wing of this id."""
    outlines = [wing.outline for wing in job.wings if wing.id != but]
    return Targets(
        tuple(corner for outline in outlines for corner in outline),
        tuple(side for outline in outlines for side in ring(outline)),
    )


def wing_of(job: Job, key: str) -> Wing | None:
    """The wing that a key of a plane, edge, corner, piece, opening or wing belongs to."""
    kind, _, name = key.partition(":")
    if kind == "opening":
        opening = opening_of(job, key)
        name = "" if opening is None else opening.plane.split("/")[0]
    elif kind in {"plane", "edge", "corner", "piece"}:
        name = name.split("/")[0]
    elif kind != "wing":
        return None
    return next((wing for wing in job.wings if wing.id == name), None)


def opening_of(job: Job, key: str) -> Opening | None:
    """The skylight or chimney of a key, or None."""
    kind, _, name = key.partition(":")
    return next((o for o in job.openings if o.id == name), None) if kind == "opening" else None


def edge_index(wing: Wing, edge_id: str) -> int | None:
    """Place of an edge in its wing's outline, or None."""
    return next((i for i, edge in enumerate(wing.edges) if edge.id == edge_id), None)


def side_of(wing: Wing, index: int) -> Segment:
    """The drawn line of an edge."""
    return wing.outline[index], wing.outline[(index + 1) % len(wing.outline)]


def shown_angle(units: Units, radians: float) -> str:
    """An angle as ``90°``, with a decimal only where it has one."""
    return units.angle(radians, 0 if abs(math.degrees(radians) - round(math.degrees(radians))) < 0.05 else 1)


def direction_of(start: Point2, end: Point2) -> float:
    """Direction of a line, anticlockwise from the right, radians from 0 up to one turn."""
    return math.atan2(end[1] - start[1], end[0] - start[0]) % math.tau


def point_asks(base: Point2 | None, at: Point2) -> tuple[Ask, ...]:
    """The numbers of the next point: where it is, or from a base how far and which way."""
    if base is None:
        return (Ask("x", "Right", "length", at[0]), Ask("y", "Up", "length", at[1]))
    return (
        Ask("length", "Length", "length", math.dist(base, at)),
        Ask("angle", "Angle", "angle", direction_of(base, at)),
    )


def typed_point(values: Mapping[str, float], base: Point2 | None) -> Point2:
    """The next point from its typed numbers.

    Raises:
        EditError: Its length isn't over 0.
    """
    if base is None:
        return values["x"], values["y"]
    length, angle = positive(values, "length", "Length"), values["angle"]
    return base[0] + length * math.cos(angle), base[1] + length * math.sin(angle)


def line_words(units: Units, base: Point2, end: Point2) -> str:
    """Length and angle of the line that follows the pointer; nothing while it has none."""
    if base == end:
        return ""
    return f"{units.length(math.dist(base, end))}   {shown_angle(units, direction_of(base, end))}"


def positive(values: Mapping[str, float], name: str, label: str) -> float:
    """A typed length that has to be over 0.

    Raises:
        EditError: It isn't.
    """
    value = values[name]
    if value <= 0.0:
        msg = f"{label} has to be over 0; write a length like 13' 6\"."
        raise EditError(msg)
    return value
