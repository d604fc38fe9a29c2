"""The boards of a job for ``solve --json`` and for the terminal."""

from __future__ import annotations

from workbench.measure import Units
from workbench.quantities.lumber_lines import board_lines
from workbench.quantities.lumber_model import LumberPlan

Json = dict[str, object]


def lumber_json(lumber: LumberPlan) -> Json:
    """Sections with their boards; inches, unrounded."""
    return {
        "kerf_in": lumber.kerf_in,
        "proven": lumber.proven,
        "sections": [
            {
                "section": section.section,
                "lumber": section.name,
                "boards": section.boards,
                "bought_in": section.bought_in,
                "at_least_in": section.at_least_in,
                "proven": section.proven,
                "cut": [
                    {
                        "boards": batch.count,
                        "stock_in": batch.stock_in,
                        "left_in": batch.left_in,
                        "pieces": [{"mark": p.mark, "hand": p.hand, "length_in": p.length_in} for p in batch.pieces],
                    }
                    for batch in section.batches
                ],
            }
            for section in lumber.sections
        ],
    }


def lumber_text(lumber: LumberPlan, units: Units) -> str:
    """The cutting list for the terminal."""
    lines: list[str] = []
    for section in lumber.sections:
        least = "fewest proven" if section.proven else f"at least {units.length(section.at_least_in)}"
        lines.append(f"{section.name}: {section.boards} boards, {units.length(section.bought_in)} ({least})")
        lines += [f"  {x.count} of {units.length(x.stock_in)}: {x.text}" for x in board_lines(section)]
    return "\n".join(lines)
