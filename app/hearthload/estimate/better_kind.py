"""Tells which kind of appliance the readings themselves speak for."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from hearthload.domain.appliance import Kind
from hearthload.estimate.covariance import grouped, scatter_of
from hearthload.estimate.energy import fit_day
from hearthload.estimate.factors import likelihood, nodes_for
from hearthload.estimate.kinds import DEFAULTS, KindDefaults
from hearthload.estimate.merging import merged
from hearthload.estimate.spans import Span

CLEARLY = math.log(20.0)
"""Another kind is offered when the readings speak for it twenty times as loud (log of a Bayes factor)."""

MOST_SPANS = 42
"""Six weeks of mornings, the newest, say which kind it is."""


def better_kind(spans: Sequence[Span], kind: Kind) -> Kind | None:
    """Give the kind that the spans speak for most, None when it is the present one or not clearly another.

    Kinds are compared by their evidence ∫ p(d | μ, c, τ) p(μ) p(c, τ), the prior of each kind included, so
    that a kind that explains everything a little loses to one that explains this well.
    """
    if len(spans) < 3:
        return None
    newest = spans[-MOST_SPANS:]
    by_kind = {each: log_evidence(newest, DEFAULTS[each]) for each in Kind}
    best = max(by_kind, key=lambda each: by_kind[each])
    return best if best is not kind and by_kind[best] - by_kind[kind] > CLEARLY else None


def log_evidence(spans: Sequence[Span], defaults: KindDefaults) -> float:
    """Give the log evidence of spans for one kind [1], up to a term common to all kinds."""
    scatter = grouped(scatter_of(merged(spans), defaults))
    nodes = nodes_for(defaults)
    pivot = fit_day(scatter, defaults, spans).pivot_kwh
    fit = likelihood(scatter, nodes, pivot)
    n = len(scatter.days)
    prior = np.exp(nodes.log_prior - nodes.log_prior.max())
    log_prior = np.log(prior / prior.sum())
    level = np.log(np.maximum(pivot * fit.ratio, 1e-12)) - math.log(defaults.m0_kwh)
    spread = np.minimum(fit.variance, 9.0) + defaults.ms**2
    # Per node N(d; μT, V) integrated over μ: the flat integral's terms, the pivot's units, the level's prior.
    log_node = (
        log_prior
        + fit.log_evidence
        - (n - 1) * math.log(pivot)
        - 0.5 * (np.log(2.0 * math.pi * spread) + level * level / spread)
    )
    top = float(log_node.max())
    return top + math.log(float(np.exp(log_node - top).sum()))
