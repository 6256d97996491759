"""The day that counted uses make: its closed form by hand, what must narrow it, and how often it holds."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import t as student

from hearthload.domain.appliance import Kind
from hearthload.estimate.answers import Interval, PerUse
from hearthload.estimate.series import RunSeries, Series
from hearthload.estimate.spans import spans_of
from hearthload.estimate.uses import energy_per_use
from hearthload.estimate.uses_a_day import EachUse, daily_by_uses, interval_around, likely_rate
from tests.estimate.measurements import read

Counts = Sequence[tuple[float, float, int | None]]
"""Days since a Monday at seven, displayed energy and counted uses of each reading."""


def per_use(readings: Counts, step_kwh: float = 0.01) -> PerUse:
    snapshots = tuple(replace(read(day, energy), uses=uses) for day, energy, uses in readings)
    series = Series(Kind.BY_THE_LOAD, (RunSeries(snapshots, step_kwh),))
    found = energy_per_use(series, spans_of(series))
    assert found is not None
    return found


def a_day(found: PerUse) -> Interval:
    assert found.daily_kwh is not None
    return found.daily_kwh


def test_the_likely_rate_by_hand() -> None:
    # 8 uses in 4 days, a weekend day too many: 1/8 + (0.5·1/4)² + 0.01/16 = 0.14125; the usual has 0.64.
    rate, u = likely_rate(8, 4.0, 1.0)
    counted, usual = 1 / 0.14125, 1 / 0.64
    assert u == pytest.approx((counted + usual) ** -0.5)
    assert rate == pytest.approx(
        math.exp((counted * math.log(2) + usual * math.log(0.6)) / (counted + usual))
    )
    assert 0.6 < rate < 2.0


def test_the_usual_rate_stays_what_it_is() -> None:
    assert likely_rate(6, 10.0, 0.0)[0] == pytest.approx(0.6)


def test_the_day_by_hand() -> None:
    # 2 uses a day of 0.5 kWh are 1 kWh; its parts are 0.1, 0.2 and, of the standby, 0.05 kWh.
    found = daily_by_uses(EachUse(0.5, 0.1, 5.0), (2.0, 0.2), (0.25, 0.05))
    u = math.sqrt(0.1**2 + 0.2**2 + 0.05**2) / 1.25
    # Welch and Satterthwaite: u⁴/(u_e⁴/ν), u_e = 0.1/1.25.
    freedom = u**4 / ((0.1 / 1.25) ** 4 / 5.0)
    assert found.value == pytest.approx(1.25)
    assert math.log(found.high / 1.25) == pytest.approx(student.ppf(0.975, freedom) * u, rel=1e-3)
    assert found.low * found.high == pytest.approx(1.25**2)


def test_from_readings_to_the_day_by_hand() -> None:
    # From Monday to Friday morning no weekend: w = −4·2/7 d. 4 uses in 4 days.
    found = per_use([(0, 5.0, None), (1, 6.0, 1), (3, 8.4, 2), (4, 9.1, 1)])
    rate, u_rate = likely_rate(4, 4.0, -8 / 7)
    e = (4.1 - 0.015 * 4) / 4
    assert found.likely_rate == pytest.approx(rate)
    assert a_day(found).value == pytest.approx(e * rate + 0.015)
    u_e = found.energy_kwh.log_half_width / student.ppf(0.975, 6)
    by_hand = daily_by_uses(EachUse(e, u_e, 6.0), (rate, u_rate), (0.015, 0.020))
    assert a_day(found).high == pytest.approx(by_hand.high, rel=1e-3)


def test_only_counted_spans_make_the_rate_and_its_weekend() -> None:
    # Counted from Monday to Friday only; the weekend in between was not.
    week = [(0, 5.0, None), (4, 9.0, 4), (7, 20.0, None)]
    assert per_use(week).likely_rate == pytest.approx(likely_rate(4, 4.0, -8 / 7)[0])


@pytest.mark.parametrize(("uses", "told"), [(1, False), (2, False), (3, True)])
def test_there_is_a_day_from_three_uses_on(uses: int, told: bool) -> None:
    found = per_use([(0, 5.0, None), (4, 6.0, uses)])
    assert (found.daily_kwh is not None) is told
    assert (found.likely_rate is not None) is told


def week(
    drawn: Sequence[tuple[int, int]], weeks: int, scale: float = 1.0
) -> list[tuple[float, float, int | None]]:
    made: list[tuple[float, float, int | None]] = [(0.0, 0.0, None)]
    total = 0
    for day, (hundredths, uses) in enumerate(list(drawn) * weeks, start=1):
        total += hundredths * uses
        made.append((float(day), scale * total / 100.0, uses))
    return made


weeks = st.lists(st.tuples(st.integers(30, 200), st.integers(1, 4)), min_size=7, max_size=7)


@settings(max_examples=40)
@given(weeks, st.integers(1, 4), st.integers(1, 4))
def test_more_such_weeks_make_it_narrower(drawn: list[tuple[int, int]], some: int, more: int) -> None:
    short, long = (a_day(per_use(week(drawn, count))) for count in (some, some + more))
    assert long.log_half_width < short.log_half_width


@settings(max_examples=40)
@given(weeks, st.integers(1, 3), st.sampled_from([2.0, 1000.0]))
def test_another_unit_of_energy_is_another_unit_of_the_day(
    drawn: list[tuple[int, int]], count: int, scale: float
) -> None:
    plain, other = per_use(week(drawn, count)), per_use(week(drawn, count, scale), 0.01 * scale)
    # Standby has a unit of its own; what is beyond it scales with the energies.
    beyond = [a_day(found).value - found.standby_kwh for found in (plain, other)]
    days = sum(uses for _, uses in drawn) / 7
    left = [found.energy_kwh.value + found.standby_kwh / days for found in (plain, other)]
    assert left[1] == pytest.approx(scale * left[0])
    assert beyond[1] / other.energy_kwh.value == pytest.approx(beyond[0] / plain.energy_kwh.value)


def test_no_energy_at_all_in_long_days_is_still_a_figure() -> None:
    found = per_use([(0, 5.0, None), (900, 5.0, 4)])
    for ends in (found.energy_kwh, a_day(found)):
        assert 0.0 < ends.low < ends.value < ends.high < math.inf
    assert interval_around(1.0, 1e9, 6.0).high < math.inf


def made_up(chance: Random) -> tuple[float, list[tuple[float, float, int | None]]]:
    """Give the true average day and the readings of two or three weeks.

    Uses come by themselves at 0.4 to 3 a day and are of uneven energy; the display cuts off, the meter errs.
    """
    rate = math.exp(chance.uniform(math.log(0.4), math.log(3.0)))
    each, standby = chance.uniform(0.2, 1.5), chance.uniform(0.0, 0.03)
    gain = 1.0 + chance.uniform(-0.013, 0.013)
    energy, following = chance.random(), chance.expovariate(rate)
    readings: list[tuple[float, float, int | None]] = [(0.0, shown(gain * energy), None)]
    for day in range(1, chance.choice((14, 21)) + 1):
        uses = 0
        while following < day:
            uses += 1
            energy += each * chance.lognormvariate(-0.5 * 0.25**2, 0.25)
            following += chance.expovariate(rate)
        energy += standby
        readings.append((float(day), shown(gain * energy), uses))
    return each * rate + standby, readings


def shown(energy_kwh: float) -> float:
    return math.floor(100.0 * energy_kwh) / 100.0


def test_it_holds_the_true_day_about_as_often_as_it_says() -> None:
    chance = Random(20260302)
    inside = told = 0
    while told < 400:
        truth, readings = made_up(chance)
        found = per_use(readings)
        if found.daily_kwh is not None:
            told += 1
            inside += found.daily_kwh.low <= truth <= found.daily_kwh.high
    assert 0.88 * told <= inside <= 0.995 * told
