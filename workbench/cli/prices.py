"""``prices``: the order list with the job's own prices; prices in and out as a table."""

from __future__ import annotations

import argparse
import json

from workbench.errors import EditError, JobError
from workbench.job.costs_edits import merge_prices
from workbench.job.read import read_job
from workbench.job.write import write_job
from workbench.plan import Plan, solve
from workbench.quantities.costing import Cost, cost, money
from workbench.quantities.hours import TaskHours, hours_words, plan_hours
from workbench.quantities.waste import waste_as_built

Json = dict[str, object]


def prices(arguments: argparse.Namespace) -> int:
    """Read a price list into the job where asked, write one out where asked, print the priced order list."""
    from workbench.exchange.price_list import read_prices, write_prices  # slow to import, so only where it is wanted

    job = read_job(arguments.job)
    if arguments.read is not None:
        found = read_prices(arguments.read)
        try:
            job = merge_prices(job, found)
        except EditError as error:
            raise JobError(str(error)) from None
        write_job(job, arguments.job)
    plan = solve(job, "full")
    if arguments.write is not None:
        write_prices(plan, arguments.write)
    print(json.dumps(prices_json(plan), ensure_ascii=False) if arguments.json else _text(plan))
    return 0


def prices_json(plan: Plan) -> Json:
    """The priced order list and what is left over, unrounded."""
    costing = cost(plan.quantities, plan.job.costs)
    hours = plan_hours(plan.job, plan.roof.planes, plan.framing, plan.sheathing)
    return {
        "lines": [_line_json(line) for line in costing.lines],
        "total": costing.total,
        "priced": costing.priced,
        "unpriced": costing.unpriced,
        "currency": costing.currency,
        "waste": [
            {
                "what": waste.what,
                f"bought_{waste.unit}": waste.bought,
                f"placed_{waste.unit}": waste.placed,
                f"left_{waste.unit}": waste.left,
            }
            for waste in waste_as_built(
                plan.quantities, plan.framing, plan.sheathing, plan.job.sheathing, plan.units, plan.cut
            )
        ],
        "hours": {
            "crew": hours.crew,
            "hours": hours.hours,
            "low": hours.low,
            "high": hours.high,
            "ends": None if hours.ends is None else hours.ends.isoformat(timespec="minutes"),
            "tasks": [_task_json(task) for task in hours.tasks],
        },
    }


def _task_json(task: TaskHours) -> Json:
    """A task with its range and its rate: person-hours for one unit, for a crew of two where one can walk."""
    rate = task.rate
    return {
        "task": task.task,
        "amount": task.amount,
        "unit": task.unit,
        "hours": task.hours,
        "low": task.low,
        "high": task.high,
        "rate": rate.each,
        "rate_low": rate.low,
        "rate_high": rate.high,
        "rate_table": rate.table,
        "logged": rate.jobs,
        "values": task.trace.values,
        "source": task.trace.source,
    }


def _line_json(line: Cost) -> Json:
    return {
        "code": line.quantity.code,
        "name": line.quantity.name,
        "amount": line.amount,
        "unit": line.unit,
        "price": line.price,
        "sum": line.total,
        "why": line.why,
    }


def _text(plan: Plan) -> str:
    costing = cost(plan.quantities, plan.job.costs)
    lines = [f"{_sum(line):>14}  {line.quantity.name}" for line in costing.lines]
    waste = waste_as_built(plan.quantities, plan.framing, plan.sheathing, plan.job.sheathing, plan.units, plan.cut)
    said = [f"Total: {costing.words()}", *(f"{w.what}: {w.trace.values}" for w in waste)]
    return "\n".join(
        [*lines, "", *said, hours_words(plan_hours(plan.job, plan.roof.planes, plan.framing, plan.sheathing))]
    )


def _sum(line: Cost) -> str:
    return line.why.partition(":")[0] if line.total is None else money(line.total)
