"""Hours by task: the table against its source, the estimator against scipy, times of day by hand."""

from __future__ import annotations

import math
from datetime import datetime, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats
from scipy.optimize import minimize_scalar
from scipy.special import huber

from workbench.errors import EditError, JobError
from workbench.job import edits
from workbench.job.hours import Actual, Hours, parse_steep, steep_words
from workbench.job.hours_edits import drop_logged, log_hours, set_hours
from workbench.job.model import Job
from workbench.job.read import parse_job
from workbench.job.write import dump_job
from workbench.plan import Plan, solve
from workbench.quantities.hours import after, clock_words, moment_words, plan_hours, rate_words, task_amount
from workbench.quantities.rates import HUBER, Z80, logged_rates, own_rate
from workbench.rules.hours import TASKS, hours_table, slope_factor

HOUSE = [(0.0, 0.0), (192.0, 0.0), (192.0, 144.0), (0.0, 144.0)]
TABLE = hours_table()
TAU, SIGMA = TABLE.crews_differ, TABLE.jobs_differ


@pytest.fixture(scope="module")
def plan() -> Plan:
    job, _ = edits.add_wing(Job(name="House"), HOUSE, ["eave", "rake", "eave", "rake"])
    return solve(job)


def hours_of(plan: Plan, job: Job | None = None):
    return plan_hours(job or plan.job, plan.roof.planes, plan.framing, plan.sheathing)


def test_laying_and_nailing_together_are_the_output_of_the_book() -> None:
    # From memory (annual US building cost-data book, 06 16 36): two carpenters, 8 h: 1/2 in 1,400 sq ft by hand,
    # 1,708 pneumatic; so 2.7 and 3.3 sheets of 32 sq ft a person-hour.
    for nailing, sqft, sheets in (("hand", 1400.0, 2.7), ("pneumatic", 1708.0, 3.3)):
        both = sum(TABLE.rate(task, 0.5, nailing).each for task in ("lay_sheets", "nail_off"))
        assert both == pytest.approx(16.0 / sqft)
        assert 1.0 / both / 32.0 == pytest.approx(sheets, abs=0.05)
    assert TABLE.rate("nail_off", 0.5, "pneumatic").each < TABLE.rate("nail_off", 0.5, "hand").each
    assert TABLE.rate("lay_sheets", 0.72, "hand").each > TABLE.rate("lay_sheets", 0.4375, "hand").each


def test_every_rate_names_its_source() -> None:
    for task in TASKS:
        rate = TABLE.rate(task, 0.4375, "hand")
        assert rate.each > 0.0 and ("from memory" in rate.source or "no source" in rate.source)
    assert "no source" in TABLE.crew_source and "no source" in TABLE.spread_source


def cost(mu: float, prior: float, ys: np.ndarray) -> float:
    return (mu - prior) ** 2 / (2.0 * TAU**2) + float(huber(HUBER, (ys - mu) / SIGMA).sum())


@given(st.floats(0.01, 10.0), st.lists(st.floats(0.001, 100.0), max_size=12))
@settings(max_examples=60, deadline=None)
def test_the_rate_is_the_least_of_the_stated_function(table: float, logged: list[float]) -> None:
    rate = own_rate(table, logged, TAU, SIGMA)
    ys, prior = np.log(np.array(logged)) if logged else np.array([]), math.log(table)
    ends = [prior, *ys.tolist()]
    found = minimize_scalar(
        cost, bounds=(min(ends) - 1.0, max(ends) + 1.0), args=(prior, ys), method="bounded", options={"xatol": 1e-9}
    )
    assert cost(math.log(rate.each), prior, ys) <= found.fun + 1e-7
    assert math.log(rate.each) == pytest.approx(found.x, abs=1e-4)


def test_figures_near_each_other_give_the_closed_form_of_two_normals() -> None:
    logged = [0.9, 1.0, 1.1]
    rate = own_rate(1.2, logged, TAU, SIGMA)
    # Normal prior, normal errors: precision-weighted mean (standard result; checked against numpy).
    weights = np.array([1.0 / TAU**2, *[1.0 / SIGMA**2] * 3])
    mean = np.average(np.log([1.2, *logged]), weights=weights)
    assert math.log(rate.each) == pytest.approx(mean, abs=1e-9)
    assert rate.spread == pytest.approx(weights.sum() ** -0.5)


def test_nothing_logged_is_the_table_and_many_jobs_have_their_own_way() -> None:
    assert own_rate(2.0, [], TAU, SIGMA).each == pytest.approx(2.0)
    assert own_rate(2.0, [], TAU, SIGMA).spread == pytest.approx(TAU)
    one, many = own_rate(2.0, [1.0], TAU, SIGMA), own_rate(2.0, [1.0] * 200, TAU, SIGMA)
    assert 1.0 < one.each < 2.0
    assert many.each == pytest.approx(1.0, rel=0.01)
    assert many.high / many.low < one.high / one.low


def test_one_odd_figure_moves_the_rate_by_a_limited_amount() -> None:
    steady = [1.0, 1.05, 0.95, 1.02]
    odd, odder = own_rate(1.0, [*steady, 20.0], TAU, SIGMA), own_rate(1.0, [*steady, 1e6], TAU, SIGMA)
    assert odd.each == pytest.approx(odder.each, rel=1e-6)
    assert odder.each < 1.15


def test_the_range_of_the_rate_holds_eight_crews_in_ten() -> None:
    draw = np.random.default_rng(7)
    held = 0
    for _ in range(1500):
        truth = TAU * draw.standard_normal()
        jobs = np.exp(truth + SIGMA * draw.standard_normal(draw.integers(0, 8)))
        rate = own_rate(1.0, jobs.tolist(), TAU, SIGMA)
        held += rate.low <= math.exp(truth) <= rate.high
    # Binomial: 1,500 draws at 0.8 have a standard deviation of 1 %.
    assert 0.76 <= held / 1500 <= 0.84
    assert pytest.approx(stats.norm.ppf(0.9)) == Z80


def test_amounts_are_those_of_the_plan(plan: Plan) -> None:
    by_task = {task: task_amount(task, plan.job, plan.roof.planes, plan.framing, plan.sheathing) for task in TASKS}
    assert by_task["cut_rafters"] == sum(member.count for member in plan.framing.members)
    assert by_task["fall_protection"] == 1.0
    # Two eaves of 16 ft, four rakes of 6 ft run at 7 in 12 (geometry).
    assert by_task["edge_metal"] == pytest.approx(2 * 16.0 + 4 * 6.0 * math.hypot(1.0, 7.0 / 12.0))
    assert by_task["tape"] == pytest.approx(sum(seam.length_in for seam in plan.sheathing.seams) / 12.0)


def test_hours_add_up_and_lie_in_their_range(plan: Plan) -> None:
    for crew in (1, 2, 3):
        hours = hours_of(plan, set_hours(plan.job, crew=crew))
        assert hours.hours == pytest.approx(sum(task.hours for task in hours.tasks))
        assert hours.low < hours.hours < hours.high
        for task in hours.tasks:
            assert task.low < task.hours < task.high
            assert task.trace.value == task.hours and task.trace.source
        # Independent errors partly cancel: the sum's range is narrower than the sum of ranges.
        assert hours.high - hours.low < sum(task.high - task.low for task in hours.tasks)
    alone = hours_of(plan, set_hours(plan.job, crew=1)).hours
    two = hours_of(plan, set_hours(plan.job, crew=2)).hours
    assert alone == pytest.approx(two * 2.0 * 1.25)


def test_a_logged_job_moves_only_its_own_task_and_crews_are_made_comparable(plan: Plan) -> None:
    slow = Actual(task="tape", amount=100.0, hours=4.0, crew=1)
    before, after_it = hours_of(plan), hours_of(plan, log_hours(plan.job, slow))
    for old, new in zip(before.tasks, after_it.tasks):
        assert (new.hours > old.hours) if new.task == "tape" else (new.hours == old.hours)
    tape = next(task for task in after_it.tasks if task.task == "tape")
    assert tape.rate.jobs == 1 and "1 logged job" in tape.trace.values
    # 4 h of one person at 1.25 is 3.2 person-hours of a crew of two.
    assert tape.rate.each == own_rate(TABLE.rate("tape", 0.4375, "hand").each, [0.032], TAU, SIGMA).each


def test_times_of_day_by_hand() -> None:
    hours = Hours(day_hours=8.0)
    friday = datetime(2026, 11, 27, 7, 0)
    assert after(friday, 3.5, hours) == datetime(2026, 11, 27, 10, 30)
    assert after(friday, 8.0, hours) == datetime(2026, 11, 27, 15, 0)
    assert after(friday, 9.0, hours) == datetime(2026, 11, 30, 8, 0)
    assert after(friday, 9.0, Hours(weekends=True)) == datetime(2026, 11, 28, 8, 0)
    assert after(datetime(2026, 11, 28, 7, 0), 1.0, hours) == datetime(2026, 11, 30, 8, 0)
    assert moment_words(datetime(2026, 11, 30, 8, 8)) == "Mon 2026-11-30, 08:15"
    assert (clock_words(9.26), clock_words(12.4)) == ("9.3 h", "12 h")


@given(
    st.floats(0.0, 400.0), st.floats(1.0, 16.0), st.booleans(), st.datetimes(datetime(2020, 1, 1), datetime(2030, 1, 1))
)
@settings(max_examples=60, deadline=None)
def test_no_hour_is_lost_between_start_and_end(clock: float, day: float, weekends: bool, begins: datetime) -> None:
    hours = Hours(day_hours=day, weekends=weekends)
    end = after(begins, clock, hours)
    first = begins
    while not weekends and first.weekday() >= 5:
        first += timedelta(days=1)
    worked = [first + timedelta(days=i) for i in range((end - first).days + 1)]
    worked = [moment for moment in worked if weekends or moment.weekday() < 5]
    full = (len(worked) - 1) * day + (end - worked[-1]) / timedelta(hours=1)
    assert full == pytest.approx(clock, abs=1e-3)


def test_a_start_gives_an_end_with_a_range(plan: Plan) -> None:
    assert hours_of(plan).ends is None
    hours = hours_of(plan, set_hours(plan.job, start="2026-11-30 07:00"))
    assert hours.begins < hours.ends_low <= hours.ends <= hours.ends_high


def test_what_can_not_be_read_is_one_sentence_and_the_rest_is_kept(plan: Plan) -> None:
    for start in ("tomorrow", "2026-13-01 07:00", "1066-10-14 09:00"):
        with pytest.raises(EditError, match="start"):
            set_hours(plan.job, start=start)
    with pytest.raises(EditError):
        log_hours(plan.job, Actual(task="tape", amount=0.0, hours=1.0))
    with pytest.raises(EditError):
        drop_logged(plan.job, 0)
    job = log_hours(plan.job, Actual(task="tape", amount=10.0, hours=1.0, date="today"))
    assert parse_job(dump_job(job), "job") == job
    assert drop_logged(job, 0) == plan.job
    with pytest.raises(JobError, match="hours"):
        parse_job(dump_job(job).replace(b'"task": "tape"', b'"task": "sing"'), "job")


def test_an_empty_job_takes_no_time() -> None:
    hours = hours_of(solve(Job()))
    assert (hours.tasks, hours.hours, hours.low, hours.high) == ((), 0.0, 0.0, 0.0)


@given(st.floats(0.5, 40.0))
def test_slope_factors_lie_straight_between_their_slopes(in_12: float) -> None:
    # numpy.interp is a general-purpose reference: straight between, level outside.
    factors = TABLE.steep.factors
    expected = np.interp(in_12, [f.slope_in_12 for f in factors], [f.factor for f in factors])
    assert slope_factor(in_12, factors) == pytest.approx(float(expected))
    assert slope_factor(in_12, ()) == 1.0


def test_steep_roofs_take_longer_up_there_and_only_there(plan: Plan) -> None:
    assert "no source" in TABLE.steep.source
    steep = solve(edits.set_wing(plan.job, "wing-1", slope_in_12=12.0))
    flat, high = ({task.task: task for task in hours_of(one).tasks} for one in (plan, steep))
    (seven,) = {round(plane.in_12, 9) for plane in plan.roof.planes}
    for task in TASKS:
        each = [found[task].hours / found[task].amount for found in (flat, high)]
        times = 1.75 / slope_factor(seven, TABLE.steep.factors) if task in TABLE.steep.tasks else 1.0
        assert each[1] == pytest.approx(each[0] * times)
        assert ("slope factor" in high[task].trace.formula) == (task in TABLE.steep.tasks)
    assert "1.75 for the slope" in high["lay_sheets"].trace.values
    own = set_hours(steep.job, steep=parse_steep("4: 1; 12: 3"))
    laid = next(task for task in hours_of(steep, own).tasks if task.task == "lay_sheets")
    assert laid.hours == pytest.approx(high["lay_sheets"].hours / 1.75 * 3.0)
    assert "the job's own factors" in laid.trace.source and "12: 3" in laid.trace.source


def test_what_was_logged_on_a_steep_roof_is_made_comparable(plan: Plan) -> None:
    each = TABLE.rate("tape", 0.4375, "pneumatic").each
    level = Actual(task="tape", amount=100.0, hours=50.0 * each)
    steep = Actual(task="tape", amount=100.0, hours=50.0 * each * 1.75, slope_in_12=12.0)
    for entry in (level, steep):
        (rate,) = logged_rates([entry], "tape", TABLE)
        assert rate == pytest.approx(each)


@pytest.mark.parametrize("text", ["steep", "8", "8: 0", "8:1.2, 9:1.3", "0: 1", "-4: 2", "8: nan"])
def test_slope_factors_that_can_not_be_read_are_one_sentence(text: str) -> None:
    with pytest.raises(JobError, match="write slope in 12 and factor"):
        parse_steep(text)


def test_slope_factors_are_typed_as_they_are_shown_and_kept_in_order(plan: Plan) -> None:
    assert parse_steep(steep_words(TABLE.steep.factors)) == TABLE.steep.factors
    assert parse_steep(" 8 in 12: 1.2 ; 12 × 2") == parse_steep("8: 1.2; 12: 2")
    assert parse_steep("") == ()
    with pytest.raises(EditError, match="put them in order"):
        set_hours(plan.job, steep=parse_steep("12: 2; 8: 1.2"))


def test_a_rate_says_how_sure_it_is_after_none_one_and_odd_entries(plan: Plan) -> None:
    each = TABLE.rate("tape", 0.4375, "pneumatic").each

    def tape(*times: float):
        log = tuple(Actual(task="tape", amount=100.0, hours=50.0 * each * t, slope_in_12=6.0) for t in times)
        found = hours_of(plan, set_hours(plan.job, log=log)).tasks
        return next(task for task in found if task.task == "tape")

    none, one, odd, many = tape(), tape(1.5), tape(1.5, 1.5, 20.0), tape(*[1.5] * 12)
    assert "by the table alone" in rate_words(none) and "by 1 logged job;" in rate_words(one)
    assert "with 80 % from" in rate_words(one) and "the table says" in rate_words(one)
    assert none.rate.each < one.rate.each < 1.5 * each
    assert none.rate.spread > one.rate.spread > many.rate.spread
    assert odd.rate.each < 2.0 * each  # twenty times as long moves it by little
    assert many.rate.each == pytest.approx(1.5 * each, rel=0.02)
    with pytest.raises(EditError, match="Hours has to be over 0"):
        log_hours(plan.job, Actual(task="tape", amount=100.0, hours=0.0))
