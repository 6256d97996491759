"""The inverter between battery and loads: its loss, its rating, its direct current."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from hearthload.domain.supply import Waveform
from hearthload.outage.answers import Demand
from hearthload.outage.facts import Facts
from hearthload.outage.steps import Figure, Input, Step, chained
from hearthload.outage.working import Term, of_steps, worked

_LEAST_DERATED = 0.1
"""However hot, a tenth of the rating is left: the straight line is not meant for more heat than that."""
_LEAST_RATED_W = 1.0
"""Ratings below this are slips of typing; the resistive loss divides by the rating."""


class Quality(StrEnum):
    """How well an inverter is made: the figures of its loss."""

    GOOD = "good"
    ORDINARY = "ordinary"
    CHEAP = "cheap"


_WORDS = {
    Quality.GOOD: "a good inverter",
    Quality.ORDINARY: "an ordinary inverter",
    Quality.CHEAP: "a cheap or modified-sine inverter",
}


@dataclass(frozen=True, slots=True)
class Loss:
    """An inverter's loss: idle draw [W], proportional and resistive coefficients [1], rating [W]."""

    rated_w: float
    idle_w: float
    idle_stated: bool
    quality: Quality
    k1: float
    k2: float

    def draw_w(self, load_w: float) -> float:
        """Give the direct power for an alternating one: P_dc = P_idle + (1 + k1)·P + k2·P²/P_r [W].

        Form of Schmid and Schmidt 1991; it holds from no load to the rating.
        """
        return self.idle_w + (1.0 + self.k1) * load_w + self.k2 * load_w * load_w / self.rated_w


def loss_of(
    rated_w: float,
    facts: Facts,
    idle_w: float | None = None,
    waveform: Waveform = Waveform.NOT_KNOWN,
) -> Loss:
    """Give the loss of an inverter of this rating [W]; a stated idle draw [W] stands in place of p0·P_r."""
    rated = max(rated_w, _LEAST_RATED_W)
    quality = _quality(rated, facts, idle_w, waveform)
    idle = facts[f"inverter_p0_{quality}"] * rated if idle_w is None else max(idle_w, 0.0)
    k1, k2 = facts[f"inverter_k1_{quality}"], facts[f"inverter_k2_{quality}"]
    return Loss(rated, idle, idle_w is not None, quality, k1, k2)


def _quality(rated_w: float, facts: Facts, idle_w: float | None, waveform: Waveform) -> Quality:
    """Judge the quality: modified sine is cheap; else nearest in idle draw; else, not stated, ordinary."""
    if waveform is Waveform.MODIFIED_SINE:
        return Quality.CHEAP
    if idle_w is None:
        return Quality.ORDINARY
    good, ordinary, cheap = (facts[f"inverter_p0_{quality}"] for quality in Quality)
    share = max(idle_w, 0.0) / rated_w
    if share < math.sqrt(good * ordinary):
        return Quality.GOOD
    return Quality.ORDINARY if share < math.sqrt(ordinary * cheap) else Quality.CHEAP


def idle_step(loss: Loss, facts: Facts) -> Step:
    """Write down the idle draw [W]: as stated, or p0·P_r."""
    if loss.idle_stated:
        stated = Input("idle draw as stated", "P_idle", loss.idle_w, "W")
        return worked(facts, "Idle draw of the inverter", "P_idle", loss.idle_w, "W", stated, source="stated")
    return worked(
        facts,
        f"Idle draw of {_WORDS[loss.quality]}",
        "P_idle = p0·P_r",
        loss.idle_w,
        "W",
        Term(f"inverter_p0_{loss.quality}", "p0"),
        Input("continuous rating", "P_r", loss.rated_w, "W"),
    )


def mean_draw(demand: Demand, loss: Loss, facts: Facts) -> Figure:
    """Give the mean direct power over a demand's whole time, idle hours too [W].

    Mean of P_dc = P_idle + (1 + k1)·mean(P) + k2·mean(P²)/P_r: the mean of the draw, not the draw of the
    mean, for the resistive loss grows with the square.
    """
    pairs = list(zip(demand.watts, demand.share, strict=True))
    mean = math.fsum(watts * share for watts, share in pairs)
    square = math.fsum(watts * watts * share for watts, share in pairs)
    idle = idle_step(loss, facts)
    value = loss.idle_w + (1.0 + loss.k1) * mean + loss.k2 * square / loss.rated_w
    return of_steps(
        idle,
        worked(
            facts,
            "Mean draw from the battery",
            "P_dc = P_idle + (1 + k1)·P + k2·Q/P_r",
            value,
            "W",
            Input("idle draw", "P_idle", loss.idle_w, "W"),
            Input("mean demand", "P", mean, "W"),
            Input("mean of the demand's square", "Q", square, "W²"),
            Term(f"inverter_k1_{loss.quality}", "k1"),
            Term(f"inverter_k2_{loss.quality}", "k2"),
            Input("continuous rating", "P_r", loss.rated_w, "W"),
        ),
    )


def heat_factor(celsius: float, facts: Facts) -> float:
    """Give the share of an inverter's rating left at a temperature [°C]: 1 − r·(T − T0) above T0 [1]."""
    above_k = max(celsius - facts["inverter_derate_from_c"], 0.0)
    return max(1.0 - facts["inverter_derate_per_k"] * above_k, _LEAST_DERATED)


def heat_step(celsius: float, facts: Facts) -> Step:
    """Write down the share of the rating left at a temperature."""
    return worked(
        facts,
        "Share of the rating left where the inverter stands",
        "f_T = 1 − r·(T − T0) above T0",
        heat_factor(celsius, facts),
        "",
        Input("temperature there", "T", celsius, "°C"),
        Term("inverter_derate_from_c", "T0"),
        Term("inverter_derate_per_k", "r"),
    )


def continuous_needed(running: Figure, facts: Facts) -> Figure:
    """Give the continuous power to be had of an inverter: 1.25·P_max, in the unit of `running` [W or VA]."""
    margin = worked(
        facts,
        "Continuous power needed",
        "P_c = m·P_max",
        facts["inverter_margin"] * running.value,
        running.unit,
        Term("inverter_margin", "m"),
        Input("highest running power", "P_max", running.value, running.unit),
    )
    return Figure(margin.value, None, None, running.unit, chained(running.steps, (margin,)))


def rating_needed(running: Figure, celsius: float, facts: Facts) -> Figure:
    """Give the rating to look for: P_c/f_T, for ratings are stated for a cool place [W or VA]."""
    continuous = continuous_needed(running, facts)
    heat = heat_step(celsius, facts)
    rating = worked(
        facts,
        "Continuous rating to look for",
        "P_r = P_c/f_T",
        continuous.value / heat.value,
        running.unit,
        Input("continuous power needed", "P_c", continuous.value, running.unit),
        Input("share of the rating left", "f_T", heat.value, ""),
    )
    return Figure(rating.value, None, None, running.unit, chained(continuous.steps, (heat, rating)))


def dc_current(
    load_w: float, direct_w: float, battery_v: float, facts: Facts, *, at: str = "highest running power"
) -> Figure:
    """Give the direct current at a load: I = P_dc/V_min [A], with V_min = v·V the battery run down.

    `at` says in words which load it is.
    """
    least_v = facts["inverter_v_min_share"] * battery_v
    lowest = worked(
        facts,
        "Lowest battery voltage under load",
        "V_min = v·V",
        least_v,
        "V",
        Term("inverter_v_min_share", "v"),
        Input("nominal battery voltage", "V", battery_v, "V"),
    )
    current = worked(
        facts,
        f"Current from the battery at the {at}",
        "I = P_dc/V_min",
        direct_w / least_v,
        "A",
        Input(at, "P_max", load_w, "W"),
        Input("draw from the battery at that power", "P_dc", direct_w, "W"),
        Input("lowest battery voltage", "V_min", least_v, "V"),
    )
    return of_steps(lowest, current)


def fuse(current: Figure, facts: Facts) -> Figure:
    """Give the least fuse at the battery: 1.25·I [A]; it may be no more than the cable carries."""
    step = worked(
        facts,
        "Fuse at the battery, at least",
        "I_f = f·I",
        facts["inverter_fuse_factor"] * current.value,
        "A",
        Term("inverter_fuse_factor", "f"),
        Input("highest direct current", "I", current.value, "A"),
    )
    return Figure(step.value, None, None, "A", chained(current.steps, (step,)))


def suggested_v(rated_w: float, facts: Facts) -> float:
    """Give the battery voltage that suits an inverter: 12, 24 or 48 V by its rating [W]."""
    if rated_w <= facts["inverter_v12_most_w"]:
        return 12.0
    return 24.0 if rated_w <= facts["inverter_v24_most_w"] else 48.0
