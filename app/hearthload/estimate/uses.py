"""Energy per use, from the uses counted between readings."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hearthload.domain.appliance import Kind
from hearthload.estimate.answers import PerUse
from hearthload.estimate.covariance import weekend_excess
from hearthload.estimate.series import Series
from hearthload.estimate.spans import Span, closing
from hearthload.estimate.uses_a_day import EachUse, daily_by_uses, interval_around, likely_rate

LEAST_USES = 3
"""Under three uses only an upper bound is told."""

_PRIOR_USE, _PRIOR_DAY = 0.30, 0.14
_PRIOR_USE_OF_LOADS, _PRIOR_DAY_OF_LOADS = 0.28, 0.05
_PRIOR_USES = 4.0
"""Before any is counted: single uses scatter by 30 %, a span's together by 14 %; worth four spans.

Loads of washing by 28 % and 5 %: they hardly hang together, each has its own programme, whatever the day.
"""

_STANDBY_KWH, _STANDBY_U_KWH = 0.015, 0.020
"""Standby of what is used now and then, before any span without use: 0.015 ± 0.020 kWh a day."""

_MOST_STANDBY_KWH = 0.2
"""Spans without a begun use that hold more than this a day hold the rest of a use [kWh/d]."""

_DIFFERENCE = 1.0 / 6.0
"""Variance of a difference of two displayed values in squared steps (JCGM 100 4.3.9, triangular)."""


@dataclass(frozen=True, slots=True)
class _Counted:
    """A span with the uses counted in it."""

    span: Span
    uses: int


def energy_per_use(series: Series, spans: Sequence[Span]) -> PerUse | None:
    """Give the energy of one use e [kWh] and of a day by its uses, None where no use was counted.

    e = (Σd − s_b ΣT)/N, u² = cv²/N + (0.41q/(N e))² + (u_sb T/(N e))² + u_g² with
    cv² = (4·p² + Σ max((d_k − e n_k − s_b T_k)² − q²/6, 0)/(n_k e²))/(4 + m − 1) over m spans with use,
    p² = p_u² + p_d²·Σn²/Σn because the uses of one span hang together, p_u 0.30 and p_d 0.14, of loads 0.28
    and 0.05; the interval is e·exp(±t u), t with 4 + m − 1 degrees of freedom. Standby s_b comes from the
    spans without use. From three uses on the average day is e·r + s_b, r the likely uses a day. Holds where
    every use of the counted spans was counted.
    """
    counted = _counted(series, spans)
    uses = sum(each.uses for each in counted)
    if uses == 0:
        return None
    standby, u_standby = standby_kwh(counted)
    days = sum(each.span.days for each in counted)
    energy = sum(each.span.energy_kwh + each.span.correction_kwh for each in counted)
    step = max(each.span.step_kwh for each in counted)
    each_kwh = max((energy - standby * days) / uses, step / (2.0 * uses))
    busy = [each for each in counted if each.uses > 0]
    freedom = _PRIOR_USES + len(busy) - 1.0
    u2 = (
        _spread2(busy, each_kwh, standby, _prior(series.kind)) / uses
        + _DIFFERENCE * (step / (uses * each_kwh)) ** 2
        + (u_standby * days / (uses * each_kwh)) ** 2
        + max(each.span.gain for each in counted) ** 2
    )
    each_use = EachUse(each_kwh, math.sqrt(u2), freedom)
    interval = interval_around(each_kwh, each_use.u, freedom)
    if uses < LEAST_USES:
        return PerUse(interval, uses, uses / days, standby, at_most=True)
    rate = likely_rate(uses, days, _excess_d(counted))
    daily = daily_by_uses(each_use, rate, (standby, u_standby))
    return PerUse(interval, uses, uses / days, standby, at_most=False, likely_rate=rate[0], daily_kwh=daily)


def standby_kwh(counted: Sequence[_Counted]) -> tuple[float, float]:
    """Give standby [kWh/d] and its standard uncertainty: the prior and the spans without use, by precision.

    A span of T days without use weighs T²/(q²/6): its energy is known to q/√6. A use may be under way where
    none was begun, so of these spans only those near the least of them count, d ≤ 1.5·r·T + 2q with r the
    least rate [kWh/d], and none where r itself is above 0.2 kWh/d.
    """
    precision, pull = _STANDBY_U_KWH**-2, _STANDBY_KWH * _STANDBY_U_KWH**-2
    idle = [each.span for each in counted if each.uses == 0 and each.span.days > 0.0]
    least = min((max(span.energy_kwh, 0.0) / span.days for span in idle), default=0.0)
    for span in idle if least <= _MOST_STANDBY_KWH else ():
        if span.energy_kwh <= 1.5 * least * span.days + 2.0 * span.step_kwh:
            weight = span.days**2 / (_DIFFERENCE * span.step_kwh**2)
            precision += weight
            pull += weight * max(span.energy_kwh, 0.0) / span.days
    return max(pull / precision, 0.0), precision**-0.5


def _prior(kind: Kind) -> tuple[float, float]:
    """Give how much single uses scatter, and those of one span together [1]."""
    if kind is Kind.BY_THE_LOAD:
        return _PRIOR_USE_OF_LOADS, _PRIOR_DAY_OF_LOADS
    return _PRIOR_USE, _PRIOR_DAY


def _spread2(busy: Sequence[_Counted], each_kwh: float, standby: float, prior: tuple[float, float]) -> float:
    """Give the relative variance of single uses, cv² [1]."""
    squares = 0.0
    for each in busy:
        span = each.span
        off = span.energy_kwh + span.correction_kwh - each_kwh * each.uses - standby * span.days
        seen = max(off * off - _DIFFERENCE * span.step_kwh**2, 0.0)
        squares += seen / (each.uses * each_kwh**2)
    together = sum(each.uses**2 for each in busy) / sum(each.uses for each in busy)
    prior2 = prior[0] ** 2 + prior[1] ** 2 * together
    return (_PRIOR_USES * prior2 + squares) / (_PRIOR_USES + len(busy) - 1.0)


def _excess_d(counted: Sequence[_Counted]) -> float:
    """Give by how much weekends exceed 2/7 of the counted time [d], below zero where they fall short."""
    ends = np.array([(each.span.from_local_d, each.span.to_local_d) for each in counted])
    return float(weekend_excess(ends[:, 0], ends[:, 1]).sum())


def _counted(series: Series, spans: Sequence[Span]) -> list[_Counted]:
    return [
        _Counted(span, snapshot.uses)
        for span, snapshot in zip(spans, closing(series), strict=True)
        if snapshot.uses is not None and span.days > 0.0
    ]
