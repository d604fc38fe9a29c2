"""What choices buy: figures against plans laid out with these choices, and the best among all of them."""

from __future__ import annotations

import itertools

import pytest
from msgspec.structs import replace

from workbench.job.model import PlaneChoice, Sheathing
from workbench.sheathing.choices import best_for_me, saw_work, what_each_buys
from workbench.sheathing.solve import plan_sheathing


def houses(build):
    gable = build.gable(516.0, 213.0)
    hip = build.hip(360.0, 240.0, 0.5)
    return [(roof, build.framing(roof.planes)) for roof in (gable, hip)]


def test_no_set_of_choices_laid_out_by_hand_beats_the_best(build):
    for roof, frame in houses(build):
        found = best_for_me(roof, frame, Sheathing(), searched=0)
        assert found.finished
        assert found.best.key <= found.now.key
        for rip, split, stagger, start in itertools.product(
            ("bottom", "top", "both"), ("fewest", "halves"), (48.0, 24.0), ("left", "right")
        ):
            settings = Sheathing(rip=rip, split=split, stagger_in=stagger, start=start)
            plan = plan_sheathing(roof, frame, settings)
            broken = [f for f in plan.findings if f.severity != "note"]
            if not broken:
                assert (found.best.errors, found.best.warnings, found.best.sheets) <= (0, 0, plan.count)


def test_every_figure_is_that_of_the_plan_with_these_choices(build):
    roof, frame = houses(build)[0]
    found = best_for_me(roof, frame, Sheathing(), searched=0)
    for bought in (found.now, found.best, *found.others[:3]):
        plan = plan_sheathing(roof, frame, bought.settings)
        assert (plan.count, plan.at_least) == (bought.sheets, bought.at_least)
        assert saw_work(plan, bought.settings) == (bought.cuts, bought.sizes)


def test_saw_work_by_hand(build):
    # A plane one sheet long: a whole sheet and a rip of 24 in, on each of two planes: counted by hand.
    roof = build.gable(96.0, 72.125)
    plan = plan_sheathing(roof, build.framing(roof.planes), Sheathing())
    assert saw_work(plan, Sheathing()) == (2, 1)


def test_the_long_search_is_run_on_the_leading_sets_and_never_worse(build):
    roof, frame = houses(build)[1]
    quick = best_for_me(roof, frame, Sheathing(), searched=0)
    longer = best_for_me(roof, frame, Sheathing(), searched=1, limit_s=8.0)
    assert longer.best.searched
    assert longer.best.sheets <= quick.best.sheets
    assert longer.best.at_least >= quick.best.at_least


def test_it_can_be_stopped_and_says_so(build):
    roof, frame = houses(build)[0]
    told = []

    def stop(done, total):
        told.append((done, total))
        return len(told) < 3

    found = best_for_me(roof, frame, Sheathing(), progress=stop)
    assert not found.finished
    assert len(told) == 3
    assert found.best.key <= found.now.key


def test_each_choice_alone_keeps_the_others_and_the_planes_own(build):
    roof, frame = houses(build)[0]
    choice = (PlaneChoice(plane="main/back", rip="top"),)
    found = what_each_buys(roof, frame, Sheathing(), choice)
    assert set(found) == {"rip", "split", "stagger_in", "first_piece_in", "start"}
    for name, ways in found.items():
        values = [getattr(bought.settings, name) for bought in ways]
        assert len(set(values)) == len(values)
        for bought, value in zip(ways, values, strict=True):
            assert bought.settings == replace(Sheathing(), **{name: value})
            assert bought.changed == ((name,) if value != getattr(Sheathing(), name) else ())
            assert bought.sheets == plan_sheathing(roof, frame, bought.settings, choice).count


@pytest.mark.parametrize("spacing", [16.0, 24.0])
def test_runners_up_have_figures_of_their_own(build, spacing):
    roof, _ = houses(build)[0]
    found = best_for_me(roof, build.framing(roof.planes, spacing), Sheathing(), searched=0)
    figures = [bought.key[:-1] for bought in (found.best, *found.others)]
    assert figures == sorted(set(figures))
