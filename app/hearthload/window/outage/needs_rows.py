"""What a plan asks of a battery, an inverter, the sun and a generator, as rows of figures."""

from __future__ import annotations

import calendar
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Final, Protocol

from hearthload.domain.figures import format_hours, format_watts
from hearthload.outage.steps import Figure, chained
from hearthload.service.outage_words import CHEMISTRY_WORDS
from hearthload.window.outage.figure_table import FigureRow
from hearthload.window.outage.fuel_words import fuel_cautions
from hearthload.window.outage.outage_words import (
    CONTROLS,
    FUELS,
    exact_number,
    exact_text,
    figure_text,
    number_text,
)
from hearthload.window.outage.running_rows import Way, running_rows

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanAnswer

UNITS: Final[Mapping[str, str]] = {"kWh/d": "kWh a day", "kWh/(m²·d)": "kWh/m²", "d": "days"}

HEAD_STORED = "Stored energy, as stated on the battery"
HEAD_INVERTER = "Inverter"
HEAD_DIRECT = "Direct current at the recommended inverter's rating"


def needs_rows(answer: PlanAnswer) -> tuple[FigureRow, ...]:
    """Give what to look for, each with its arithmetic; nothing where nothing is kept on."""
    if answer.sizing is None:
        return ()
    return (*_stored(answer), *_inverter(answer), *_direct(answer), *_sun(answer), *_generators(answer))


def need_row(key: str, what: str, figure: Figure, below: str = "", lead: str = "") -> FigureRow:
    """Make the row of one figure."""
    unit = UNITS.get(figure.unit, figure.unit)
    return FigureRow(
        key, what, (figure_text(figure),), unit, below, figure.steps, lead, figure.value,
        exact=(exact_text(figure),),
    )  # fmt: skip


def _heading(text: str) -> FigureRow:
    return FigureRow(f"head {text}", text)


def _stored(answer: PlanAnswer) -> Iterator[FigureRow]:
    sizing = answer.sizing
    if sizing is None:
        return
    yield _heading(HEAD_STORED)
    yield need_row("drawn", "Drawn from the battery", sizing.drawn.plan_kwh, "with the inverter's losses")
    for each in sizing.stored:
        barred = _barred(each, answer.plan.battery_c)
        again = each.recharge_h
        full = "" if again is None else f"full again in {format_hours(round(again.value))} from the wall"
        steps = chained(each.stored_kwh.steps, each.charge_w.steps, () if again is None else again.steps)
        yield FigureRow(
            f"stored {each.chemistry}",
            _upper(CHEMISTRY_WORDS[each.chemistry]),
            (number_text(each.stored_kwh.value, "kWh"),),
            "kWh",
            barred or full,
            steps,
            f"Charged with at most {format_watts(each.charge_w.value)} from the wall. {barred}".strip(),
            each.stored_kwh.value,
            exact=(exact_number(each.stored_kwh.value),),
        )


class _Stored(Protocol):
    """What is said of a battery of one chemistry beside its figures."""

    @property
    def may_charge(self) -> bool: ...
    @property
    def may_discharge(self) -> bool: ...
    @property
    def not_known(self) -> str: ...
    @property
    def may_freeze(self) -> bool: ...


def _barred(found: _Stored, battery_c: float) -> str:
    """Say what speaks against a chemistry where the battery stands, the worst alone."""
    at = f"{battery_c:g} °C".replace("-", "−")
    if not found.may_discharge:
        return f"△ must not be used at {at}"
    if found.not_known:
        return f"△ not known: ask {found.not_known}"
    if not found.may_charge:
        return f"△ must not be charged at {at}"
    return f"△ freezes at {at} when discharged" if found.may_freeze else ""


def _upper(words: str) -> str:
    return words[:1].upper() + words[1:]


def _inverter(answer: PlanAnswer) -> Iterator[FigureRow]:
    sizing = answer.sizing
    if sizing is None:
        return
    seconds = f"for {sizing.start_s:g} s" if sizing.start_s > 0.0 else ""
    yield _heading(HEAD_INVERTER)
    yield need_row("inverter_w", "Continuous power", sizing.inverter_w, "at least")
    yield need_row("inverter_va", "Continuous apparent power", sizing.inverter_va, "at least")
    yield need_row("inverter_start", "Starting apparent power", sizing.start_va, seconds)
    yield need_row(
        "inverter_restart", "The same when power returns", sizing.restart_va,
        "unless loads are switched on one by one",
    )  # fmt: skip


def _direct(answer: PlanAnswer) -> Iterator[FigureRow]:
    sizing = answer.sizing
    if sizing is None:
        return
    yield _heading(HEAD_DIRECT)
    for each in sizing.direct:
        suits = "suits an inverter of this size" if each.battery_v == sizing.suggested_v else ""
        volts = f"{each.battery_v:g} V"
        yield need_row(f"direct {volts}", f"Battery of {volts}", each.current_a, suits)
        yield need_row(
            f"fuse {volts}", f"Fuse at {volts}", each.fuse_a, "at least, and no more than the cable carries"
        )


def _sun(answer: PlanAnswer) -> Iterator[FigureRow]:
    sizing = answer.sizing
    if sizing is None:
        return
    yield _heading(f"Sun in {calendar.month_name[answer.plan.month]}")
    sun = sizing.sun
    if sun is None:
        yield FigureRow(
            "sun", "Sun hours", ("not known",), "", "type the plan's latitude or its peak sun hours"
        )
        return
    yield need_row("sun_hours", "Peak sun hours a day", sun.sun_hours, _best_hours(sun))
    yield need_row("sun_ratio", "Of the array's rating arrives", sun.ratio)
    if sun.array_w is None:
        yield FigureRow("array", "Array", ("none",), "", "too little sun in this month for any array")
        return
    yield need_row("array", "Array for the loads, lithium", sun.array_w, _full_again(sun.recharge_days))
    for key, what, figure in (
        ("lead array", "The same, lead-acid", sun.lead_array_w),
        ("recharging", "Array for a quick recharge", sun.recharging_w),
        ("controller", "Charge controller, lithium", sun.controller_a),
        ("lead controller", "The same, lead-acid", sun.lead_controller_a),
    ):
        if figure is not None:
            yield need_row(key, what, figure)


class _Best(Protocol):
    """Between which hours of the sun half of a clear day falls on the array."""

    @property
    def best_from_h(self) -> float | None: ...
    @property
    def best_to_h(self) -> float | None: ...


def _best_hours(sun: _Best) -> str:
    if sun.best_from_h is None or sun.best_to_h is None:
        return ""
    return f"half of a clear day's from {sun.best_from_h:.1f} to {sun.best_to_h:.1f} h by the sun"


def _full_again(days: Figure | None) -> str:
    return "" if days is None else f"fills the battery again in {number_text(days.value, 'd')} days"


def _generators(answer: PlanAnswer) -> Iterator[FigureRow]:
    sizing = answer.sizing
    if sizing is None:
        return
    for each in sizing.generators:
        key = f"{each.fuel} {each.control}"
        lead = " ".join(fuel_cautions((note.code.value, note.value) for note in each.cautions))
        yield _heading(f"Generator: {FUELS[each.fuel]}, {CONTROLS[each.control]}")
        yield need_row(f"{key} rating", "Rating to look for", each.rating_w, "", lead)
        yield need_row(
            f"{key} start", "Maximum (starting) power", each.start_va, "for the hardest start", lead
        )
        steady = Way(f"{key} steady", "round the clock", each.fuel, lead)
        yield from running_rows(steady, each.steady, answer)
        if each.charging is not None:
            some = Way(f"{key} charging", "charging a battery", each.fuel, lead)
            yield from running_rows(some, each.charging, answer)
