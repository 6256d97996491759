"""The method of the estimator's page once more: slow, plain and apart from the program.

Written from sections 1 to 3 of that page alone. Every reading is a point, D is the matrix of differences
over the spans that exist, each node solves its own dense system, and the quantiles are roots found by
bracketing. Of the program it takes the values that a measurement is made of, and nothing that reckons.

Where the page leaves a choice open: the first pass's x is energy over time and the second's is the first
pass's weighted mean on the log scale; a generalised mean of nothing or less is lifted to q/2T as x is;
meter and display are the same in all runs.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import accumulate

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import brentq
from scipy.stats import norm

from hearthload.domain.appliance import Kind
from hearthload.domain.meter import DisplayRounding
from hearthload.estimate.series import RunSeries, Series, Snapshot

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Row:
    """One row of the page's table of defaults."""

    c0: float
    s_c: float
    p_tau: tuple[float, float, float, float]
    kd: float
    kw: float
    m0_kwh: float
    ms: float
    profile: str
    u_season: float
    target: float
    weekend: float = 0.0
    clockwork: float = 0.0


# The table and the targets as they stand on the page (sections 2 and 3), but for what calibration bettered:
# s_c of cold appliances (0.45) and c0 of freezers (0.075), lamps of which nearly half run by a clock (s_c
# 0.90 and none), the weekend of work-hours electronics (kw 0.90 around none), a memory of 8 days of weather.
TABLE = {
    Kind.REFRIGERATOR: Row(0.10, 0.40, (0.30, 0.40, 0.30, 0.0), 0.08, 0.04, 1.0, 1.0, "smooth", 0.15, 0.10),
    Kind.FREEZER: Row(0.07, 0.40, (0.30, 0.40, 0.30, 0.0), 0.06, 0.03, 0.8, 1.0, "smooth", 0.15, 0.10),
    Kind.CLIMATE: Row(0.45, 0.55, (0.10, 0.30, 0.35, 0.25), 0.15, 0.10, 3.0, 1.3, "smooth", 0.6, 0.30),
    Kind.ALWAYS_ON: Row(0.012, 0.70, (0.15, 0.25, 0.60, 0.0), 0.02, 0.01, 0.25, 1.2, "smooth", 0.02, 0.05),
    Kind.BY_THE_LOAD: Row(1.6, 0.45, (1.0, 0.0, 0.0, 0.0), 0.60, 0.40, 0.4, 1.0, "rough", 0.15, 0.30),
    Kind.LAMP_TIMER: Row(
        0.25, 0.75, (0.85, 0.15, 0.0, 0.0), 1.10, 0.15, 0.15, 1.2, "smooth", 0.25, 0.20, clockwork=0.45
    ),
    Kind.EVENING_ELECTRONICS: Row(
        0.55, 0.50, (0.85, 0.15, 0.0, 0.0), 0.80, 0.40, 0.3, 1.2, "smooth", 0.15, 0.20
    ),
    Kind.WORK_ELECTRONICS: Row(
        0.50, 0.50, (0.75, 0.20, 0.05, 0.0), 0.90, 0.61, 0.5, 1.0, "smooth", 0.2, 0.30, weekend=-0.70
    ),
    Kind.KITCHEN: Row(0.45, 0.45, (0.75, 0.20, 0.05, 0.0), 0.50, 0.25, 0.25, 1.2, "rough", 0.2, 0.30),
    Kind.PUMP: Row(1.2, 0.50, (0.05, 0.35, 0.60, 0.0), 0.20, 0.0, 0.5, 1.3, "smooth", 0.6, 0.30),
    Kind.NOT_SURE: Row(0.30, 0.90, (0.45, 0.35, 0.20, 0.0), 0.50, 0.30, 0.4, 1.5, "smooth", 0.25, 0.30),
}


@dataclass(frozen=True)
class Readings:
    """A measurement as vectors and matrices; D has a row for each span and a column for each reading.

    `days` allow for the weekend that the kind is expected to have, `measured_d` is their plain sum.
    """

    differences: Floats
    clock_d: Floats
    wall_d: Floats
    days: Floats
    measured_d: float
    energy_kwh: Floats
    display_kwh2: Floats
    step_kwh: float
    gain: float

    @property
    def floor_kwh(self) -> float:
        """Give q/2T, the least that a daily energy is taken for [kWh/d]."""
        return self.step_kwh / (2.0 * float(self.days.sum()))


@dataclass(frozen=True)
class Trial:
    """One node before the fit: the log of its prior weight, c, τ, and its C."""

    log_prior: float
    c: float
    tau_d: float
    scatter: Floats


@dataclass(frozen=True)
class Fit:
    """One node's fit: log weight, log μ̂, v."""

    log_weight: float
    log_mean: float
    v: float


@dataclass(frozen=True)
class Node:
    """One node's answer: its weight, the mean and variance of log μ, and what it stands for."""

    weight: float
    mean_log: float
    variance: float
    c: float
    tau_d: float


def lay_out(series: Series) -> Readings:
    """Lay the runs out one after another, with no row of D across a reset or a swap of meters."""
    runs = [sorted(run.snapshots, key=lambda one: one.taken_at) for run in series.runs]
    points = [snapshot for snapshots in runs for snapshot in snapshots]
    firsts = [0, *accumulate(len(snapshots) for snapshots in runs)][:-1]
    ends = [at for at in range(1, len(points)) if at not in firsts]
    differences = np.zeros((len(ends), len(points)))
    for row, at in enumerate(ends):
        differences[row, at - 1], differences[row, at] = -1.0, 1.0
    meter = series.runs[0]
    shown = [
        hidden(run, at)
        for run, snapshots in zip(series.runs, runs, strict=True)
        for at in range(len(snapshots))
    ]
    energy = np.array([one.energy_kwh + more for one, (more, _) in zip(points, shown, strict=True)])
    plain = [time_base_d(points[at - 1], points[at], meter.elapsed_step_h) for at in ends]
    display = differences @ np.diag([u2 for _, u2 in shown]) @ differences.T
    percent = meter.gain_percent
    gain = 0.0075 if percent is None else percent / 100.0 / math.sqrt(3.0)
    clock, wall = np.array([moments_d(point) for point in points]).T
    k, w = row_for(series).weekend, weekends(wall, differences).tolist()
    rested = [
        min(max(t + k * one, 0.9 * (1.0 + k * 5.0 / 7.0) * t), 1.1 * (1.0 - k * 2.0 / 7.0) * t)
        for t, one in zip(plain, w, strict=True)
    ]
    days = np.array(rested)
    step = meter.energy_step_kwh
    return Readings(differences, clock, wall, days, sum(plain), differences @ energy, display, step, gain)


def moments_d(snapshot: Snapshot) -> tuple[float, float]:
    """Give a reading's moment in days of the world's clock and in days of the wall clock, since 1970."""
    utc_s = snapshot.taken_at.timestamp()
    offset = snapshot.taken_at.utcoffset()
    assert offset is not None
    return utc_s / 86400.0, (utc_s + offset.total_seconds()) / 86400.0


def hidden(run: RunSeries, at: int) -> tuple[float, float]:
    """Give what the display hides of reading number `at` on average, and its variance."""
    square = run.energy_step_kwh**2 / 12.0
    if not run.exact_start:
        return 0.0, square
    if at == 0:
        return 0.0, 0.0
    if run.rounding is DisplayRounding.UNKNOWN:
        return run.energy_step_kwh / 4.0, 1.75 * square
    return (run.energy_step_kwh / 2.0 if run.rounding is DisplayRounding.TRUNCATES else 0.0), square


def time_base_d(before: Snapshot, after: Snapshot, step_h: float) -> float:
    """Give a span's time [d]: the meter's hours where typed and consistent with the clock, else the clock."""
    clock_h = (after.taken_at - before.taken_at).total_seconds() / 3600.0
    if before.elapsed_h is not None and after.elapsed_h is not None:
        elapsed_h = after.elapsed_h - before.elapsed_h
        if elapsed_h > 0.0 and abs(elapsed_h - clock_h) <= step_h + 0.10 + 0.0005 * clock_h:
            return elapsed_h / 24.0
    return clock_h / 24.0


def memory(lag_d: float, tau_d: float) -> float:
    """Give g_τ(h) as it stands on the page."""
    if tau_d == 0.0:
        return abs(lag_d)

    def f(x: float) -> float:
        return 2.0 * tau_d**2 * (x / tau_d - 1.0 + math.exp(-x / tau_d))

    return f(abs(lag_d)) / f(1.0)


def profile(lag_d: float, shape: str) -> float:
    """Give b(h) as it stands on the page."""
    r = lag_d - math.floor(lag_d)
    return 4.0 * r**2 * (1.0 - r) ** 2 if shape == "smooth" else r * (1.0 - r)


def over_spans(variance: Callable[[float], float], moments: Floats, differences: Floats) -> Floats:
    """Give D[G]: with G the variance of an increment, −½ D G D' is the covariance of the increments."""
    table = np.array([[variance(float(a - b)) for b in moments] for a in moments])
    covariance: Floats = -0.5 * differences @ table @ differences.T
    return covariance


def weekend_contrast(start_d: float, end_d: float) -> float:
    """Give ∫ (1[weekend] − 2/7) dt, weekend by weekend; 1970-01-01 was a Thursday."""
    weekend = 0.0
    saturday = 7.0 * math.floor((start_d - 2.0) / 7.0) + 2.0
    while saturday < end_d:
        weekend += max(0.0, min(end_d, saturday + 2.0) - max(start_d, saturday))
        saturday += 7.0
    return weekend - 2.0 / 7.0 * (end_d - start_d)


def student_3(z: float) -> float:
    """Give Student's density with three degrees of freedom, but for its constant."""
    return 1.0 / (1.0 + z**2 / 3.0) ** 2


def scatter_prior(z: float, row: Row) -> float:
    """Give the density of z; a share of some kinds runs by a clock, c 1.5 % give or take e^(0.6·s_c)."""
    clock = (z - math.log(0.015 / row.c0) / row.s_c) / 0.6
    return (1.0 - row.clockwork) * student_3(z) + row.clockwork * student_3(clock) / 0.6


def log_normal(at: float, mean: float, variance: float) -> float:
    """Give the log of the normal density, but for its constant."""
    return -0.5 * (math.log(variance) + (at - mean) ** 2 / variance)


def weekends(wall_d: Floats, differences: Floats) -> Floats:
    """Give every span's w = ∫ (1[weekend] − 2/7) dt [d]."""
    starts, ends = (np.argmax(differences == sign, axis=1) for sign in (-1.0, 1.0))
    pairs = zip(starts, ends, strict=True)
    return np.array([weekend_contrast(wall_d[start], wall_d[end]) for start, end in pairs])


def trials(readings: Readings, row: Row) -> list[Trial]:
    """Lay the nodes out: τ with weights p_τ, and c in 13 equal steps z from −4 to 5 under Student's t(3)."""
    w = weekends(readings.wall_d, readings.differences)
    bow = over_spans(partial(profile, shape=row.profile), readings.wall_d, readings.differences)
    shared = row.kd**2 * bow + row.kw**2 * np.outer(w, w)
    found = []
    for p, tau_d in zip(row.p_tau, (0.0, 0.9, 4.0, 8.0), strict=True):
        walk = over_spans(partial(memory, tau_d=tau_d), readings.clock_d, readings.differences)
        for z in np.linspace(-4.0, 5.0, 13) if p > 0.0 else ():
            c = row.c0 * math.exp(row.s_c * z)
            log_prior = math.log(p) + math.log(scatter_prior(float(z), row))
            found.append(Trial(log_prior, c, tau_d, c**2 * walk + shared))
    return found


def posterior(series: Series) -> list[Node]:
    """Give the mixture over nodes."""
    return pivot_and_posterior(series)[1]


def pivot_and_posterior(series: Series) -> tuple[float, list[Node]]:
    """Give the pivot μ0 of the second pass and the mixture over nodes that it leads to."""
    row, readings = row_for(series), lay_out(series)
    nodes = trials(readings, row)
    total_d = readings.days.sum()
    share = row.ms**2 / (row.ms**2 + math.log(1.0 + (2.0 * row.c0**2 + 0.02 * row.kw**2) / total_d))
    x = readings.energy_kwh.sum() / total_d
    for _ in range(2):
        lifted = math.log(max(x, readings.floor_kwh))
        pivot = math.exp(share * lifted + (1.0 - share) * math.log(row.m0_kwh))
        fits = [fitted(readings, row, trial, pivot) for trial in nodes]
        heaviest = max(fit.log_weight for fit in fits)
        weights = np.array([math.exp(fit.log_weight - heaviest) for fit in fits])
        weights /= weights.sum()
        x = math.exp(float(weights @ np.array([fit.log_mean for fit in fits])))
    triples = zip(fits, nodes, weights, strict=True)
    return pivot, [node_of(fit, trial, row, float(weight)) for fit, trial, weight in triples]


def fitted(readings: Readings, row: Row, trial: Trial, pivot: float) -> Fit:
    """Give one node's log μ̂ with its variance v, at most 9, and its log weight."""
    whole = trial.scatter + readings.display_kwh2 / pivot**2
    relative = readings.energy_kwh / pivot
    by_days = np.linalg.solve(whole, readings.days)
    a = float(readings.days @ by_days)
    ratio = float(relative @ by_days) / a
    misfit = float(relative @ np.linalg.solve(whole, relative)) - a * ratio**2
    log_evidence = -0.5 * (float(np.linalg.slogdet(whole)[1]) + math.log(a) + misfit)
    log_mean, v = math.log(max(pivot * ratio, readings.floor_kwh)), min(1.0 / a, 9.0)
    agreement = log_normal(log_mean, math.log(row.m0_kwh), v + row.ms**2)
    return Fit(trial.log_prior + log_evidence + agreement, log_mean, v)


def node_of(fit: Fit, trial: Trial, row: Row, weight: float) -> Node:
    """Join one node's likelihood with the prior N(log m0, ms²)."""
    variance = 1.0 / (1.0 / fit.v + 1.0 / row.ms**2)
    mean = variance * (fit.log_mean / fit.v + math.log(row.m0_kwh) / row.ms**2)
    return Node(weight, mean, variance, trial.c, trial.tau_d)


def row_for(series: Series) -> Row:
    """Give the table's row; m0 from stated watts is left to a test of its own."""
    assert series.running_w is None
    return TABLE[series.kind]


def daily_kwh(series: Series) -> tuple[float, float, float]:
    """Give median, 2.5 % and 97.5 % points of the average day [kWh/d]."""
    gain = lay_out(series).gain
    nodes = posterior(series)
    log_median, log_low, log_high = (
        mixture_quantile(
            share,
            [node.weight for node in nodes],
            [node.mean_log for node in nodes],
            [math.sqrt(node.variance + gain**2) for node in nodes],
        )
        for share in (0.5, 0.025, 0.975)
    )
    return math.exp(log_median), math.exp(log_low), math.exp(log_high)


def mixture_quantile(
    share: float, weights: Sequence[float], means: Sequence[float], deviations: Sequence[float]
) -> float:
    """Find the root of the mixture's distribution function by bracketing."""
    w, m, s = (np.array(part) for part in (weights, means, deviations))

    def excess(at: float) -> float:
        return float(w @ norm.cdf(at, m, s)) / float(w.sum()) - share

    reach = 40.0 * float(s.max())
    return float(brentq(excess, float(m.min()) - reach, float(m.max()) + reach, xtol=1e-14, rtol=1e-14))


def node_days_to_go(readings: Readings, node: Node, row: Row, target: float) -> float:
    """Give the days N that one node still wants: nothing, a root within a year, or infinity."""
    total_d = readings.measured_d

    def excess(more_d: float) -> float:
        s = total_d + more_d
        square = node.c**2 * memory(s, node.tau_d) / s**2 + (0.05 * row.kd / s) ** 2 + 0.04 * row.kw**2 / s**2
        square += readings.gain**2 + (readings.step_kwh / math.exp(node.mean_log)) ** 2 / 6.0 / s**2
        return 1.96 * math.sqrt(square) * 1.08 - math.log(1.0 + target)

    if excess(0.0) <= 0.0:
        return 0.0
    if excess(366.0) > 0.0:
        return math.inf
    return float(brentq(excess, 0.0, 366.0, xtol=1e-10, rtol=1e-14))


def weighted_quantile(share: float, values: Sequence[float], weights: Sequence[float]) -> float:
    """Give the smallest value at which at least `share` of the weight lies."""
    reached = 0.0
    pairs = sorted(zip(values, weights, strict=True))
    for value, weight in pairs:
        reached += weight
        if reached >= share:
            return value
    return pairs[-1][0]


def days_to_go(series: Series, target: float) -> tuple[float, float, float]:
    """Give the weighted median and the 20 and 80 % points over the nodes, of days still wanted."""
    readings, nodes = lay_out(series), posterior(series)
    days = [node_days_to_go(readings, node, row_for(series), target) for node in nodes]
    weights = [node.weight for node in nodes]
    median, low, high = (weighted_quantile(share, days, weights) for share in (0.5, 0.2, 0.8))
    return median, low, high
