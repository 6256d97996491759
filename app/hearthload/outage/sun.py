"""The sun: peak sun hours, their shape over the day, what an array yields and how large it must be."""

from __future__ import annotations

import math
from functools import lru_cache

from hearthload.domain.plan import Plan
from hearthload.domain.supply import Chemistry
from hearthload.outage.battery import charge_terms
from hearthload.outage.facts import Facts
from hearthload.outage.steps import Figure, Input, Step, chained
from hearthload.outage.working import Term, of_steps, worked

_LOSSES = (
    ("sun_soiling", "L1"),
    ("sun_shading", "L2"),
    ("sun_snow", "L3"),
    ("sun_mismatch", "L4"),
    ("sun_wiring", "L5"),
    ("sun_connections", "L6"),
    ("sun_first_light", "L7"),
    ("sun_nameplate", "L8"),
    ("sun_ageing", "L9"),
    ("sun_availability", "L10"),
)
_STEPS_AN_HOUR = 4
_TEST_CELL_C = 25.0
_CLEAR = "clear sky of Ineichen and Perez, sun's place by pvlib, middle of the month"


@lru_cache(maxsize=128)
def _clear_day(
    latitude_deg: float, month: int, tilt_deg: float, azimuth_deg: float, turbidity: float
) -> tuple[tuple[float, ...], float]:
    """Give a clear day's sun in the plane by solar hours [kWh/m²] and the sine of the sun's height at noon.

    Clear sky of Ineichen and Perez 2002 with a fixed Linke turbidity, sky light after Hay and Davies, ground
    albedo 0.25; at longitude 0, so that clock and sun agree within a quarter of an hour.
    """
    import pandas as pd  # noqa: PLC0415 (slow to import)
    from pvlib import atmosphere, clearsky, irradiance, solarposition  # noqa: PLC0415 (slow to import)

    day = pd.Timestamp(2025, month, 15, tz="UTC")
    step_min = 60 // _STEPS_AN_HOUR
    times = pd.date_range(day, periods=24 * _STEPS_AN_HOUR, freq=f"{step_min}min") + pd.Timedelta(
        minutes=step_min / 2
    )
    sun = solarposition.get_solarposition(times, latitude_deg, 0.0)
    zenith = sun["apparent_zenith"]
    extra = float(irradiance.get_extra_radiation(day.day_of_year))
    mass = atmosphere.get_relative_airmass(zenith)
    sky = clearsky.ineichen(
        zenith, atmosphere.get_absolute_airmass(mass), turbidity, altitude=0, dni_extra=extra
    )
    plane = irradiance.get_total_irradiance(
        tilt_deg, azimuth_deg, zenith, sun["azimuth"], sky["dni"], sky["ghi"], sky["dhi"], extra,
        model="haydavies",
    )  # fmt: skip
    watts = plane["poa_global"].fillna(0.0).clip(lower=0.0).to_numpy()
    hours = watts.reshape(24, _STEPS_AN_HOUR).mean(axis=1) / 1000.0
    height = max(float(sun["apparent_elevation"].max()), 0.0)
    return tuple(float(hour) for hour in hours), math.sin(math.radians(height))


def _placed(
    latitude_deg: float, tilt_deg: float | None, azimuth_deg: float | None, facts: Facts
) -> tuple[float, float, float]:
    """Fill in where an array looks: latitude within ± 90°, tilted for winter, towards the equator."""
    latitude = min(max(latitude_deg, -90.0), 90.0)
    tilt = abs(latitude) + facts["sun_tilt_above_latitude"] if tilt_deg is None else tilt_deg
    azimuth = (180.0 if latitude >= 0.0 else 0.0) if azimuth_deg is None else azimuth_deg
    return latitude, min(max(tilt, 0.0), 90.0), azimuth % 360.0


def peak_sun_hours(
    plan: Plan, facts: Facts, tilt_deg: float | None = None, azimuth_deg: float | None = None
) -> Figure | None:
    """Give peak sun hours in the plane of the array in the plan's month [kWh/(m²·d)], None if unknown.

    As typed; else estimated from latitude and month with a wide range: PSH = H_c·(a + b·sin h), a clear day's
    sun times a share that grows with the sun's height at noon. It meets the usual worst-month bands (0.5-1.5
    at 50-60°, 1.5-3 at 40-50°, 3-4.5 at 25-40°, 4-5.5 below 25°) and knows nothing of the place's weather.
    """
    if plan.peak_sun_hours is not None:
        typed = Input("peak sun hours in this plan", "PSH", plan.peak_sun_hours, "kWh/(m²·d)")
        return of_steps(
            worked(
                facts, "Peak sun hours", "PSH", plan.peak_sun_hours, "kWh/(m²·d)", typed, source="typed in"
            )
        )
    if plan.latitude_deg is None:
        return None
    latitude, tilt, azimuth = _placed(plan.latitude_deg, tilt_deg, azimuth_deg, facts)
    hours, height = _clear_day(latitude, plan.month, tilt, azimuth, facts["sun_turbidity"])
    clear = _clear_step(latitude, tilt, azimuth, math.fsum(hours), facts)
    share = min(facts["sun_cloud_base"] + facts["sun_cloud_slope"] * height, 1.0)
    mean = worked(
        facts,
        "Peak sun hours, estimated",
        "PSH = H_c·(a + b·sin h), share at most 1",
        clear.value * share,
        "kWh/(m²·d)",
        Input("a clear day's sun in the plane", "H_c", clear.value, "kWh/(m²·d)"),
        Input("sine of the sun's height at noon", "sin h", height, ""),
        Term("sun_cloud_base", "a"),
        Term("sun_cloud_slope", "b"),
        Term("sun_estimate_spread", "±"),
    )
    spread = facts["sun_estimate_spread"]
    high = min(mean.value * (1.0 + spread), clear.value)
    return of_steps(clear, mean, low=mean.value * (1.0 - spread), high=high)


def sure_hours(psh: Figure, facts: Facts) -> Figure:
    """Give the sun hours to size by [kWh/(m²·d)]: the low end of an estimate, typed ones as they are."""
    if psh.low is None:
        return psh
    step = worked(
        facts,
        "Peak sun hours to size by: the low end of the estimate",
        "PSH_1 = PSH·(1 − s)",
        psh.low,
        "kWh/(m²·d)",
        Input("peak sun hours, estimated", "PSH", psh.value, "kWh/(m²·d)"),
        Term("sun_estimate_spread", "s"),
    )
    return Figure(psh.low, None, None, psh.unit, chained(psh.steps, (step,)))


def _clear_step(latitude: float, tilt: float, azimuth: float, value: float, facts: Facts) -> Step:
    return worked(
        facts,
        "A clear day's sun in the plane",
        "H_c = Σ clear-sky sun over the hours",
        value,
        "kWh/(m²·d)",
        Input("latitude", "φ", latitude, "°"),
        Input("tilt", "β", tilt, "°"),
        Input("azimuth (180 south)", "γ", azimuth, "°"),
        Term("sun_turbidity", "T_L"),
        source=_CLEAR,
    )


def hourly_sun(
    psh: float,
    latitude_deg: float,
    month: int,
    facts: Facts,
    *,
    tilt_deg: float | None = None,
    azimuth_deg: float | None = None,
) -> tuple[float, ...]:
    """Give the sun of each solar hour [kWh/m²]: a clear day's shape, scaled so that its sum is PSH."""
    latitude, tilt, azimuth = _placed(latitude_deg, tilt_deg, azimuth_deg, facts)
    hours, _ = _clear_day(latitude, month, tilt, azimuth, facts["sun_turbidity"])
    total = math.fsum(hours)
    return tuple(psh * hour / total for hour in hours) if total > 0.0 else (0.0,) * 24


def best_hours(plan: Plan, facts: Facts) -> tuple[float, float] | None:
    """Give the solar hours between which the middle half of a clear day's sun comes [h], None if unknown.

    From a quarter to three quarters of the day's sum in the plane in the plan's month, evenly within an hour;
    None without a latitude, and where the sun does not rise.
    """
    if plan.latitude_deg is None:
        return None
    hours = hourly_sun(1.0, plan.latitude_deg, plan.month, facts)
    if math.fsum(hours) <= 0.0:
        return None
    return _hour_of(hours, 0.25), _hour_of(hours, 0.75)


def _hour_of(hours: tuple[float, ...], share: float) -> float:
    """Give the hour by which a share of the whole has come; the hours add up to 1."""
    come = 0.0
    for hour, part in enumerate(hours):
        if part > 0.0 and come + part >= share:
            return hour + (share - come) / part
        come += part
    return float(len(hours))


def performance_ratio(chemistry: Chemistry, air_c: float, facts: Facts) -> Figure:
    """Give the share of an array's rated energy that comes back out of the battery [1].

    PR = (1 − L1)·(1 − L2)·…·f_T·η_ctrl·η_b, losses as in NREL/TP-6A20-62641; f_T = 1 − g·(T + ΔT − 25) with
    no credit for cold. The inverter is left out: its loss is in the energy that the battery must give.

    With an inverter of 0.9 behind it, lead-acid comes to 0.48 at 15 °C, a little below the 0.5 to 0.65 that
    are usual off grid. That is what its parts give: 0.859 for the losses, 0.932 for warm cells, 0.95, and
    0.70 back from the battery, the low end of the published 0.70 to 0.85. Controller, battery and inverter
    alone make 0.95·0.70·0.9 = 0.60, against 0.62 measured on a small lead-acid system (Murphy 2012). Usual
    ratios are higher because part of the sun reaches the loads past the battery; here all of it goes through,
    as in sizing the energy that the battery gives. It errs towards the larger array; 0.85 would give 0.58.
    """
    terms = [Term(key, symbol) for key, symbol in _LOSSES]
    panels = worked(
        facts,
        "What dirt, shade, wiring and the like leave",
        "f_L = (1 − L1)·(1 − L2)·…",
        math.prod(1.0 - facts[key] for key, _ in _LOSSES),
        "",
        *terms,
    )
    above_k = air_c + facts["sun_cell_above_air_k"] - _TEST_CELL_C
    heat = worked(
        facts,
        "What warm cells leave",
        "f_T = 1 − g·(T + ΔT − 25 °C), at most 1",
        min(max(1.0 - facts["sun_per_kelvin"] * above_k, 0.1), 1.0),
        "",
        Input("air outdoors", "T", air_c, "°C"),
        Term("sun_cell_above_air_k", "ΔT"),
        Term("sun_per_kelvin", "g"),
    )
    _, trip = charge_terms(chemistry)
    ratio = worked(
        facts,
        "Performance ratio, panels to battery and out again",
        "PR = f_L·f_T·η_ctrl·η_b",
        panels.value * heat.value * facts["sun_controller"] * facts[trip.key],
        "",
        Input("left by dirt, shade, wiring", "f_L", panels.value, ""),
        Input("left by warm cells", "f_T", heat.value, ""),
        Term("sun_controller", "η_ctrl"),
        trip,
    )
    return of_steps(panels, heat, ratio)


def array_watts(daily: Figure, psh: Figure, ratio: Figure, facts: Facts) -> Figure | None:
    """Give the array for a daily energy [kWh -> W]: P = 1000·E·A/(PSH·PR), None where there is no sun.

    Sun-hour method of IEEE 1562, A the array-to-load ratio; by the low end of sun hours that are estimated,
    as verdicts reckon, for an array by the middle falls short in half of the places.
    """
    sure = sure_hours(psh, facts)
    if sure.value <= 0.0 or ratio.value <= 0.0:
        return None
    step = worked(
        facts,
        "Array at standard test conditions",
        "P_stc = 1000·E_dc·A/(PSH·PR)",
        1000.0 * daily.value * facts["sun_array_to_load"] / (sure.value * ratio.value),
        "W",
        Input("energy from the battery a day", "E_dc", daily.value, "kWh/d"),
        Term("sun_array_to_load", "A"),
        Input(_hours_words(psh), "PSH", sure.value, "kWh/(m²·d)"),
        Input("performance ratio", "PR", ratio.value, ""),
    )
    return Figure(step.value, None, None, "W", chained(daily.steps, sure.steps, ratio.steps, (step,)))


def _hours_words(psh: Figure) -> str:
    return "peak sun hours" if psh.low is None else "peak sun hours, low end of the estimate"


def recharging_watts(daily: Figure, taken: Figure, psh: Figure, ratio: Figure, facts: Facts) -> Figure | None:
    """Give the array that carries a day's energy and fills the battery again in R days [W], None without sun.

    P = 1000·(E_day + E/R)/(PSH·PR), by the low end of sun hours that are estimated.
    """
    sure = sure_hours(psh, facts)
    if sure.value <= 0.0 or ratio.value <= 0.0:
        return None
    need_kwh = daily.value + taken.value / facts["sun_recharge_days"]
    step = worked(
        facts,
        "Array that also fills the battery again",
        "P_stc = 1000·(E_dc + E/R)/(PSH·PR)",
        1000.0 * need_kwh / (sure.value * ratio.value),
        "W",
        Input("energy from the battery a day", "E_dc", daily.value, "kWh/d"),
        Input("energy taken from the battery", "E", taken.value, "kWh"),
        Term("sun_recharge_days", "R"),
        Input(_hours_words(psh), "PSH", sure.value, "kWh/(m²·d)"),
        Input("performance ratio", "PR", ratio.value, ""),
    )
    return Figure(step.value, None, None, "W", chained(daily.steps, sure.steps, ratio.steps, (step,)))


def daily_yield(array_w: float, sun_hours: float, ratio: Figure, facts: Facts, most_w: float) -> Figure:
    """Give what an array brings through the battery on a day [kWh]: E = min(P, P_in)·PSH·PR/1000.

    IEC 61724-1's E = P·PSH·PR; where the battery takes no more than P_in watts from panels, this is the least
    that gets through: min(g·P, P_in) ≥ g·min(P, P_in) for any sun g up to full.
    """
    value = min(array_w, most_w) * ratio.value * sun_hours / 1000.0
    step = worked(
        facts,
        "What the array brings on a day",
        "E_sun = min(P_stc, P_in)·PSH·PR/1000",
        value,
        "kWh/d",
        Input("array at standard test conditions", "P_stc", array_w, "W"),
        Input("most that the battery takes from panels", "P_in", most_w, "W"),
        Input("peak sun hours of the day", "PSH", sun_hours, "kWh/(m²·d)"),
        Input("performance ratio", "PR", ratio.value, ""),
        source="IEC 61724-1",
    )
    return Figure(value, None, None, "kWh/d", chained(ratio.steps, (step,)))


def recharge_days(yield_kwh: float, daily_kwh: float, taken: Figure, facts: Facts) -> Figure | None:
    """Give the days to fill the battery again [d]: E/(E_sun − E_day), None where nothing is left over."""
    surplus = yield_kwh - daily_kwh
    if surplus <= 0.0:
        return None
    step = worked(
        facts,
        "Days of mean sun until the battery is full again",
        "n = E/(E_sun − E_dc)",
        taken.value / surplus,
        "d",
        Input("energy taken from the battery", "E", taken.value, "kWh"),
        Input("what the array brings on a day", "E_sun", yield_kwh, "kWh/d"),
        Input("energy from the battery a day", "E_dc", daily_kwh, "kWh/d"),
    )
    return of_steps(step)


def controller_current(array_w: float, battery_v: float, facts: Facts) -> Figure:
    """Give the current of the charge controller: I = 1.25·P_stc/V [A], after NEC 690.8."""
    step = worked(
        facts,
        "Current of the charge controller",
        "I = f·P_stc/V",
        facts["sun_controller_factor"] * array_w / battery_v,
        "A",
        Term("sun_controller_factor", "f"),
        Input("array at standard test conditions", "P_stc", array_w, "W"),
        Input("battery voltage", "V", battery_v, "V"),
    )
    return of_steps(step)
