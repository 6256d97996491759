"""The door to the estimator: from a measurement's readings to what they say."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from hearthload.estimate.answers import Estimate, Interval
from hearthload.estimate.duty import duty_cycle
from hearthload.estimate.energy import EnergyModel, Fit
from hearthload.estimate.enough import HALF_DAY_S, judge
from hearthload.estimate.kinds import another_season, defaults_for, is_seasonal, target_for
from hearthload.estimate.oneday import one_day, varies_unusually
from hearthload.estimate.posterior import Posterior
from hearthload.estimate.predict import expected_energy_kwh
from hearthload.estimate.series import RunSeries, Series
from hearthload.estimate.spans import Span, ordered, spans_of
from hearthload.estimate.uses import energy_per_use

__all__ = ["estimate", "expected_energy_kwh", "first_readings", "trend"]


def estimate(series: Series, spans: tuple[Span, ...] | None = None) -> Estimate:
    """Say all that the readings of one measurement say; any series, also an empty one.

    `spans` are the series' spans where they are known already.
    """
    known = spans_of(series) if spans is None else spans
    return _Work(series, known).estimate(series, len(known))


def trend(series: Series, counts: Sequence[int]) -> list[Estimate]:
    """Give the estimate as it stood after the first `count` readings, for each of `counts`.

    Readings count in order of time within each run, run after run. Work on the covariances is shared.
    """
    spans = spans_of(series)
    work = _Work(series, spans)
    answers = []
    for count in counts:
        part = first_readings(series, count)
        part_spans = spans_of(part)
        if part_spans == spans[: len(part_spans)]:
            answers.append(work.estimate(part, len(part_spans)))
        else:
            answers.append(estimate(part))
    return answers


def first_readings(series: Series, count: int) -> Series:
    """Cut a series down to its first `count` readings in order of time."""
    runs: list[RunSeries] = []
    left = max(count, 0)
    for run in series.runs:
        kept = sorted(run.snapshots, key=lambda snapshot: snapshot.taken_at)[:left]
        runs.append(replace(run, snapshots=tuple(kept)))
        left -= len(kept)
    return replace(series, runs=tuple(runs))


class _Work:
    """One series' spans and what was worked out for leading parts of them."""

    __slots__ = ("_fits", "_intervals", "defaults", "model", "spans")

    def __init__(self, series: Series, spans: tuple[Span, ...]) -> None:
        self.spans = spans
        self.defaults = defaults_for(series.kind, series.running_w)
        self.model = EnergyModel(spans, self.defaults)
        self._fits: dict[int, Fit | None] = {}
        self._intervals: dict[int, Interval] = {}

    def fit(self, count: int) -> Fit | None:
        """Fit the average day to the first `count` spans."""
        if count not in self._fits:
            self._fits[count] = self.model.fit(count)
        return self._fits[count]

    def posterior(self, count: int) -> Posterior | None:
        """Give the posterior after the first `count` spans."""
        fit = self.fit(count)
        return None if fit is None else fit.posterior

    def interval(self, count: int) -> Interval | None:
        """Give the daily energy after the first `count` spans [kWh/d]."""
        posterior = self.posterior(count)
        if posterior is None:
            return None
        if count not in self._intervals:
            self._intervals[count] = posterior.daily_kwh()
        return self._intervals[count]

    def half_widths(self, count: int, goal: float) -> tuple[float, float]:
        """Give the half-width now and, where it matters, at a reading at least 12 h before."""
        interval = self.interval(count)
        now = math.inf if interval is None else interval.log_half_width
        if now > goal:
            return now, now
        latest = self.spans[count - 1].to_s - HALF_DAY_S
        before = max((at for at in range(1, count) if self.spans[at - 1].to_s <= latest), default=0)
        return now, self._half_width_before(before, count)

    def _half_width_before(self, before: int, count: int) -> float:
        """Give the half-width at an earlier reading [1]; what counts now is near enough to tell."""
        if before in self._fits:
            earlier = self._fits[before]
        else:
            earlier = self.model.fit_before(before, self.fit(count), count)
        return math.inf if earlier is None else earlier.posterior.log_half_width()

    def estimate(self, series: Series, count: int) -> Estimate:
        """Put the answer together for the part of the series with its first `count` spans."""
        spans = self.spans[:count]
        posterior = self.posterior(count)
        days = sum(span.days for span in spans)
        goal = math.log1p(target_for(series.kind, series.target))
        halves = self.half_widths(count, goal)
        return Estimate(
            readings=sum(len(ordered(run)) for run in series.runs),
            spans=count,
            days=days,
            daily_kwh=self.interval(count),
            total_per_day_kwh=sum(span.energy_kwh for span in spans) / days if spans else None,
            preliminary=count == 1,
            enough=judge(series, spans, self.defaults, posterior, halves),
            duty_cycle=None if posterior is None else duty_cycle(series, posterior),
            posterior=posterior,
            per_use=energy_per_use(series, spans),
            one_day=one_day(posterior) if posterior is not None and is_seasonal(series.kind) else None,
            season=another_season(self.defaults),
            unusual_scatter=posterior is not None and varies_unusually(posterior, self.defaults),
        )
