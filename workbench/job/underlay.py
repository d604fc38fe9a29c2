"""The plan page that lies under the drawing: which file, which page, and where on the plan it lies."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

from workbench.job.values import Position, Value


class Underlay(Value, frozen=True, kw_only=True):
    """A page of a plan set, a picture of one, or the lines of a drawing, to trace a roof from.

    The page's own measure is the point (1/72 in of paper) of a PDF page, the pixel of a picture, the drawing unit of
    a DXF file. The file itself stays where it is; only the way to it is kept, from the job's folder where that can be.

    Attributes:
        path: The file, with forward slashes; from the job file's folder, or from the root.
        page: Page of a PDF, the first is 1.
        scale_in: Plan inches that one of the page's own measures stands for.
        x_in: Where the page's lower left corner lies on the plan.
        y_in: The same, upwards.
        turn_deg: How far the page is turned about that corner, anticlockwise.
        strength: How strongly it shows: 1 as it is, near 0 hardly.
        shown: Whether it shows.
    """

    path: Annotated[str, Meta(min_length=1, max_length=1000)]
    page: Annotated[int, Meta(ge=1, le=10_000)] = 1
    scale_in: Annotated[float, Meta(gt=0.0, le=10_000.0)] = 1.0
    x_in: Position = 0.0
    y_in: Position = 0.0
    turn_deg: Annotated[float, Meta(ge=-360.0, le=360.0, description="degrees")] = 0.0
    strength: Annotated[float, Meta(ge=0.05, le=1.0)] = 0.5
    shown: bool = True
