"""What a cutter has to be told of a mark beside its cuts."""

from __future__ import annotations

from workbench.framing.model import RAFTER_KINDS, Member, MemberKind

_ON_EDGE: frozenset[MemberKind] = frozenset((*RAFTER_KINDS, "ridge_board", "purlin", "header"))
"""Kinds that stand on edge and carry: their crown goes up (common practice, no source)."""

_WHOLES: dict[MemberKind, str] = {
    "hip_rafter": "hip",
    "valley_rafter": "valley",
    "ridge_board": "ridge",
    "header": "header",
}


def notes_of(member: Member) -> list[str]:
    """Sentences for its card: crown, boards side by side."""
    said = ["Crown up."] if member.kind in _ON_EDGE else []
    if member.plies > 1:
        whole = _WHOLES.get(member.kind, "member")
        where = "; the joints of neighbours not at one place" if member.kind == "ridge_board" else ""
        said.append(
            f"{member.plies} plies side by side make one {whole}{where}: nail them together as the engineer or the "
            "table calls."
        )
    if member.high_face:
        said.append(f"The bevel takes the whole width; the {member.high_face} face keeps its height.")
    return said
