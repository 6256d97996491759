"""What a set of loads needs of a supply: energy for so many days, and highest running and starting power."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from hearthload.domain.units import HOURS_PER_DAY, WATTS_PER_KILOWATT
from hearthload.errors import RefusedError
from hearthload.outage.answers import LoadLine


@dataclass(frozen=True, slots=True)
class Margin:
    """What energy for the whole outage adds to the expected [kWh]: z·u + most, u the standard uncertainty.

    `z` is the normal factor; `most_kwh` the most that few measured days of a single load ask for beyond it;
    `hours_kwh` what an outage takes more whose last part of a day falls into the hours of use.
    """

    z: float
    u_kwh: float
    most_kwh: float
    hours_kwh: float = 0.0

    @property
    def kwh(self) -> float:
        """Give the margin [kWh]."""
        return self.z * self.u_kwh + self.most_kwh + self.hours_kwh


def standing_w(line: LoadLine) -> float:
    """Give the highest running watts of a line [W]: its defrost heaters' where they are more.

    Where watts are not known, at least the mean of its energy: more than that, and nobody knows how much.
    """
    if line.running_w is None:
        return 0.0 if line.daily is None else line.daily.value * WATTS_PER_KILOWATT / HOURS_PER_DAY
    return max(line.running_w.value, line.heater_w)


def standing_va(line: LoadLine) -> float:
    """Give the highest running apparent power of a line [VA]; a heater's is its watts."""
    return line.load.quantity * _each_standing_va(line)


def _each_standing_va(line: LoadLine) -> float:
    if line.load.quantity == 0:
        return 0.0
    if line.each_running_va is None:
        return standing_w(line) / line.load.quantity
    return max(line.each_running_va, line.heater_w / line.load.quantity)


def start_excess_va(line: LoadLine) -> float:
    """Give what one start adds to a line whose appliances all run: (m − 1)·S [VA], not below zero."""
    if line.each_start_va is None or line.load.quantity == 0:
        return 0.0
    return max(line.each_start_va - _each_standing_va(line), 0.0)


def expected_kwh(line: LoadLine, days: float) -> float:
    """Give a line's expected energy over the outage, d·q·e [kWh]; 0 where it is not known."""
    return 0.0 if line.daily is None else days * line.daily.value


def random_u_kwh(line: LoadLine, days: float) -> float:
    """Give a line's independent standard uncertainty over the outage, √((d·u)² + d·s_d²) [kWh].

    u and s_d are those of all its appliances, q·u and q·s_d: identical appliances share one measured figure
    and, to be on the safe side, the same good and bad days.
    """
    return math.hypot(days * line.own_u_kwh, math.sqrt(days) * line.day_sd_kwh)


def gains_kwh(lines: Iterable[LoadLine], days: float = 1.0) -> dict[str, float]:
    """Sum what each meter's gain may be off by, d·Σu_g [kWh]: linear, for its readings all err alike."""
    found: dict[str, float] = {}
    for line in lines:
        if line.gain_u_kwh > 0.0:
            found[line.meter] = found.get(line.meter, 0.0) + days * line.gain_u_kwh
    return found


def daily_u_kwh(lines: Sequence[LoadLine]) -> float:
    """Give the standard uncertainty of the mean daily energy, √(Σu² + Σ_meters(Σu_g)²) [kWh/d]."""
    own = sum(line.own_u_kwh**2 for line in lines)
    return math.sqrt(own + sum(gain**2 for gain in gains_kwh(lines).values()))


def margin_of(lines: Sequence[LoadLine], days: float, confidence: float) -> Margin:
    """Give what must be held beyond the expected energy of d days, at a one-sided confidence.

    z·√(Σ[(d·u)² + d·(q·s_d)²] + Σ_meters(d·Σu_g)²) + max over loads of (t_ν − z)·√((d·u)² + d·(q·s_d)²),
    t of Student with the load's ν measured days less one. Of one load that is t·u, of many with many days
    z·u. One effective number of degrees of freedom for the sum (Welch and Satterthwaite, JCGM 100 G.4.1)
    would fall short for very few of them, and would let the energy needed fall when a load is added.
    """
    z = student(confidence, None)
    random = [random_u_kwh(line, days) for line in lines]
    shared = gains_kwh(lines, days).values()
    u = math.sqrt(sum(part**2 for part in random) + sum(gain**2 for gain in shared))
    extras = (few_days_kwh(line, days, confidence) for line in lines)
    return Margin(z, u, max(extras, default=0.0), sum(hours_kwh(line, days) for line in lines))


def hours_kwh(line: LoadLine, days: float) -> float:
    """Give what a load takes beyond d·e when the last part of a day falls into its hours of use [kWh].

    Of f, the part of a day beyond whole days, at worst min(1, 24·f/h) of a day's energy falls in, h the hours
    of use, and f is in d·e already: q·e·(min(1, 24·f/h) − f). Nothing for whole days, or where h is 24.
    """
    part = days - math.floor(days + 1e-9)
    if line.daily is None or part <= 1e-9 or line.use_h >= HOURS_PER_DAY:
        return 0.0
    worst = 1.0 if line.use_h <= HOURS_PER_DAY * part else HOURS_PER_DAY * part / line.use_h
    return max(worst - part, 0.0) * line.daily.value


def few_days_kwh(line: LoadLine, days: float, confidence: float) -> float:
    """Give what a load asks for beyond the normal factor for its few measured days, (t_ν − z)·u [kWh]."""
    return (student(confidence, line.freedom) - student(confidence, None)) * random_u_kwh(line, days)


@lru_cache(maxsize=256)
def student(confidence: float, freedom: float | None) -> float:
    """Give the one-sided factor of Student's t [1] for ν degrees of freedom, the normal one for None."""
    if not 0.5 <= confidence < 1.0:
        raise RefusedError(
            "The confidence must be at least 50 % and below 100 %.",
            field="confidence",
            code="confidence_range",
        )
    from scipy.special import ndtri, stdtrit  # noqa: PLC0415 (slow to load)

    return float(ndtri(confidence) if freedom is None else stdtrit(freedom, confidence))
