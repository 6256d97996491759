"""The average day by its uses: how many a day are likely, and what energy a day that makes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hearthload.estimate.answers import Interval
from hearthload.estimate.duty import student_factor

_USUAL_RATE, _USUAL_LOG_U = 0.6, 0.8
"""Before any is counted: 0.6 uses a day in the median, log standard deviation 0.8."""

_WEEK = 0.5
"""How far a day at the weekend may differ from other days in its uses, as a standard uncertainty [1]."""

_ENDS2_D2 = 0.01
"""Variance of the counted time [d²]: whether a use at either end of it was counted, ± 0.1 d."""

_MOST_LOG = 25.0
"""Beyond this exponent an interval says nothing more: both ends are ten decades off."""


@dataclass(frozen=True, slots=True)
class EachUse:
    """Energy of one use [kWh], its relative standard uncertainty [1] and the degrees of freedom of that."""

    energy_kwh: float
    u: float
    freedom: float


def interval_around(value: float, u: float, freedom: float) -> Interval:
    """Give value·exp(± t·u), t of Student with so many degrees of freedom: 95 % on the log scale."""
    reach = math.exp(min(student_factor(freedom) * u, _MOST_LOG))
    return Interval(value, value / reach, value * reach)


def likely_rate(uses: int, days: float, excess_d: float) -> tuple[float, float]:
    """Give the uses a day r [1/d] of an average day, and their relative standard uncertainty [1].

    On the log scale by precision: ln(N/T) with the variance 1/N + (0.5·w/T)² + 0.01/T², and the usual
    ln 0.6 ± 0.8. w is the weekend in excess of 2/7 of the counted time [d], T the days counted. Holds for
    uses that come by themselves, as Poisson's; regular ones are known somewhat better than told.
    """
    counted = 1.0 / uses + (_WEEK * excess_d / days) ** 2 + _ENDS2_D2 / days**2
    usual = _USUAL_LOG_U**2
    precision = 1.0 / counted + 1.0 / usual
    log_rate = (math.log(uses / days) / counted + math.log(_USUAL_RATE) / usual) / precision
    return math.exp(log_rate), precision**-0.5


def daily_by_uses(each: EachUse, rate: tuple[float, float], standby: tuple[float, float]) -> Interval:
    """Give the average day e·r + s_b [kWh/d] with its 95 % interval, on the log scale.

    u² = [(e·r)²·(u_e² + u_r²) + u_sb²]/(e·r + s_b)² (JCGM 100 5.1.2); t with the effective degrees of
    freedom of Welch and Satterthwaite (JCGM 100 G.4.1), of which only u_e has few. That more standby leaves
    less for each use is not taken off, which is on the safe side. `rate` and `standby` [kWh/d] come with
    their standard uncertainties, the first as a relative one.
    """
    of_uses = each.energy_kwh * rate[0]
    whole = of_uses + standby[0]
    of_each = (of_uses * each.u / whole) ** 2
    u2 = of_each + (of_uses * rate[1] / whole) ** 2 + (standby[1] / whole) ** 2
    return interval_around(whole, math.sqrt(u2), each.freedom * (u2 / of_each) ** 2)
