"""The printed handout: a PDF that works in gloves, in sun, in black and white, at arm's length."""

from __future__ import annotations

from workbench.handout.document import PARTS, Part, named_parts, render_handout, write_handout
from workbench.handout.page import Paper

__all__ = ["PARTS", "Paper", "Part", "named_parts", "render_handout", "write_handout"]
