"""What a plug-in meter shows of a true trace: counters since zero, shortened to the display's steps."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hearthload.domain.meter import MeterDraft, PowerLoss
from hearthload.domain.units import SECONDS_PER_HOUR
from hearthload.service.demo.trace import Cut, Trace, mains_on_s


@dataclass(frozen=True, slots=True)
class Counters:
    """The counters at a moment [UTC seconds] from which they run on: kWh and hours, exact."""

    since_s: float
    energy_kwh: float = 0.0
    elapsed_h: float = 0.0


@dataclass(frozen=True, slots=True)
class MeterFace:
    """A meter as it truly is: what was typed about it and its own error `gain` (0.01 reads 1 % high)."""

    draft: MeterDraft
    gain: float

    def after_cuts(self, counters: Counters, cuts: Sequence[Cut], at_s: float) -> Counters:
        """Give the counters as the cuts before a moment left them: a meter that resets begins anew."""
        if self.draft.power_loss is not PowerLoss.RESETS:
            return counters
        returns = [cut.to_s for cut in cuts if counters.since_s < cut.to_s <= at_s]
        return Counters(max(returns)) if returns else counters

    def energy_kwh(self, trace: Trace, counters: Counters, at_s: float) -> float:
        """Give the counter before shortening: E = E_0 + (1 + gain)·(energy drawn since) [kWh]."""
        drawn = trace.energy_until(at_s) - trace.energy_until(counters.since_s)
        return counters.energy_kwh + (1.0 + self.gain) * drawn

    def elapsed_h(self, counters: Counters, cuts: Sequence[Cut], at_s: float) -> float:
        """Give the hours before shortening: the clock of either meter stands still without mains."""
        return counters.elapsed_h + mains_on_s(cuts, counters.since_s, at_s) / SECONDS_PER_HOUR

    def shown(
        self, trace: Trace, counters: Counters, cuts: Sequence[Cut], at_s: float
    ) -> tuple[float, float]:
        """Give the kWh and the hours displayed: the whole steps that fit, the rest cut off."""
        energy = self.energy_kwh(trace, counters, at_s)
        elapsed = self.elapsed_h(counters, cuts, at_s)
        return truncated(energy, self.draft.energy_step_kwh), truncated(elapsed, self.draft.elapsed_step_h)


def truncated(value: float, step: float) -> float:
    """Give the largest whole number of steps not above the value, as the display spells it.

    Dividing by the number of steps in a unit gives the float that typing the digits would give.
    """
    return math.floor(value / step + 1e-9) / round(1.0 / step)
