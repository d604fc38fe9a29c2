"""The order of work: what goes on before what, where it laps, what it takes.

Edge metal at the eaves first, so that what comes after laps over it; then from the bottom up; edge metal at the rakes
over it; walls; the ridge slot stays open. Sources stand with the rules; the makers' instructions go first.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from workbench.drying_in.barrier import ice_material, ice_runs
from workbench.drying_in.lines import edge_runs, level_and_sloped, named, seam_runs, total
from workbench.drying_in.model import Barrier, Material, Run, Step, StepKind, TapeRolls
from workbench.drying_in.pieces import cut_pieces, pieces_trace
from workbench.drying_in.tape import tape_rolls
from workbench.drying_in.underlayment import Courses, courses, underlayment_material
from workbench.drying_in.words import run_words
from workbench.job.drying_in import Tape
from workbench.job.model import Job
from workbench.measure import Trace, Units
from workbench.roof.model import Roof
from workbench.rules.dry_in import dry_in_rules
from workbench.sheathing.model import SeamKind, SheathingPlan

_NOISE = 1e-6


@dataclass
class Order:
    """Works out the steps of one job, and gathers what they take.

    Attributes:
        job: The job.
        roof: All planes.
        sheathing: Its sheets, for the joints between them.
        barriers: The ice barrier by eave.
        units: How figures are shown.
    """

    job: Job
    roof: Roof
    sheathing: SheathingPlan
    barriers: tuple[Barrier, ...]
    units: Units

    def __post_init__(self) -> None:
        self.materials: list[Material] = []
        self.tapes: list[TapeRolls] = []
        self._steps: list[Step] = []

    def steps(self) -> tuple[Step, ...]:
        """All steps, numbered; ``materials`` are full after it."""
        tight = self._taped if self.job.drying_in.tight == "taped_panels" else self._underlayment
        parts: tuple[Callable[[], None], ...] = (
            self._eave_metal,
            self._ice,
            tight,
            self._valleys,
            self._walls,
            self._openings,
            self._rake_metal,
            self._slot,
        )
        for part in parts:
            part()
        return tuple(replace(step, number=n) for n, step in enumerate(self._steps, start=1))

    def _add(self, kind: StepKind, title: str, how: str, runs: Sequence[Run], bought: str, source: str) -> None:
        if runs:
            self._steps.append(Step(0, kind, title, how, tuple(runs), total(runs), bought, source))

    def _metal(self, code: str, name: str, runs: Sequence[Run]) -> str:
        """Buy edge metal for some runs; what it takes, in words."""
        if not runs:
            return ""
        drying, units = self.job.drying_in, self.units
        found = cut_pieces([run.length_in for run in runs], drying.metal_piece_in, drying.metal_lap_in)
        title = f"{name}, {units.length(drying.metal_piece_in)} pieces"
        trace = pieces_trace(name, named(runs), found, drying.metal_piece_in, drying.metal_lap_in, units)
        self.materials.append(Material(code, title, float(found.bought), "pieces", trace))
        return _pieces(found.bought, units.length(drying.metal_piece_in))

    def _eave_metal(self) -> None:
        rules, units, drying = dry_in_rules(), self.units, self.job.drying_in
        runs = edge_runs(self.roof, "eave")
        how = (
            f"Goes on first: what comes after laps over it. Lap {units.inches(drying.metal_lap_in)}, "
            f"{units.inches(drying.metal_up_in)} up on the deck, {units.inches(rules.edge_metal_down_in)} down "
            f"below it, fasteners {units.inches(rules.edge_metal_fasteners_in)} apart at most."
        )
        bought = self._metal("edge-metal-eaves", "edge metal, eaves", runs)
        self._add("eave_metal", "Edge metal at the eaves", how, runs, bought, rules.edge_metal_source)

    def _rake_metal(self) -> None:
        rules, units, drying = dry_in_rules(), self.units, self.job.drying_in
        runs = edge_runs(self.roof, "rake")
        under = "tape" if drying.tight == "taped_panels" else "underlayment"
        how = (
            f"Over the {under}, from the eave up, each piece {units.inches(drying.metal_lap_in)} over the one below "
            "it; at the corner over the eave's metal."
        )
        bought = self._metal("edge-metal-rakes", "edge metal, rakes", runs)
        self._add("rake_metal", "Edge metal at the rakes", how, runs, bought, rules.edge_metal_source)

    def _ice(self) -> None:
        ice, units = self.job.drying_in.ice, self.units
        runs = ice_runs(self.roof, self.barriers)
        if ice is None or not runs:
            return
        material = ice_material(ice, self.roof, self.barriers, units)
        if material is not None:
            self.materials.append(material)
        reach: dict[str, list[str]] = {}
        names = {plane.id: plane.name for plane in self.roof.planes}
        for barrier in self.barriers:
            many = "1 course" if barrier.courses == 1 else f"{barrier.courses} courses"
            reach.setdefault(f"at least {run_words(barrier.up_in, units)} up the slope, {many}", []).append(
                names[barrier.plane]
            )
        parts = "; ".join(f"{', '.join(planes)}: {how}" for how, planes in reach.items())
        laps = f"Lap courses {units.inches(ice.lap_in)}, ends {units.inches(ice.end_lap_in)}"
        how = f"Over the eave's metal. {parts}. {laps}."
        bought = "" if material is None else _rolls(round(material.amount))
        self._add("ice", "Ice barrier", how, runs, bought, dry_in_rules().ice_source)

    def _valleys(self) -> None:
        drying, units, rules = self.job.drying_in, self.units, dry_in_rules()
        runs = edge_runs(self.roof, "valley")
        if drying.valley == "none" or not runs:
            return
        words = {
            "open_metal": "open valley, metal",
            "open_roll": f"open valley of rolls: {units.inches(rules.valley_under_in)} below",
            "closed": "closed valley",
        }[drying.valley]
        name = f"valley lining, {units.inches(drying.valley_width_in)} wide"
        found = cut_pieces([run.length_in for run in runs], drying.valley_piece_in, drying.valley_lap_in)
        trace = pieces_trace(name, named(runs), found, drying.valley_piece_in, drying.valley_lap_in, units)
        title = f"{name}, {units.length(drying.valley_piece_in)} pieces"
        self.materials.append(Material("valley-lining", title, float(found.bought), "pieces", trace))
        how = (
            f"{words.capitalize()}, {units.inches(drying.valley_width_in)} wide, half each side, before the covering: "
            f"from the bottom up, upper pieces {units.inches(drying.valley_lap_in)} over lower ones, over the eave's "
            "metal at its foot."
        )
        bought = _pieces(found.bought, units.length(drying.valley_piece_in))
        self._add("valley", "Valley lining", how, runs, bought, rules.valley_source)

    def _taped(self) -> None:
        drying, rules = self.job.drying_in, dry_in_rules()
        lap = self.units.inches(drying.seam_tape.lap_in)
        upslope = seam_runs(self.roof, self.sheathing, "upslope")
        level = seam_runs(self.roof, self.sheathing, "level")
        wide: dict[SeamKind, list[Run]] = {kind: seam_runs(self.roof, self.sheathing, kind) for kind in _WIDE_SEAMS}
        if self.job.sheathing.ridge_slot_in > _NOISE:
            wide["ridge"] = []  # it stays open for the air
        bought = self._tape("seam-tape", "seam tape", drying.seam_tape, (("upslope", upslope), ("level", level)))
        how = f"The short ones first, from the bottom up; each runs {lap} past its ends. Then roll them down."
        self._add("upslope_tape", "Tape the up-slope joints", how, upslope, bought, rules.order_source)
        how = f"From the bottom up, over the ends of the short ones; new lengths lap {lap}. Then roll."
        self._add("level_tape", "Tape the level joints", how, level, "from the same rolls", rules.order_source)
        bought = self._tape("wide-tape", "wide tape", drying.wide_tape, list(wide.items()))
        lap = self.units.inches(drying.wide_tape.lap_in)
        hips = [*wide["valley"], *wide["hip"]]
        how = f"Valleys before hips, upper lengths {lap} over lower ones, half the width on each side. Then roll."
        self._add("hip_tape", "Tape valleys and hips", how, hips, bought, rules.order_source)
        how = "Last of the tape, over everything below. There is no slot at the ridge."
        self._add("ridge_tape", "Tape the ridges", how, wide["ridge"], "from the wide rolls", rules.order_source)

    def _tape(self, code: str, name: str, tape: Tape, parts: Sequence[tuple[SeamKind, Sequence[Run]]]) -> str:
        """Buy tape for seams of some kinds; what it takes, in words."""
        found = tape_rolls(code, name, tape, parts, self.units)
        if found is None:
            return ""
        self.tapes.append(found)
        self.materials.append(Material(code, found.title, float(found.rolls), "rolls", found.trace))
        return _rolls(found.rolls)

    def _underlayment(self) -> None:
        drying, units = self.job.drying_in, self.units
        found = courses(self.roof, drying, self.job.screening)
        names = {plane.id: plane.name for plane in self.roof.planes}
        material = underlayment_material(found, names, drying, units)
        if material is None:
            return
        self.materials.append(material)
        doubled = [names[each.plane] for each in found if each.doubled]
        lap = units.inches(drying.roll_lap_in)
        ends = units.inches(drying.roll_end_lap_in)
        how = f"From the eave up, over the eave's metal, courses lapped {lap}, ends {ends}."
        if doubled:
            exposed = units.inches(next(each.exposure_in for each in found if each.doubled))
            how += f" Doubled on {', '.join(doubled)}: a starter strip, then every course {exposed} further up."
        runs = [_course_run(self.roof, each) for each in found]
        bought = _rolls(round(material.amount))
        self._add("underlayment", "Underlayment", how, runs, bought, dry_in_rules().underlayment_source)

    def _walls(self) -> None:
        drying, units, rules = self.job.drying_in, self.units, dry_in_rules()
        level, sloped = level_and_sloped(self.roof, "wall")
        leg = units.inches(drying.flashing_in)
        bought: list[str] = []
        if level:
            found = cut_pieces([run.length_in for run in level], drying.flashing_piece_in, drying.flashing_lap_in)
            name = f"wall flashing, {leg} x {leg}"
            trace = pieces_trace(name, named(level), found, drying.flashing_piece_in, drying.flashing_lap_in, units)
            title = f"{name}, {units.length(drying.flashing_piece_in)} pieces"
            self.materials.append(Material("wall-flashing", title, float(found.bought), "pieces", trace))
            bought.append(_pieces(found.bought, units.length(drying.flashing_piece_in)))
        if sloped:
            bought.append(self._step_flashing(sloped, leg))
        least = units.inches(rules.flashing_least_in)
        taped = self.job.drying_in.tight == "taped_panels"
        turned = "Tape turned up the wall first, then the flashing. " if taped else ""
        how = (
            f"{turned}At least {least} up the wall and {least} out on the deck. Along level walls over the covering's "
            "top course; up sloping walls one piece a course, each over the one below. The wall's own barrier laps "
            "over all of it."
        )
        self._add("wall", "Roof to wall", how, [*level, *sloped], " and ".join(bought), rules.flashing_source)

    def _step_flashing(self, sloped: Sequence[Run], leg: str) -> str:
        drying, units = self.job.drying_in, self.units
        counts = [math.ceil(run.length_in / drying.course_in - _NOISE) + 1 for run in sloped]
        parts = ", ".join(
            f"{run.name} {units.length(run.length_in)}: {n}" for run, n in zip(sloped, counts, strict=True)
        )
        trace = Trace(
            "step flashing",
            float(sum(counts)),
            "count",
            "length up the wall / exposure of a course, and one more at the top",
            f"{parts}; a course shows {units.inches(drying.course_in)} → {sum(counts)}",
            dry_in_rules().practice_source,
        )
        name = f"step flashing, {leg} x {leg}"
        self.materials.append(Material("step-flashing", name, float(sum(counts)), "pieces", trace))
        return f"{sum(counts)} step pieces"

    def _openings(self) -> None:
        """Round skylights and chimneys: their own flashing, by their maker."""
        runs: list[Run] = []
        for plane in self.roof.planes:
            for edge in plane.all_edges:
                if edge.opening is not None:
                    name = f"{edge.opening} in {plane.name}"
                    runs.append(Run(plane.id, name, edge.start, edge.end, edge.length_in))
        how = (
            "Below it first, then the sides, then above, each over the one before; the flashing kit and its maker's "
            "instructions go first. Behind a chimney a cricket or a pan leads the water round."
        )
        self._add(
            "opening", "Round openings", how, runs, "flashing kits, by their makers", dry_in_rules().practice_source
        )

    def _slot(self) -> None:
        slot, units = self.job.sheathing.ridge_slot_in, self.units
        runs = edge_runs(self.roof, "ridge")
        if slot <= _NOISE:
            return
        how = (
            f"{units.inches(slot)} on each side, measured up the slope, stays open: no tape, no underlayment over it "
            "until the ridge vent goes on; cover it against rain till then."
        )
        self._add("ridge_slot", "Ridge slot", how, runs, "", dry_in_rules().practice_source)


_WIDE_SEAMS: tuple[SeamKind, ...] = ("valley", "hip", "wall", "ridge")


def _course_run(roof: Roof, found: Courses) -> Run:
    """A plane's courses as one line along its foot, as long as all of them together."""
    plane = roof.plane(found.plane)
    start, end = plane.to_space(plane.polygon[0]), plane.to_space(plane.polygon[1])
    return Run(plane.id, f"{plane.name}, {found.count} courses", start, end, found.length_in)


def _pieces(count: int, length: str) -> str:
    return f"{count} {'piece' if count == 1 else 'pieces'} of {length}"


def _rolls(count: int) -> str:
    return f"{count} {'roll' if count == 1 else 'rolls'}"
