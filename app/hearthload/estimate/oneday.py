"""What a single day may bring, and whether an appliance varies more than its kind does."""

from __future__ import annotations

import math

from hearthload.estimate.answers import OneDay
from hearthload.estimate.kinds import KindDefaults
from hearthload.estimate.mixture import quantiles
from hearthload.estimate.posterior import Posterior

DAY_SHARES = (0.10, 0.95)
"""A dry or mild day is one of the lowest tenth, a wet or hard one of the highest twentieth."""

UNUSUAL = 2.0
"""So many standard deviations (on the log scale) above its kind's the scatter is unusual."""


def one_day(posterior: Posterior) -> OneDay:
    """Give a low and a high day [kWh]: quantiles of μ·X, X log-normal with mean 1 and deviation c.

    For each node ln(μX) is normal with mean m − s²/2 and variance v + s², s² = ln(1 + c²): days cannot be
    negative and the high ones reach further. Holds as far as the measured weeks speak for others.
    """
    parts = zip(posterior.mean_log, posterior.variance, posterior.c, strict=True)
    means, deviations = [], []
    for mean, variance, c in parts:
        spread = math.log1p(c * c)
        means.append(mean - 0.5 * spread)
        deviations.append(math.sqrt(variance + spread + posterior.gain**2))
    low, high = quantiles(DAY_SHARES, posterior.weight, means, deviations)
    return OneDay(math.exp(low), math.exp(high))


def varies_unusually(posterior: Posterior, defaults: KindDefaults) -> bool:
    """Tell whether the scatter sits beyond c0·exp(2 s_c): more than half the weight lies there."""
    limit = defaults.c0 * math.exp(UNUSUAL * defaults.s_c)
    beyond = sum(w for w, c in zip(posterior.weight, posterior.c, strict=True) if c > limit * (1.0 + 1e-9))
    return beyond > 0.5
