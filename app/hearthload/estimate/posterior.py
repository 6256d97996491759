"""What is known of the average day after the readings: a mixture over how much and how long it scatters."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hearthload.estimate.answers import Interval
from hearthload.estimate.mixture import quantiles

SHARES = (0.5, 0.025, 0.975)
"""Median and both ends of the 95 % interval."""


@dataclass(frozen=True, slots=True)
class Posterior:
    """The log of the average day's energy [ln kWh/d] as a mixture of normal distributions over nodes.

    Each node is one memory time `tau_d` [d] and one day's relative scatter `c` [1], with its `weight`
    (they sum to one), mean `mean_log` and `variance` without the meter's gain. `gain` is the meter's
    relative standard uncertainty [1], `days` the time measured [d], `step_kwh` the display's step.
    """

    weight: tuple[float, ...]
    mean_log: tuple[float, ...]
    variance: tuple[float, ...]
    c: tuple[float, ...]
    tau_d: tuple[float, ...]
    gain: float
    days: float
    step_kwh: float

    def daily_kwh(self, *, with_gain: bool = True) -> Interval:
        """Give median and 95 % interval of the average day [kWh/d]; never below zero."""
        median, low, high = self._quantiles(SHARES, with_gain=with_gain)
        return Interval(median, low, high)

    def log_half_width(self) -> float:
        """Give (ln high − ln low)/2 of the 95 % interval [1]."""
        low, high = self._quantiles(SHARES[1:], with_gain=True)
        return 0.5 * math.log(high / low)

    def median_kwh(self, *, with_gain: bool = True) -> float:
        """Give the median of the average day [kWh/d]."""
        return self._quantiles(SHARES[:1], with_gain=with_gain)[0]

    def _quantiles(self, shares: Sequence[float], *, with_gain: bool) -> list[float]:
        extra = self.gain**2 if with_gain else 0.0
        deviations = [math.sqrt(variance + extra) for variance in self.variance]
        return [math.exp(log) for log in quantiles(shares, self.weight, self.mean_log, deviations)]

    def log_moments(self, *, with_gain: bool = True) -> tuple[float, float]:
        """Give mean [ln kWh/d] and standard deviation [1] of the mixture."""
        mean = sum(w * m for w, m in zip(self.weight, self.mean_log, strict=True))
        spread = sum(
            w * (v + (m - mean) ** 2)
            for w, m, v in zip(self.weight, self.mean_log, self.variance, strict=True)
        )
        return mean, math.sqrt(spread + (self.gain**2 if with_gain else 0.0))
