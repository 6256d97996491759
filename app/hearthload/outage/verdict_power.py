"""Limits of power: running watts and volt-amperes, starts, current from the battery."""

from __future__ import annotations

from dataclasses import replace

from hearthload.domain.supply import SupplyDraft, SupplyKind
from hearthload.outage.answers import Limit, LimitCode, Outcome
from hearthload.outage.drawing import peak_draw
from hearthload.outage.inverter import dc_current
from hearthload.outage.steps import Figure, Input, Step, chained
from hearthload.outage.verdict_case import Case, at_most, judged, plain, rating_left
from hearthload.outage.working import Term, worked

_WATTS = "its continuous watts"
_VA = "its continuous volt-amperes"
_START = "its starting volt-amperes, and for how many seconds"


def power_limits(case: Case) -> list[Limit]:
    """Check what feeds the loads against their running and starting power."""
    feeding = case.feeding
    if feeding is None:
        return []
    left = rating_left(case, feeding)
    limits = [_watts(case, feeding, left), _volt_amperes(case, feeding, left)]
    limits.append(_start(case, feeding, left, case.totals.start_va))
    restart = _start(case, feeding, left, case.totals.restart_va)
    limits.append(replace(restart, about="all that starts by itself, together", counts=False))
    if case.from_battery:
        limits.append(_battery_current(case, feeding))
    return limits


def _with_margin(case: Case, feeding: SupplyDraft, running: Figure) -> Figure:
    key = "generator_margin" if feeding.kind is SupplyKind.GENERATOR else "inverter_margin"
    step = worked(
        case.facts,
        "Continuous power needed",
        "P_c = m·P_max",
        case.facts[key] * running.value,
        running.unit,
        Term(key, "m"),
        Input("highest running power", "P_max", running.value, running.unit),
    )
    return Figure(step.value, None, None, running.unit, chained(running.steps, (step,)))


def _offered(case: Case, stated: float, left: Figure, unit: str, quantity: str) -> tuple[float, Step]:
    step = worked(
        case.facts,
        quantity,
        "P = f·P_r",
        stated * left.value,
        unit,
        Input("stated rating", "P_r", stated, unit),
        Input("share of the rating left", "f", left.value, ""),
    )
    return step.value, step


def _likely(case: Case) -> Step:
    likely = case.totals.likely_w
    words = "Running power that is passed in a hundredth of the time only"
    return worked(
        case.facts, words, "from the demand's spread", likely.value, likely.unit, source="load list"
    )


def _watts(case: Case, feeding: SupplyDraft, left: Figure) -> Limit:
    """Check running watts; a rating in volt-amperes alone is the most that the watts can be."""
    needed = _with_margin(case, feeding, case.totals.running_w)
    code = LimitCode.RUNNING_W
    stated = feeding.continuous_w if feeding.continuous_w is not None else feeding.continuous_va
    if stated is None:
        return judged(case, code, needed, None, missing=_WATTS, steps=(_likely(case),))
    offered, step = _offered(case, stated, left, "W", "Continuous power left")
    found = judged(case, code, needed, offered, steps=(*left.steps, step, _likely(case)))
    if feeding.continuous_w is None and found.outcome is Outcome.CARRIES:
        return replace(found, outcome=Outcome.NOT_KNOWN, offered=None, margin=None, missing=_WATTS)
    return found


def _volt_amperes(case: Case, feeding: SupplyDraft, left: Figure) -> Limit:
    """Check running volt-amperes; a rating in watts alone is the least that they are.

    Watts are never more than volt-amperes. A small generator is rated at power factor 1, where both are one.
    """
    needed = _with_margin(case, feeding, case.totals.running_va)
    stated = feeding.continuous_va if feeding.continuous_va is not None else feeding.continuous_w
    if stated is None:
        return judged(case, LimitCode.RUNNING_VA, needed, None, missing=_VA)
    offered, step = _offered(case, stated, left, "VA", "Continuous volt-amperes left")
    found = judged(case, LimitCode.RUNNING_VA, needed, offered, steps=(*left.steps, step))
    bound_only = feeding.continuous_va is None and feeding.kind is not SupplyKind.GENERATOR
    return at_most(found, _VA) if bound_only else found


def _start(case: Case, feeding: SupplyDraft, left: Figure, needed: Figure) -> Limit:
    """Check a start: volt-amperes, and that they last for the start.

    A continuous rating that is enough needs no further one. Watts alone are the least that the volt-amperes
    are. Too few seconds fall short; seconds not stated are not known for an inverter, but a generator's
    greatest power lasts longer than any motor's start.
    """
    code, is_engine = LimitCode.START_VA, feeding.kind is SupplyKind.GENERATOR
    lasting = max(feeding.continuous_va or 0.0, feeding.continuous_w or 0.0)
    offered, step = _offered(case, lasting, left, "VA", "Volt-amperes that are there all the time")
    if lasting > 0.0 and offered >= needed.value:
        return judged(case, code, needed, offered, steps=(*left.steps, step))
    stated = feeding.start_va if feeding.start_va is not None else feeding.start_w
    if stated is None:
        return judged(case, code, needed, None, missing=_START)
    share = left if is_engine else Figure(1.0, None, None, "", ())
    offered, step = _offered(case, stated, share, "VA", "Volt-amperes for a start")
    found = judged(case, code, needed, offered, steps=(*share.steps, step, *_seconds(case, feeding)))
    if found.outcome is Outcome.FALLS_SHORT:
        return found if feeding.start_va is not None or is_engine else at_most(found, _START)
    if feeding.start_s is None:
        unsure = replace(
            found, outcome=Outcome.NOT_KNOWN, missing="for how many seconds it gives its start power"
        )
        return found if is_engine else unsure
    return replace(found, outcome=Outcome.FALLS_SHORT, missing="") if _too_short(case, feeding) else found


def _too_short(case: Case, feeding: SupplyDraft) -> bool:
    return feeding.start_s is not None and feeding.start_s < case.totals.start_s


def _seconds(case: Case, feeding: SupplyDraft) -> tuple[Step, ...]:
    if feeding.start_s is None:
        return ()
    lasts = Input("seconds that the start power lasts", "t_s", feeding.start_s, "s")
    words = "Seconds that the start takes"
    return (worked(case.facts, words, "t ≤ t_s", case.totals.start_s, "s", lasts, source="load list"),)


def _battery_current(case: Case, feeding: SupplyDraft) -> Limit:
    """Check the direct current at the highest running power.

    Where neither the battery's volts nor its limit are stated, battery and inverter are one package whose
    rating already is what its battery gives: then this limit is told and does not count. A lead-acid battery
    is no such package: what it gives at once is far below what its energy suggests.
    """
    volts, most = feeding.battery_v, feeding.battery_limit_a
    packaged = volts is None and most is None and not feeding.chemistry.is_lead
    if volts is None or case.loss is None:
        missing = "the battery's nominal volts and its most amps" if volts is None else _WATTS
        return Limit(
            LimitCode.BATTERY_CURRENT, None, most, "A", None, Outcome.NOT_KNOWN, missing, "", (), not packaged
        )
    needed = dc_current(case.totals.running_w.value, peak_draw(case.loss, case.totals), volts, case.facts)
    steps = () if most is None else plain(case, "Most current of the battery", most, "A", "I_most").steps
    missing = "the battery's most amps on discharge"
    return judged(case, LimitCode.BATTERY_CURRENT, needed, most, missing=missing, steps=steps)
