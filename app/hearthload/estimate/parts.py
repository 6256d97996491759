"""Where the uncertainty of a daily figure comes from: the days, the display, the meter; the season apart."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hearthload.estimate.covariance import grouped, scatter_of, walk_variance
from hearthload.estimate.factors import inverses, nodes_for
from hearthload.estimate.kinds import TAUS_D, KindDefaults
from hearthload.estimate.merging import merged
from hearthload.estimate.posterior import Posterior
from hearthload.estimate.spans import Span


@dataclass(frozen=True, slots=True)
class Parts:
    """Relative standard uncertainties [1]: of the measured weeks, and `season` for another season.

    `days`² + `display`² + `meter`² = `total`². `scatter` is the median of one day's scatter c [1].
    """

    days: float
    display: float
    meter: float
    total: float
    season: float
    scatter: float


def uncertainty_parts(spans: Sequence[Span], posterior: Posterior, defaults: KindDefaults) -> Parts:
    """Split the uncertainty of the average day.

    With the weights w = V⁻¹T/a of generalised least squares the display's part is w'(Q/μ²)w, averaged over
    the nodes; the meter's is its gain u_g; the days' part is what is left of the whole, u² − u_display² −
    u_g², so that not knowing the scatter for sure counts there. Holds for the measured window; the season's
    term is the kind's and in none of them.
    """
    scatter = grouped(scatter_of(merged(spans), defaults))
    level = posterior.median_kwh()
    nodes = nodes_for(defaults)
    known = {(tau, c): w for tau, c, w in zip(posterior.tau_d, posterior.c, posterior.weight, strict=True)}
    inverse, _ = inverses(scatter, nodes, level)
    along = inverse @ scatter.days
    weights = along / (along @ scatter.days)[:, None]
    display2 = np.einsum("ij,jk,ik->i", weights, scatter.display_kwh2 / level**2, weights)
    taus = [TAUS_D[index] for index in nodes.tau.tolist()]
    share = np.array([known.get(node, 0.0) for node in zip(taus, nodes.c.tolist(), strict=True)])
    display = math.sqrt(max(float(share @ display2), 0.0))
    _, total = posterior.log_moments()
    display = min(display, math.sqrt(max(total**2 - posterior.gain**2, 0.0)))
    days = math.sqrt(max(total**2 - display**2 - posterior.gain**2, 0.0))
    return Parts(days, display, posterior.gain, total, defaults.u_season, median_scatter(posterior))


def median_scatter(posterior: Posterior) -> float:
    """Give the posterior median of one day's relative scatter c [1]."""
    reached = 0.0
    for c, weight in sorted(zip(posterior.c, posterior.weight, strict=True)):
        reached += weight
        if reached >= 0.5:
            return c
    return max(posterior.c)


def scatter_over(posterior: Posterior, days: float) -> float:
    """Give the relative scatter of one day [1] in an outage of so many days: s = √(E[c²·g_τ(d)]/d).

    c²·g_τ(d) is the variance of the energy of d days in units of the mean (estimator section 2): where habits
    and weather last for days, the days of one outage are alike and do not even out as strangers would. The
    mean is over the posterior's nodes, so that a scatter not known for sure counts in full.
    """
    if not days > 0.0:
        return 0.0
    lag = np.array([days])
    variance = sum(
        weight * c * c * float(walk_variance(lag, tau)[0])
        for weight, c, tau in zip(posterior.weight, posterior.c, posterior.tau_d, strict=True)
    )
    return math.sqrt(variance / days)
