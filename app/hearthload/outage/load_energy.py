"""Energy a day of one appliance in a plan: measured, by hours, by uses, or assumed; its room, its season."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from hearthload.domain.appliance import Kind
from hearthload.domain.plan import Use
from hearthload.domain.units import HOURS_PER_DAY, WATTS_PER_KILOWATT
from hearthload.estimate.kinds import DEFAULTS, NORMAL_95
from hearthload.outage.answers import LoadInput, Measured, Note
from hearthload.outage.by_kind import row_for
from hearthload.outage.facts import Facts
from hearthload.outage.load_watts import Origin, Watts
from hearthload.outage.steps import Input, Step, chained

_IDLE_FLOOR_W, _IDLE_SHARE = 0.15, 0.05
"""Standard uncertainty of idle watts: 0.15 W + 5 %, as the estimator takes it for watts that were read."""

_STEEPEST = 30.0
"""Ends are not followed beyond this exponent: the uncertainty then says that nothing is known."""

GUM = "sum of independent parts, JCGM 100, 5.1.2"


@dataclass(frozen=True, slots=True)
class Energy:
    """One appliance's energy a day [kWh/d], its independent and its meter's standard uncertainty [kWh/d].

    `day_sd_kwh` is the scatter from day to day [kWh]. `typed_ends` are 95 % ends as typed in, which stand
    in place of computed ones. `settled`: she stated it for this plan, no other room changes it.
    """

    value_kwh: float
    own_u_kwh: float
    gain_u_kwh: float
    day_sd_kwh: float
    steps: tuple[Step, ...]
    assumed: bool
    settled: bool = False
    notes: tuple[Note, ...] = ()
    typed_ends: tuple[float, float] | None = None

    def ends(self) -> tuple[float, float]:
        """Give the 95 % ends [kWh/d]."""
        return self.typed_ends or ends(self.value_kwh, math.hypot(self.own_u_kwh, self.gain_u_kwh))

    def scaled(self, factor: float, more_u_kwh: float, step: Step, note: Note | None = None) -> Energy:
        """Multiply by a factor whose own uncertainty adds in quadrature, saying so in one more step."""
        typed = self.typed_ends if more_u_kwh == 0.0 else None
        return replace(
            self,
            value_kwh=factor * self.value_kwh,
            own_u_kwh=math.hypot(factor * self.own_u_kwh, more_u_kwh),
            gain_u_kwh=factor * self.gain_u_kwh,
            day_sd_kwh=factor * self.day_sd_kwh,
            steps=chained(self.steps, (step,)),
            notes=self.notes if note is None else (*self.notes, note),
            typed_ends=None if typed is None else (factor * typed[0], factor * typed[1]),
        )


def ends(value: float, u: float) -> tuple[float, float]:
    """Give 95 % ends v·exp(∓1.96·u/v) in the unit of v, from its standard uncertainty u.

    On the log scale, as the estimator's own intervals are: the low end never passes below zero, and for
    small u/v they are v ∓ 1.96·u. No t here: u comes from a posterior that is averaged over its scatter.
    """
    if value <= 0.0:
        return 0.0, NORMAL_95 * u
    reach = min(NORMAL_95 * u / value, _STEEPEST)
    return value * math.exp(-reach), value * math.exp(reach)


def daily_energy(load: LoadInput, watts: Watts, room_c: float | None, facts: Facts) -> Energy | None:
    """Give one appliance's energy a day in the plan, None where it can neither be known nor assumed.

    What was not measured is assumed from her own figure, from watts and usual hours, or from what is
    plausible for its kind. Then come another room's temperature, for cold appliances whose use she did not
    state, and the season's factor, for all that have one.
    """
    base = _base(load, watts, facts)
    if base is None:
        return None
    return _in_season(load, _in_room(load, base, room_c, facts))


def _base(load: LoadInput, watts: Watts, facts: Facts) -> Energy | None:
    if load.use is Use.HOURS_A_DAY:
        return _by_hours(load, watts, facts)
    if load.use is Use.USES_A_DAY:
        return _by_uses(load, watts, facts)
    if load.use is Use.AS_MEASURED and load.measured is not None:
        return _as_measured(load, load.measured)
    return _stated(load, facts) or _from_hours(load, watts, facts) or _plausible(load, facts)


def _independent(whole_u: float, gain_u: float) -> float:
    """Take the meter's share out of a standard uncertainty: √(u² − u_g²), not below zero."""
    return math.sqrt(max(whole_u**2 - gain_u**2, 0.0))


def _as_measured(load: LoadInput, measured: Measured) -> Energy:
    value = measured.daily_kwh
    gain_u = measured.gain * value
    inputs = (
        Input("standard uncertainty", "u", measured.u_kwh, "kWh/d"),
        Input("of it the meter's gain, relative", "g", measured.gain, ""),
    )
    step = Step(f"Energy a day, {load.name}", "e", inputs, value, "kWh/d", "measured", typical=False)
    own_u = _independent(measured.u_kwh, gain_u)
    return Energy(value, own_u, gain_u, measured.day_sd * value, (step,), assumed=False)


def _by_hours(load: LoadInput, watts: Watts, facts: Facts) -> Energy | None:
    """Give e = (P_on·h + P_idle·(24 − h))/1000 [kWh/d]; the hours are her plan, the watts have u."""
    if load.hours_a_day is None or watts.running is None:
        return None
    hours = min(max(load.hours_a_day, 0.0), HOURS_PER_DAY)
    step = _hours_step(load, watts, watts.running.value, hours, typical=False)
    on_kwh = watts.running.value * hours / WATTS_PER_KILOWATT
    measured = watts.origin in {Origin.MEASURED, Origin.AVERAGE}
    gain_u = on_kwh * load.measured.gain if measured and load.measured is not None else 0.0
    idle_u = _idle_u(watts.idle_w) * (HOURS_PER_DAY - hours) / WATTS_PER_KILOWATT
    own_u = math.hypot(_independent(watts.relative_u * on_kwh, gain_u), idle_u)
    scatter = facts["hours_scatter"] * on_kwh
    steps = chained(watts.running.steps, (step,))
    return Energy(step.value, own_u, gain_u, scatter, steps, not measured, settled=True)


def _hours_step(load: LoadInput, watts: Watts, running_w: float, hours: float, *, typical: bool) -> Step:
    inputs = (
        Input("watts while in use", "P_on", running_w, "W"),
        Input("hours a day", "h", hours, "h"),
        Input("watts idle", "P_idle", watts.idle_w, "W"),
    )
    value = (running_w * hours + watts.idle_w * (HOURS_PER_DAY - hours)) / WATTS_PER_KILOWATT
    equation = "e = (P_on · h + P_idle · (24 − h)) / 1000"
    return Step(f"Energy a day, {load.name}", equation, inputs, value, "kWh/d", "power times time", typical)


def _idle_u(idle_w: float) -> float:
    return _IDLE_FLOOR_W + _IDLE_SHARE * idle_w if idle_w > 0.0 else 0.0


def _by_uses(load: LoadInput, watts: Watts, facts: Facts) -> Energy | None:
    """Give e = n·e_use + e_standby [kWh/d]; uses differ, so that a day scatters by s·e_use·√n."""
    measured = load.measured
    if load.uses_a_day is None or measured is None or measured.use_kwh is None:
        return None
    uses = max(load.uses_a_day, 0.0)
    by_idle_kwh = HOURS_PER_DAY * watts.idle_w / WATTS_PER_KILOWATT
    standby = by_idle_kwh if measured.standby_kwh is None else measured.standby_kwh
    inputs = (
        Input("uses a day", "n", uses, "1/d"),
        Input("energy of one use", "e_use", measured.use_kwh, "kWh"),
        Input("standby", "e_standby", standby, "kWh/d"),
    )
    value = uses * measured.use_kwh + standby
    equation = "e = n · e_use + e_standby"
    quantity, source = f"Energy a day, {load.name}", "uses times energy"
    step = Step(quantity, equation, inputs, value, "kWh/d", source, typical=False)
    gain_u = measured.gain * uses * measured.use_kwh
    standby_w = standby * WATTS_PER_KILOWATT / HOURS_PER_DAY
    standby_u = _idle_u(standby_w) * HOURS_PER_DAY / WATTS_PER_KILOWATT
    own_u = math.hypot(_independent(uses * (measured.use_u_kwh or 0.0), gain_u), standby_u)
    scatter = facts["use_scatter"] * measured.use_kwh * math.sqrt(uses)
    return Energy(value, own_u, gain_u, scatter, (step,), assumed=False, settled=True)


def _stated(load: LoadInput, facts: Facts) -> Energy | None:
    """Take her own figure with its 95 % ends, u = (high − low)/3.92; an end left out is by a usual factor."""
    if load.daily_kwh is None:
        return None
    value, factor = load.daily_kwh, facts["own_factor"]
    low = value / factor if load.daily_low_kwh is None else load.daily_low_kwh
    high = value * factor if load.daily_high_kwh is None else load.daily_high_kwh
    return _assumed(load, value, (min(low, value), max(high, value)), "typed in", settled=True)


def _from_hours(load: LoadInput, watts: Watts, facts: Facts) -> Energy | None:
    """Give e from running watts and the kind's hours; ends from the hours' range and the watts' u.

    ln(high/e) = √(ln²(h_high/h) + (1.96·u)²), the low end alike.
    """
    if watts.running is None or watts.running.value <= 0.0:
        return None
    fact = row_for(load.kind, load.cycling).hours_a_day
    hours = facts[fact.key]
    typical = facts.typical(fact.key)
    step = _hours_step(load, watts, watts.running.value, hours, typical=typical)
    step = replace(step, source=f"power times usual hours ({facts.source(fact.key)})")
    reach = NORMAL_95 * watts.relative_u
    idle_kwh = HOURS_PER_DAY * watts.idle_w / WATTS_PER_KILOWATT
    down = math.hypot(_log_ratio(hours, fact.low), reach)
    up = math.hypot(_log_ratio(fact.high, hours), reach)
    low = max(step.value * math.exp(-down), min(idle_kwh, step.value))
    both = (low, step.value * math.exp(up))
    energy = _assumed(load, step.value, both, step.source, steps=chained(watts.running.steps, (step,)))
    return replace(energy, day_sd_kwh=DEFAULTS[load.kind].c0 * step.value)


def _log_ratio(upper: float, lower: float) -> float:
    """Give ln(upper/lower), 0 where she set a figure of her own outside the usual range or nothing runs."""
    return math.log(upper / lower) if upper > lower > 0.0 else 0.0


def _mean_over_middle(low: float, high: float) -> float:
    """Give mean over median, exp(s²/2) [1], of a log-normal range whose 95 % ends these are."""
    return math.exp(0.5 * (_log_ratio(high, low) / (2.0 * NORMAL_95)) ** 2)


def _plausible(load: LoadInput, facts: Facts) -> Energy | None:
    """Take what is plausible for the kind: the mean of the range, taken as log-normal, middle m to ends.

    e = m·exp(s²/2), s = ln(high/low)/3.92: sums of middles would fall short of the mean. Nothing is filled in
    for what is not sure.

    Nor for medical equipment: a concentrator takes fifty times what a monitor does.
    """
    if load.medical or load.kind is Kind.NOT_SURE:
        return None
    fact = row_for(load.kind, load.cycling).daily_kwh
    middle = facts[fact.key]
    both = (min(fact.low, middle), max(fact.high, middle))
    value = min(middle * _mean_over_middle(*both), both[1])
    return _assumed(load, value, both, f"plausible for its kind ({facts.source(fact.key)})")


def _assumed(
    load: LoadInput,
    value: float,
    both: tuple[float, float],
    source: str,
    *,
    settled: bool = False,
    steps: tuple[Step, ...] = (),
) -> Energy:
    u = (both[1] - both[0]) / (2.0 * NORMAL_95)
    inputs = (Input("at least", "e_low", both[0], "kWh/d"), Input("at most", "e_high", both[1], "kWh/d"))
    step = Step(f"Energy a day, {load.name}", "e", inputs, value, "kWh/d", source, typical=not settled)
    scatter = DEFAULTS[load.kind].c0 * value
    return Energy(
        value,
        u,
        0.0,
        scatter,
        steps or (step,),
        assumed=True,
        settled=settled,
        notes=(Note.ASSUMED_ENERGY,),
        typed_ends=both,
    )


def _in_room(load: LoadInput, energy: Energy, room_c: float | None, facts: Facts) -> Energy:
    """Step to another room: e·(1 + α)^(T − T_m), u grows by e·|T − T_m|·u_α; cold appliances only.

    It holds between 10 and 32 °C. No step is taken below 10 °C: T is held at 10 °C, or at T_m where that is
    lower still. Where the room while measuring was not noted, T_m is usual and its u goes in by e·α·u_T.
    A room under 10 °C is told whichever way the energy came about: there machines with a freezer may misrun.
    """
    row = row_for(load.kind, load.cycling)
    if row.alpha is None or row.u_alpha is None:
        return energy
    wanted = load.room_c if load.room_c is not None else room_c
    noted = None if load.measured is None or energy.assumed else load.measured.room_c
    note = _cold_note(wanted, noted, facts["coldest_room_c"])
    energy = energy if note is None else replace(energy, notes=(*energy.notes, note))
    if wanted is None or energy.settled or wanted == noted:
        return energy
    before = facts["measured_room_c"] if noted is None else noted
    coldest = facts["coldest_room_c"]
    after = max(wanted, min(coldest, before))
    alpha = facts[row.alpha.key]
    factor = (1.0 + alpha) ** (after - before)
    value = factor * energy.value_kwh
    room_u = facts["u_measured_room_c"] if noted is None and not energy.assumed else 0.0
    more_u = value * math.hypot(abs(after - before) * facts[row.u_alpha.key], math.log1p(alpha) * room_u)
    inputs = (
        Input("energy a day, before", "e", energy.value_kwh, "kWh/d"),
        Input("more for each kelvin", "α", alpha, "1/K"),
        Input("room in the plan", "T", after, "°C"),
        Input("room while measuring", "T_m", before, "°C"),
    )
    typical = facts.typical(row.alpha.key) or noted is None
    step = Step(
        f"Energy a day in another room, {load.name}",
        "E = e · (1 + α)^(T − T_m)",
        inputs,
        value,
        "kWh/d",
        facts.source(row.alpha.key),
        typical,
    )
    return energy.scaled(factor, more_u, step)


def _cold_note(wanted: float | None, noted: float | None, coldest: float) -> Note | None:
    """Say that the room in the outage is too cold [°C], or that it was while measuring."""
    room = noted if wanted is None else wanted
    if room is not None and room < coldest:
        return Note.TOO_COLD
    return Note.MEASURED_COLD if noted is not None and noted < coldest else None


def _in_season(load: LoadInput, energy: Energy) -> Energy:
    """Multiply by the season's factor k with its relative u_k; e·k, u grows by e·k·u_k.

    Only where she says so: a factor typed without its uncertainty takes the kind's seasonal scatter, by
    which the same appliance differs from season to season. Without a factor nothing is added.
    """
    if load.season_factor is None:
        return energy
    typed = load.season_factor_u
    relative = DEFAULTS[load.kind].u_season if typed is None else typed
    value = load.season_factor * energy.value_kwh
    inputs = (
        Input("energy a day, before", "e", energy.value_kwh, "kWh/d"),
        Input("times as much in this season", "k", load.season_factor, ""),
        Input("its relative standard uncertainty", "u_k", relative, ""),
    )
    quantity = f"Energy a day in this season, {load.name}"
    step = Step(quantity, "E = e · k", inputs, value, "kWh/d", "factor typed in", typed is None)
    return energy.scaled(load.season_factor, value * relative, step, Note.ANOTHER_SEASON)
