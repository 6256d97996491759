"""What an appliance truly draws: power as steps in time, and the energy that they add up to."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from hearthload.domain.units import SECONDS_PER_HOUR, WATTS_PER_KILOWATT

JOULES_PER_KWH = WATTS_PER_KILOWATT * SECONDS_PER_HOUR


@dataclass(frozen=True, slots=True)
class Pulse:
    """An extra draw of `power_w` watts between two moments [UTC seconds], on top of the base."""

    from_s: float
    to_s: float
    power_w: float


@dataclass(frozen=True, slots=True)
class Cut:
    """A stretch without mains, between two moments [UTC seconds]."""

    from_s: float
    to_s: float


@dataclass(frozen=True, slots=True)
class Trace:
    """Power as steps: `power_w[i]` holds from `at_s[i]` to `at_s[i + 1]`.

    `energy_kwh[i]` is E_i = Σ_{j<i} P_j (t_{j+1} - t_j) / 3.6e6 [kWh]. `uses_s` are the moments at which a
    person set the appliance going, empty where nobody counts.
    """

    at_s: tuple[float, ...]
    power_w: tuple[float, ...]
    energy_kwh: tuple[float, ...]
    uses_s: tuple[float, ...] = ()

    def watts_at(self, at_s: float) -> float:
        """Give the power [W] at a moment [UTC seconds]."""
        return self.power_w[self._step(at_s)]

    def energy_until(self, at_s: float) -> float:
        """Give the energy [kWh] from the trace's beginning to a moment [UTC seconds]."""
        step = self._step(at_s)
        return self.energy_kwh[step] + self.power_w[step] * (at_s - self.at_s[step]) / JOULES_PER_KWH

    def highest_w(self, from_s: float, to_s: float) -> float:
        """Give the highest power [W] between two moments [UTC seconds]."""
        return max(self.power_w[self._step(from_s) : self._step(to_s) + 1])

    def uses_between(self, from_s: float, to_s: float) -> int:
        """Count the uses begun after the first moment and not after the second [UTC seconds]."""
        return bisect_right(self.uses_s, to_s) - bisect_right(self.uses_s, from_s)

    def _step(self, at_s: float) -> int:
        if not self.at_s[0] <= at_s <= self.at_s[-1]:
            raise ValueError("the moment lies outside the trace")
        return min(max(bisect_right(self.at_s, at_s) - 1, 0), len(self.power_w) - 1)


def trace_of_steps(at_s: Sequence[float], power_w: Sequence[float], uses_s: Sequence[float] = ()) -> Trace:
    """Add up the energy of power steps: E_{i+1} = E_i + P_i (t_{i+1} - t_i) / 3.6e6 [kWh]."""
    energy = [0.0]
    for (start_s, end_s), watts in zip(pairwise(at_s), power_w, strict=True):
        energy.append(energy[-1] + watts * (end_s - start_s) / JOULES_PER_KWH)
    return Trace(tuple(at_s), tuple(power_w), tuple(energy), tuple(uses_s))


def trace_of_pulses(
    base: Iterable[Pulse], pulses: Iterable[Pulse], window: tuple[float, float], cuts: Sequence[Cut]
) -> Trace:
    """Lay pulses over a base that covers the window [UTC seconds]; nothing is drawn during a cut.

    P(t) = Σ P_k over the pulses k that hold at t [W]: each pulse adds its watts where it begins and takes
    them off where it ends, and the sum runs from edge to edge.
    """
    edges = {window[0]: 0.0, window[1]: 0.0}
    for pulse in (*base, *pulses):
        from_s, to_s = max(pulse.from_s, window[0]), min(pulse.to_s, window[1])
        if from_s < to_s:
            edges[from_s] = edges.get(from_s, 0.0) + pulse.power_w
            edges[to_s] = edges.get(to_s, 0.0) - pulse.power_w
    for moment in (moment for cut in cuts for moment in (cut.from_s, cut.to_s)):
        if window[0] < moment < window[1]:
            edges.setdefault(moment, 0.0)
    at_s = sorted(edges)
    power, watts = [], 0.0
    for start_s in at_s[:-1]:
        watts += edges[start_s]
        power.append(0.0 if in_cut(cuts, start_s) else max(round(watts, 6), 0.0))
    return trace_of_steps(at_s, power)


def with_uses(trace: Trace, uses_s: Sequence[float]) -> Trace:
    """Give the same trace with the moments of use [UTC seconds] that fall into it."""
    ordered = sorted(uses_s)
    inside = ordered[bisect_left(ordered, trace.at_s[0]) : bisect_right(ordered, trace.at_s[-1])]
    return Trace(trace.at_s, trace.power_w, trace.energy_kwh, tuple(inside))


def in_cut(cuts: Sequence[Cut], at_s: float) -> bool:
    """Tell whether the mains is off at a moment [UTC seconds]."""
    return any(cut.from_s <= at_s < cut.to_s for cut in cuts)


def mains_on_s(cuts: Sequence[Cut], from_s: float, to_s: float) -> float:
    """Give the time [s] between two moments during which there was mains."""
    lost = (min(cut.to_s, to_s) - max(cut.from_s, from_s) for cut in cuts)
    return to_s - from_s - sum(max(seconds, 0.0) for seconds in lost)
