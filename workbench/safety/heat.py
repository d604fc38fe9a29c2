"""How hot a day on the roof is: the heat index with its class, and work and rest by a published schedule. Screening."""

from __future__ import annotations

from workbench.job.safety import Safety
from workbench.measure import Trace
from workbench.rules.site_work import HeatRule, heat_index_f, site_work
from workbench.safety.model import Heat, Turn


def heat(safety: Safety) -> Heat | None:
    """Heat index, work and rest of the day given, or None where no temperature and humidity are."""
    if safety.temperature_f is None or safety.humidity is None:
        return None
    rule = site_work().heat
    shade = heat_index_f(safety.temperature_f, safety.humidity)
    sun = shade + rule.sun_f
    in_shade, in_sun = rule.class_of(shade), rule.class_of(sun)
    trace = Trace(
        "heat index",
        shade,
        "ratio",
        "regression of the heat index on temperature and humidity, in the shade; full sun adds up to 15 °F",
        f"{safety.temperature_f:g} °F, {safety.humidity:g} % → {shade:.0f} °F; in the sun up to {sun:.0f} °F",
        f"{rule.source}; {rule.sun_source}",
    )
    turns, how = _turns(rule, safety.temperature_f, safety.humidity)
    return Heat(
        shade,
        sun,
        in_shade.name if in_shade else "",
        in_sun.name if in_sun else "",
        in_sun.advice if in_sun else "",
        turns,
        (trace, how),
    )


def _turns(rule: HeatRule, temperature_f: float, humidity: float) -> tuple[tuple[Turn, ...], Trace]:
    """Work and rest by kind of work, in full sun and in the shade."""
    turns = rule.turns
    shade = turns.adjusted_f(temperature_f, humidity)
    sun = shade + turns.sun_f
    found = tuple(Turn(work.name, work.at(sun), work.at(shade)) for work in turns.works)
    kinds = ", ".join(f"{work.name} as {work.kind} work" for work in turns.works)
    how = Trace(
        "temperature that work and rest go by",
        sun,
        "ratio",
        "air + what the humidity adds + 13 °F in full sun; minutes of work in the hour by the schedule",
        f"{temperature_f:g} °F {shade - temperature_f:+.3g} °F for {humidity:g} % = {shade:.0f} °F in the shade, "
        f"+ {turns.sun_f:g} = {sun:.0f} °F in full sun; {kinds}",
        f"{turns.source}; {turns.adjust_source}; {turns.works_source}",
    )
    return found, how
