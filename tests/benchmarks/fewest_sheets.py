"""Fewest sheets: how many are found and proven, how soon, and what general-purpose packing makes of the same pieces.

Run it from the checkout: ``python tests/benchmarks/fewest_sheets.py [N]``. It takes the sample jobs and N generated
one-wing roofs (50 if not said: gables, sheds, hips, and L and T shapes with valleys, from about 10 to 250 pieces) and
prints a line for each: pieces, the quick plan, the full search, its bound, and processor seconds to the quick plan, to
the first list with the final count, and to the end. Beside them stand a plain first fit and, where it is installed,
rectpack (general-purpose rectangle packing, no turning, no kerf, every piece in its upright box) on the same pieces.
Timed, never asserted.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from workbench.job.edits import add_wing
from workbench.job.model import Heel, Job, Rafter
from workbench.job.read import read_job
from workbench.job.samples import sample_jobs
from workbench.plan import Plan, solve
from workbench.sheathing.optimise import Progress


@dataclass
class Figures:
    """What one job came to."""

    kind: str
    pieces: int
    live: int
    count: int
    at_least: int
    first_fit: int
    packed: int
    live_s: float
    first_s: float
    end_s: float


def generated(number: int) -> Iterator[tuple[str, Job]]:
    """One-wing roofs, the same ones every time."""
    draw = random.Random(11)
    kinds = ("gable", "hip", "shed", "gable", "hip", "cut-up")
    for i in range(number):
        kind = kinds[i % len(kinds)]
        width, depth = draw.randint(12, 62) * 12.0 + draw.choice([0.0, 4.0, 6.0]), draw.randint(10, 34) * 12.0
        slope, spacing = float(draw.randint(3, 10)), draw.choice([16.0, 24.0])
        outline = [(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)]
        edges = ["eave", "rake", "eave", "rake"]
        if kind == "shed":
            edges = ["eave", "rake", "wall", "rake"]
        elif kind == "hip":
            edges = ["eave"] * 4
        elif kind == "cut-up":
            a, b = width * draw.uniform(0.3, 0.6), depth * draw.uniform(0.4, 0.9)
            outline = [(0.0, 0.0), (width, 0.0), (width, depth), (a, depth), (a, depth + b), (0.0, depth + b)]
            if draw.random() < 0.5:
                c = (width - a) / 2.0
                outline = [*outline[:3], (c + a, depth), (c + a, depth + b), (c, depth + b), (c, depth), (0.0, depth)]
            edges = ["eave"] * len(outline)
        yield kind, roof(outline, edges, slope, spacing)


def roof(outline: list[tuple[float, float]], edges: list[str], slope: float, spacing: float) -> Job:
    """One wing."""
    job, _ = add_wing(
        Job(name="Generated"),
        outline,
        edges,  # type: ignore[arg-type]
        slope_in_12=slope,
        plate_in=97.125,
        eave_overhang_in=16.0,
        rake_overhang_in=12.0,
        rafter=Rafter(spacing_in=spacing),
        heel=Heel(given="seat", seat_in=2.0),
    )
    return job


def boxes_of(plan: Plan) -> list[tuple[float, float]]:
    """Upright boxes of all pieces, largest first."""
    pieces = [(piece.cut_length_in, piece.cut_width_in) for planes in plan.sheathing.planes for piece in planes.pieces]
    return sorted(pieces, key=lambda size: (-size[1], -size[0]))


def first_fit(boxes: list[tuple[float, float]]) -> int:
    """Shelves: each piece on the first shelf it fits, a new shelf in the first sheet with room, else a new sheet."""
    sheets: list[tuple[float, list[list[float]]]] = []
    for length, width in boxes:
        for i, (left, shelves) in enumerate(sheets):
            shelf = next((s for s in shelves if s[0] >= width - 1e-6 and s[1] >= length - 1e-6), None)
            if shelf is not None:
                shelf[1] -= length
                break
            if left >= width - 1e-6:
                shelves.append([width, 96.0 - length])
                sheets[i] = (left - width, shelves)
                break
        else:
            sheets.append((48.0 - width, [[width, 96.0 - length]]))
    return len(sheets)


def packed(boxes: list[tuple[float, float]]) -> int:
    """Sheets that rectpack takes, 0 where it is not installed."""
    try:
        import rectpack
    except ImportError:
        return 0
    packer = rectpack.newPacker(rotation=False)
    for length, width in boxes:
        packer.add_rect(round(length * 1024), min(round(width * 1024), 48 * 1024))
    packer.add_bin(96 * 1024, 48 * 1024, count=len(boxes))
    packer.pack()
    return len(packer)


def figures(kind: str, job: Job) -> Figures:
    """Quick and full plan of a job."""
    begun = time.process_time()
    live = solve(job)
    live_s = time.process_time() - begun
    seen: list[tuple[int, float]] = []

    def note(progress: Progress) -> bool:
        seen.append((progress.sheets, time.process_time() - begun))
        return True

    begun = time.process_time()
    plan = solve(job, "full", progress=note)
    end_s = time.process_time() - begun
    count = plan.sheathing.count
    first_s = next((at for sheets, at in seen if sheets == count), end_s)
    boxes = boxes_of(plan)
    return Figures(
        kind,
        len(boxes),
        live.sheathing.count,
        count,
        plan.sheathing.at_least,
        first_fit(boxes),
        packed(boxes),
        live_s,
        first_s,
        end_s,
    )


def told(rows: list[Figures], name: str, chosen: Callable[[Figures], bool]) -> str:
    """One closing line."""
    kept = [row for row in rows if chosen(row)]
    if not kept:
        return f"{name}: none"
    proven = sum(row.count == row.at_least for row in kept)
    gaps = [row.count - row.at_least for row in kept]
    shares = [gap / row.count for gap, row in zip(gaps, kept, strict=True)]
    sheets = [sum(getattr(row, key) for row in kept) for key in ("live", "count", "first_fit", "packed")]
    near = sum(gap <= 1 for gap in gaps)
    return (
        f"{name}: {len(kept)} jobs, proven {proven}, within one sheet {near}, worst gap {max(gaps)} "
        f"({100 * max(shares):.1f} %), mean gap {100 * sum(shares) / len(shares):.1f} %, "
        f"slowest {max(row.end_s for row in kept):.1f} s; "
        f"sheets in all: quick {sheets[0]}, full {sheets[1]}, first fit {sheets[2]}, rectpack {sheets[3]}"
    )


def main() -> None:
    """Print all figures."""
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 50
    jobs = [(f"sample {sample.name}", read_job(sample.path)) for sample in sample_jobs()] + list(generated(number))
    rows: list[Figures] = []
    sys.stdout.write(
        "job                  pieces  quick  full  at least  first fit  rectpack   s: quick  first    end\n"
    )
    for kind, job in jobs:
        row = figures(kind, job)
        rows.append(row)
        sys.stdout.write(
            f"{kind:<20} {row.pieces:>6} {row.live:>6} {row.count:>5} {row.at_least:>9} {row.first_fit:>10} "
            f"{row.packed:>9}   {row.live_s:>8.2f} {row.first_s:>6.2f} {row.end_s:>6.2f}\n"
        )
        sys.stdout.flush()
    for kind in ("sample", "gable", "shed", "hip", "cut-up"):
        sys.stdout.write(told(rows, kind, lambda row, kind=kind: row.kind.startswith(kind)) + "\n")
    sys.stdout.write(told(rows, "all", lambda row: True) + "\n")


if __name__ == "__main__":
    main()
