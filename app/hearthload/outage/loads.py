"""The load list: one line of figures for each appliance of a plan."""

from __future__ import annotations

from hearthload.domain.appliance import Cycling, Kind, UsePattern
from hearthload.domain.plan import Use
from hearthload.domain.units import HOURS_PER_DAY, MINUTES_PER_HOUR, WATTS_PER_KILOWATT
from hearthload.outage.answers import LoadInput, LoadLine, Note
from hearthload.outage.by_kind import row_for
from hearthload.outage.facts import Facts
from hearthload.outage.load_energy import Energy, daily_energy
from hearthload.outage.load_watts import (
    Origin,
    Start,
    Watts,
    average_watts,
    heater_of,
    start_of,
    times,
    watts_of,
)
from hearthload.outage.steps import Figure, Input, Step, chained

_HOT_OR_COLD = {Kind.CLIMATE, Kind.KITCHEN, Kind.BY_THE_LOAD}
_ON_END = {Kind.LAMP_TIMER, Kind.EVENING_ELECTRONICS, Kind.WORK_ELECTRONICS}
_ALWAYS_RUNNING = 0.95
"""From this share of time on a machine's run does not end within hours."""


def load_line(load: LoadInput, room_c: float | None, facts: Facts) -> LoadLine:
    """Work out one line: energy with its uncertainty, watts, apparent power, start, share of time running.

    `room_c` is the plan's room [°C], None for as measured; the load's own room comes before it.
    """
    watts = watts_of(load, facts)
    energy = daily_energy(load, watts, room_c, facts)
    q = load.quantity
    one = None if energy is None else Figure(energy.value_kwh, *energy.ends(), "kWh/d", energy.steps)
    watts = watts if one is None else average_watts(load, one, watts)
    running = watts.running
    start = None if running is None else start_of(load, running.value, facts)
    duty = None if one is None or running is None else duty_in_plan(one.value, running.value, watts.idle_w)
    heater_w = 0.0 if running is None else heater_of(load, facts)
    if running is not None and heater_w <= running.value:
        heater_w = 0.0
    return LoadLine(
        load=load,
        one_daily=one,
        daily=None if one is None else times(one, q, f"Energy a day together, {load.name}"),
        own_u_kwh=0.0 if energy is None else q * energy.own_u_kwh,
        gain_u_kwh=0.0 if energy is None else q * energy.gain_u_kwh,
        day_sd_kwh=0.0 if energy is None else q * energy.day_sd_kwh,
        running_w=None if running is None else times(running, q, f"Running watts together, {load.name}"),
        running_va=None if running is None or start is None else _running_va(load, running, start),
        idle_w=q * watts.idle_w,
        duty=duty,
        start_va=None if start is None else _start_va(load, start),
        each_running_va=None if start is None else start.running_va,
        each_start_va=None if start is None else start.start_va,
        start_s=0.0 if start is None else start.start_s,
        thermostatic=load.kind.use_pattern is UsePattern.THERMOSTATIC,
        run_h=_run_h(load, duty, facts),
        assumed=_is_assumed(energy, watts),
        notes=_notes(load, energy, watts, facts),
        heater_w=q * heater_w,
        use_h=_use_h(load, duty, facts),
        freedom=_freedom(load, energy),
        meter=load.measured.meter if load.measured and energy and energy.gain_u_kwh > 0.0 else "",
    )


def duty_in_plan(daily_kwh: float, running_w: float, idle_w: float) -> float:
    """Give D = (1000·e/24 − P_idle)/(P_on − P_idle) [1] from e [kWh/d], clipped to 0 to 1.

    What idles at its running watts is always running. A defrost heater's energy is in it, as if all of it
    went through the compressor.
    """
    if running_w <= idle_w:
        return 1.0 if running_w > 0.0 else 0.0
    average_w = daily_kwh * WATTS_PER_KILOWATT / HOURS_PER_DAY
    return min(max((average_w - idle_w) / (running_w - idle_w), 0.0), 1.0)


def _running_va(load: LoadInput, running: Figure, start: Start) -> Figure:
    """Give apparent power running of all of them; its ends follow the watts' own."""
    factor = start.running_va / running.value if running.value > 0.0 else 0.0
    low = None if running.low is None else running.low * factor
    high = None if running.high is None else running.high * factor
    one = Figure(start.running_va, low, high, "VA", chained(running.steps, start.steps[:1]))
    return times(one, load.quantity, f"Apparent power together, {load.name}")


def _start_va(load: LoadInput, start: Start) -> Figure:
    """Give the apparent power while one starts and its likes run: (q − 1)·S + m·S [VA]."""
    others = max(load.quantity - 1, 0)
    if others == 0:
        return Figure(start.start_va * load.quantity, None, None, "VA", start.steps)
    inputs = (
        Input("number of them", "q", float(load.quantity), ""),
        Input("apparent power running, of one", "S", start.running_va, "VA"),
        Input("start of one", "S_start", start.start_va, "VA"),
    )
    value = others * start.running_va + start.start_va
    quantity = f"Start of one while the others run, {load.name}"
    source = "sum, where starts do not coincide"
    step = Step(quantity, "(q − 1) · S + S_start", inputs, value, "VA", source, start.steps[-1].typical)
    return Figure(value, None, None, "VA", (*start.steps, step))


def _run_h(load: LoadInput, duty: float | None, facts: Facts) -> float:
    """Give the longest usual run [h]: the kind's, a mean run where that is longer, her hours if they are."""
    row = row_for(load.kind, load.cycling)
    usual = max(facts[row.run_h.key], min(facts[row.on_min.key] / MINUTES_PER_HOUR, HOURS_PER_DAY))
    if duty is not None and duty >= _ALWAYS_RUNNING:
        return HOURS_PER_DAY
    is_cold = load.kind.use_pattern is UsePattern.THERMOSTATIC
    if load.use is Use.HOURS_A_DAY and load.hours_a_day is not None and not is_cold:
        return max(usual, min(load.hours_a_day, HOURS_PER_DAY))
    return usual


def _use_h(load: LoadInput, duty: float | None, facts: Facts) -> float:
    """Give the hours of the day into which its use falls [h]: a stretch of running, or the hours of use.

    What is used some hours a day, a lamp or the evening's television, runs them on end; a kettle's uses are
    spread over the hours in which things are used. All else runs at any time.
    """
    if load.use is Use.HOURS_A_DAY and load.hours_a_day is not None:
        return min(max(load.hours_a_day, 0.0), HOURS_PER_DAY)
    if load.kind in _ON_END and duty is not None:
        return HOURS_PER_DAY * duty
    by_day = load.kind.use_pattern in {UsePattern.BY_THE_USE, UsePattern.SCHEDULED}
    return facts["use_window_h"] if by_day or load.use is Use.USES_A_DAY else HOURS_PER_DAY


def _is_assumed(energy: Energy | None, watts: Watts) -> bool:
    return (energy is not None and energy.assumed) or watts.origin is Origin.NAMEPLATE


def _watts_assumed(energy: Energy | None, watts: Watts) -> bool:
    from_assumed = watts.origin is Origin.AVERAGE and energy is not None and energy.assumed
    return watts.origin is Origin.NAMEPLATE or from_assumed


def _freedom(load: LoadInput, energy: Energy | None) -> float | None:
    if energy is None or energy.assumed or load.measured is None:
        return None
    return max(load.measured.freedom, 1.0)


def _notes(load: LoadInput, energy: Energy | None, watts: Watts, facts: Facts) -> tuple[Note, ...]:
    uses_measured = load.measured is not None and energy is not None and not energy.assumed
    poor = watts.running is not None and watts.running.value >= facts["poor_load_w"]
    told = {
        Note.NO_ENERGY: energy is None,
        Note.NO_WATTS: watts.running is None,
        Note.ASSUMED_ENERGY: energy is not None and energy.assumed,
        Note.ASSUMED_WATTS: _watts_assumed(energy, watts),
        Note.NOT_WELL_MEASURED: uses_measured
        and load.measured is not None
        and not load.measured.well_measured,
        Note.MEDICAL: load.medical,
        Note.HARD_WIRED: load.hard_wired,
        Note.DEFROST_HEATER: load.cycling is Cycling.FROST_FREE,
        Note.POOR_LOAD: poor and load.kind in _HOT_OR_COLD,
    }
    found = [note for note, holds in told.items() if holds]
    if energy is not None:
        found += [note for note in energy.notes if note not in found]
    return tuple(found)
