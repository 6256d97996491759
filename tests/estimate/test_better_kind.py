"""Which kind the readings speak for: evidence by hand for one span, and clear cases."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta, timezone
from itertools import accumulate

import numpy as np
import pytest

from hearthload.domain.appliance import Kind
from hearthload.estimate.better_kind import CLEARLY, better_kind, log_evidence
from hearthload.estimate.kinds import DEFAULTS
from hearthload.estimate.series import RunSeries, Series, Snapshot
from hearthload.estimate.spans import Span, spans_of
from tests.estimate.measurements import every_morning, series_of
from tests.estimate.reference import TABLE, memory, profile, scatter_prior, weekend_contrast

MONDAY_D = 4.0 + 7.0 / 24.0  # `MONDAY` at 7:00 as a local wall day: 1970-01-05 was a Monday too


def spans(steps_kwh: Sequence[float], step_kwh: float = 0.01) -> tuple[Span, ...]:
    energies = [round(kwh, 6) for kwh in accumulate(steps_kwh, initial=20.0 * step_kwh / 0.01)]
    return spans_of(every_morning(Kind.NOT_SURE, energies, step_kwh))


CALM = (0.24, 0.25, 0.24, 0.24, 0.25, 0.24, 0.24, 0.24)
WILD = (0.0, 2.6, 0.0, 0.0, 1.4, 0.0, 3.9, 0.0)
BUSY_WEEK = (0.9, 1.0, 0.95, 1.05, 0.0, 0.0, 0.9, 1.0, 1.0, 0.9, 1.0, 0.0, 0.0, 0.95)


@pytest.mark.parametrize("kind", Kind)
@pytest.mark.parametrize(("days", "energy", "step"), [(1.0, 1.3, 0.01), (3.25, 0.4, 0.1)])
def test_the_evidence_of_one_span(kind: Kind, days: float, energy: float, step: float) -> None:
    """One span: N(ln d/T; ln m0, v + ms²)/T in each node, v = (c²g_τ + kd²b + kw²w² + q²/6μ0²)/T²."""
    row = TABLE[kind]
    w = weekend_contrast(MONDAY_D, MONDAY_D + days)
    length = days + row.weekend * w
    rate = energy / length
    a = row.ms**2 / (row.ms**2 + math.log(1.0 + (2.0 * row.c0**2 + 0.02 * row.kw**2) / length))
    pivot = rate**a * row.m0_kwh ** (1.0 - a)
    fixed = row.kd**2 * profile(days, row.profile) + row.kw**2 * w**2 + step**2 / 6.0 / pivot**2
    total = weights = 0.0
    for p, tau in zip(row.p_tau, (0.0, 0.9, 4.0, 8.0), strict=True):
        for z in (-4.0 + 0.75 * at for at in range(13)):
            c = row.c0 * math.exp(row.s_c * z)
            spread = min((c**2 * memory(days, tau) + fixed) / length**2, 9.0) + row.ms**2
            weight = p * scatter_prior(z, row)
            off = math.log(rate / row.m0_kwh)
            total += weight * math.exp(-0.5 * off**2 / spread) / math.sqrt(2.0 * math.pi * spread)
            weights += weight
    made = spans_of(series_of(kind, [(0, 2.0), (days, 2.0 + energy)], step_kwh=step))
    assert log_evidence(made, DEFAULTS[kind]) == pytest.approx(math.log(total / weights / length), abs=1e-6)


@pytest.mark.parametrize("kind", Kind)
@pytest.mark.parametrize("unit", [0.01, 1000.0])
def test_another_unit_of_energy_moves_the_evidence_of_all_kinds_alike(kind: Kind, unit: float) -> None:
    """In a smaller unit the density of n energies is less by n - 1 times its size; the level has none."""
    steps = (1.0, 1.2, 0.9, 1.1, 1.05)
    defaults = DEFAULTS[kind]
    one = log_evidence(spans(steps), defaults)
    in_unit = replace(defaults, m0_kwh=unit * defaults.m0_kwh)
    other = log_evidence(spans([unit * kwh for kwh in steps], unit * 0.01), in_unit)
    assert other == pytest.approx(one - (len(steps) - 1) * math.log(unit), abs=1e-4)


def test_a_calm_load_is_not_a_washing_machine() -> None:
    assert better_kind(spans(CALM), Kind.BY_THE_LOAD) is Kind.ALWAYS_ON
    assert better_kind(spans(CALM), Kind.ALWAYS_ON) is None


def test_a_wild_load_is_not_always_on() -> None:
    better = better_kind(spans(WILD), Kind.ALWAYS_ON)
    assert better in {Kind.BY_THE_LOAD, Kind.PUMP}
    assert better_kind(spans(WILD), Kind.BY_THE_LOAD) is None


def test_a_free_weekend_speaks_for_work() -> None:
    assert better_kind(spans(BUSY_WEEK), Kind.REFRIGERATOR) is Kind.WORK_ELECTRONICS


@pytest.mark.parametrize("kind", Kind)
def test_two_spans_are_too_few(kind: Kind) -> None:
    assert better_kind(spans((0.0, 9.0)), kind) is None
    assert better_kind((), kind) is None


@pytest.mark.parametrize("steps", [CALM, WILD, BUSY_WEEK, (1.0, 1.1, 0.9, 1.0), (5.0, 9.0, 7.0, 2.0, 8.0)])
def test_another_kind_is_offered_when_it_is_twenty_times_as_likely(steps: tuple[float, ...]) -> None:
    made = spans(steps)
    evidence = {kind: log_evidence(made, DEFAULTS[kind]) for kind in Kind}
    best = max(evidence, key=lambda kind: evidence[kind])
    assert pytest.approx(math.log(20.0)) == CLEARLY
    for kind in Kind:
        offered = better_kind(made, kind)
        clear = evidence[best] > evidence[kind] + math.log(20.0)
        assert offered == (best if clear else None)
        if offered is not None:
            assert better_kind(made, offered) is None


def test_a_refrigerator_is_seldom_taken_for_something_else() -> None:
    offered = 0
    for seed in range(40):
        rng = np.random.default_rng(seed)
        steps = np.round(1.0 + rng.normal(0.0, 0.1, 10), 2).tolist()
        offered += better_kind(spans(steps), Kind.REFRIGERATOR) is not None
    assert offered <= 1


def test_half_an_hour_over_the_change_of_the_clocks_is_no_trouble() -> None:
    # 1:58 and then 3:02, four minutes later: on the wall an hour of a Sunday has gone by.
    winter, summer = (timezone(timedelta(hours=hours)) for hours in (1, 2))
    moments = [
        datetime(2026, 3, 29, 1, 50, tzinfo=winter),
        datetime(2026, 3, 29, 1, 58, tzinfo=winter),
        datetime(2026, 3, 29, 3, 2, tzinfo=summer),
        datetime(2026, 3, 29, 3, 9, tzinfo=summer),
    ]
    run = RunSeries(tuple(Snapshot(at, 1.0 + 0.01 * number) for number, at in enumerate(moments)))
    for kind in Kind:
        assert math.isfinite(log_evidence(spans_of(Series(kind, (run,))), DEFAULTS[kind]))
