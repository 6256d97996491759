"""Energy per use against its closed form, worked out once more by hand."""

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
from hearthload.domain.meter import DisplayRounding
from hearthload.estimate.answers import PerUse
from hearthload.estimate.api import estimate
from hearthload.estimate.series import RunSeries, Series
from hearthload.estimate.spans import spans_of
from hearthload.estimate.uses import energy_per_use
from tests.estimate.measurements import every_morning, read

GAIN = 0.0075
STANDBY, U_STANDBY = 0.015, 0.020
WASHER = Kind.BY_THE_LOAD

Counts = Sequence[tuple[float, float, int | None]]
"""Days, displayed energy and counted uses of each reading."""


def series(readings: Counts, **noted: object) -> Series:
    snapshots = tuple(replace(read(day, energy), uses=uses) for day, energy, uses in readings)
    run = RunSeries(snapshots)
    return Series(WASHER, (replace(run, **noted),))  # type: ignore[arg-type]


def per_use(readings: Counts, **noted: object) -> PerUse:
    found = estimate(series(readings, **noted)).per_use
    assert found is not None
    return found


def by_hand(
    spans: Sequence[tuple[float, float, int]], standby: float, u_standby: float
) -> tuple[float, float]:
    """Give e and u from spans of days, energy and uses, step 0.01, as the method has them."""
    days, energy, uses = (sum(column) for column in zip(*spans, strict=True))
    e = (energy - standby * days) / uses
    busy = [span for span in spans if span[2]]
    squares = sum(
        max((d - e * n - standby * length) ** 2 - 0.01**2 / 6, 0.0) / (n * e**2) for length, d, n in busy
    )
    together = sum(n**2 for _, _, n in busy) / uses
    cv2 = (4 * (0.28**2 + 0.05**2 * together) + squares) / (4 + len(busy) - 1)
    display, rest = 0.01 / math.sqrt(6) / (uses * e), u_standby * days / (uses * e)
    return e, math.sqrt(cv2 / uses + display**2 + rest**2 + GAIN**2)


def test_without_idle_spans_the_standby_is_the_usual_one() -> None:
    found = per_use([(0, 5.0, None), (1, 6.0, 1), (3, 8.4, 2), (4, 9.1, 1)])
    e, u = by_hand([(1, 1.0, 1), (2, 2.4, 2), (1, 0.7, 1)], STANDBY, U_STANDBY)
    assert e == pytest.approx((4.1 - 0.015 * 4) / 4)
    reach = math.exp(student.ppf(0.975, 4 + 3 - 1) * u)
    assert found.energy_kwh.value == pytest.approx(e)
    assert found.energy_kwh.high == pytest.approx(e * reach, rel=1e-3)
    assert found.energy_kwh.low == pytest.approx(e / reach, rel=1e-3)
    assert (found.uses, found.uses_per_day, found.at_most) == (4, 1.0, False)
    assert found.standby_kwh == pytest.approx(STANDBY)


def test_spans_without_use_tell_the_standby() -> None:
    found = per_use([(0, 5.0, None), (10, 5.2, 0), (11, 6.22, 1), (12, 7.24, 1), (13, 8.26, 1)])
    # Ten idle days weigh 100/(q²/6), the usual 0.015 ± 0.020 weighs 1/0.020².
    idle, usual = 100 / (0.01**2 / 6), 1 / 0.020**2
    standby = (idle * 0.02 + usual * 0.015) / (idle + usual)
    e, u = by_hand([(10, 0.2, 0), *[(1, 1.02, 1)] * 3], standby, (idle + usual) ** -0.5)
    assert found.standby_kwh == pytest.approx(standby)
    assert found.energy_kwh.value == pytest.approx(e)
    assert found.energy_kwh.high / e == pytest.approx(math.exp(student.ppf(0.975, 6) * u), rel=1e-3)
    assert found.uses_per_day == pytest.approx(3 / 13)


def test_the_rest_of_a_use_is_no_standby() -> None:
    # The second idle span holds more than 1.5 · 0.02 kWh/d · 1 d + 2 · 0.01 kWh: something was still running.
    readings = [(0, 5.0, None), (10, 5.2, 0), (11, 6.22, 1), (12, 6.275, 0), (13, 7.54, 2)]
    idle, usual = 100 / (0.01**2 / 6), 1 / 0.020**2
    standby = (idle * 0.02 + usual * 0.015) / (idle + usual)
    found = per_use(readings)
    assert found.standby_kwh == pytest.approx(standby)
    assert found.energy_kwh.value == pytest.approx((2.54 - standby * 13) / 3)
    close = per_use([*readings[:3], (12, 6.265, 0), (13, 7.54, 2)])
    assert close.standby_kwh > found.standby_kwh


def test_where_no_span_is_idle_enough_the_standby_is_the_usual_one() -> None:
    found = per_use([(0, 5.0, None), (1, 5.21, 0), (2, 6.5, 3)])
    assert found.standby_kwh == pytest.approx(STANDBY)
    assert per_use([(0, 5.0, None), (1, 5.19, 0), (2, 6.5, 3)]).standby_kwh > 10 * STANDBY


def test_what_the_display_hides_since_an_exact_zero_is_added() -> None:
    readings = [(0, 0.0, None), (1, 1.0, 1), (2, 2.0, 1), (3, 3.0, 1)]
    plain, exact = per_use(readings), per_use(readings, exact_start=True)
    cut = per_use(readings, exact_start=True, rounding=DisplayRounding.TRUNCATES)
    assert exact.energy_kwh.value - plain.energy_kwh.value == pytest.approx(0.01 / 4 / 3)
    assert cut.energy_kwh.value - plain.energy_kwh.value == pytest.approx(0.01 / 2 / 3)


def test_the_meter_s_accuracy_is_in_the_interval() -> None:
    readings = [(0, 5.0, None), (1, 6.0, 1), (2, 7.1, 1), (3, 7.9, 1)]

    def u2(percent: float) -> float:
        found = per_use(readings, gain_percent=percent).energy_kwh
        return float((math.log(found.high / found.value) / student.ppf(0.975, 6)) ** 2)

    assert u2(30.0) - u2(0.0) == pytest.approx(0.30**2 / 3, rel=2e-3)


def test_only_counted_spans_are_reckoned_with() -> None:
    some = per_use([(0, 5.0, None), (1, 6.0, 1), (3, 17.0, None), (4, 18.0, 1), (5, 19.0, 1)])
    all_of_them = per_use([(0, 5.0, None), (1, 6.0, 1), (2, 7.0, 1), (3, 8.0, 1)])
    assert some.energy_kwh.value == pytest.approx(all_of_them.energy_kwh.value)
    assert (some.uses, some.uses_per_day) == (3, 1.0)


@pytest.mark.parametrize(("uses", "at_most"), [(1, True), (2, True), (3, False)])
def test_under_three_uses_it_is_at_most(uses: int, at_most: bool) -> None:
    assert per_use([(0, 5.0, None), (4, 6.0, uses)]).at_most is at_most


def test_none_where_no_use_was_counted() -> None:
    assert estimate(every_morning(WASHER, [0.0, 1.0, 2.0])).per_use is None
    assert estimate(series([(0, 1.0, 3), (1, 1.0, 0), (2, 1.02, 0)])).per_use is None
    assert energy_per_use(series([]), ()) is None


def test_the_first_reading_counts_no_uses() -> None:
    assert per_use([(0, 5.0, 9), (1, 6.0, 3)]).uses == 3


def test_more_standby_than_energy_leaves_half_a_step() -> None:
    found = per_use([(0, 5.0, None), (30, 5.0, 4)])
    assert found.energy_kwh.value == pytest.approx(0.01 / 2 / 4)
    assert 0.0 < found.energy_kwh.low < found.energy_kwh.value < found.energy_kwh.high


counted = st.lists(st.tuples(st.integers(30, 200), st.integers(1, 4)), min_size=3, max_size=9)


def rows(drawn: Sequence[tuple[int, int]]) -> list[tuple[float, float, int | None]]:
    energy = 5.0
    made: list[tuple[float, float, int | None]] = [(0.0, energy, None)]
    for day, (hundredths, uses) in enumerate(drawn, start=1):
        energy = round(energy + hundredths * uses / 100, 2)
        made.append((float(day), energy, uses))
    return made


@settings(max_examples=20)
@given(counted, st.randoms())
def test_neither_the_order_of_rows_nor_that_of_spans_matters(
    drawn: list[tuple[int, int]], chance: Random
) -> None:
    readings = rows(drawn)
    shuffled = list(readings)
    chance.shuffle(shuffled)
    assert per_use(shuffled) == per_use(readings)
    other = per_use(rows(drawn[::-1]))
    assert other.energy_kwh.value == pytest.approx(per_use(readings).energy_kwh.value)
    assert other.energy_kwh.high == pytest.approx(per_use(readings).energy_kwh.high)


@settings(max_examples=20)
@given(counted)
def test_it_is_energy_less_standby_over_uses_and_so_is_the_interval(drawn: list[tuple[int, int]]) -> None:
    found = per_use(rows(drawn))
    spans = [(1.0, hundredths * uses / 100, uses) for hundredths, uses in drawn]
    e, u = by_hand(spans, STANDBY, U_STANDBY)
    assert found.energy_kwh.value == pytest.approx(e)
    reach = math.exp(student.ppf(0.975, 3 + len(drawn)) * u)
    assert found.energy_kwh.high == pytest.approx(e * reach, rel=2e-3)
    assert found.energy_kwh.value**2 == pytest.approx(found.energy_kwh.low * found.energy_kwh.high)


def test_a_coarser_unit_of_both_energy_and_display_changes_nothing_but_the_unit() -> None:
    # Idle spans of such length leave nothing of the usual standby, which has a unit of its own.
    readings = [(0, 5.0, None), (4000, 5.0, 0), (4001, 6.0, 1), (4002, 7.3, 1), (4003, 8.2, 1)]
    fine = per_use(readings)
    thousandfold = series([(day, 1000.0 * energy, uses) for day, energy, uses in readings])
    run = replace(thousandfold.runs[0], energy_step_kwh=10.0)
    coarse = replace(thousandfold, runs=(run,))
    found = energy_per_use(coarse, spans_of(coarse))
    assert found is not None
    assert found.energy_kwh.value == pytest.approx(1000.0 * fine.energy_kwh.value, rel=0.01)
    assert found.energy_kwh.high == pytest.approx(1000.0 * fine.energy_kwh.high, rel=0.05)
