"""Order of erection and temporary bracing: a caution page."""

from __future__ import annotations

from workbench.handout.blocks import LABEL, LARGE, Block, Boxed, Space, Words
from workbench.handout.page import Page, Paper, flowed
from workbench.handout.words import FALL_CAUTION_SHORT
from workbench.plan import Plan
from workbench.site.order import BRACING_CAUTION, BRACING_RULES, BRACING_SOURCE, steps


def erection_pages(plan: Plan, paper: Paper) -> list[Page]:
    """The order of erection for this roof; none where nothing is framed."""
    if not plan.framing.members:
        return []
    blocks: list[Block] = [
        Boxed((Words(BRACING_CAUTION, 12.0, bold=True), Words(FALL_CAUTION_SHORT, LABEL, bold=True, after=0.0)), 2.0),
        Space(2.0),
        Words("Order", LARGE, bold=True, after=2.0),
    ]
    order = steps(plan.job, plan.framing, plan.site, plan.units)
    blocks += [Words(text, LABEL, tick=True, after=0.0) for text in order]
    head = f"Bracing until the sheets are nailed ({BRACING_SOURCE})"
    blocks += [Space(2.0), Words(head, LABEL, bold=True, after=2.0)]
    blocks += [Words(text, LABEL, lead="•", after=0.0) for text in BRACING_RULES]
    return flowed("Order of erection, bracing", "Tick off as it stands", blocks, paper)
