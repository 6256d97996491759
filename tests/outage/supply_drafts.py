"""Supplies that carry a freezer and a router for two days, and the way to their verdicts."""

from __future__ import annotations

from collections.abc import Sequence

from hearthload.domain.supply import (
    Chemistry,
    EngineControl,
    Fuel,
    Supply,
    SupplyDraft,
    SupplyKind,
    Waveform,
)
from hearthload.outage.answers import Limit, LimitCode, LoadLine, Totals, Verdict
from hearthload.outage.verdict import verdict
from tests.outage.supply_cases import FREEZER_AND_ROUTER, facts, line, plan, totals


def battery(**given: object) -> SupplyDraft:
    fields: dict[str, object] = {
        "name": "Chest with inverter",
        "kind": SupplyKind.BATTERY,
        "voltage_v": 230.0,
        "frequency_hz": 50.0,
        "plug": "cee_7",
        "continuous_w": 1000.0,
        "continuous_va": 1000.0,
        "start_va": 2000.0,
        "start_s": 5.0,
        "stored_wh": 5000.0,
        "chemistry": Chemistry.LFP,
        "idle_w": 10.0,
        "charge_w": 500.0,
        "solar_w": 800.0,
        "waveform": Waveform.SINE,
    }
    return SupplyDraft(**(fields | given))  # type: ignore[arg-type]


def generator(**given: object) -> SupplyDraft:
    fields: dict[str, object] = {
        "name": "Set in the shed",
        "kind": SupplyKind.GENERATOR,
        "voltage_v": 230.0,
        "frequency_hz": 50.0,
        "plug": "cee_7",
        "continuous_w": 2000.0,
        "start_w": 2300.0,
        "fuel": Fuel.PETROL,
        "control": EngineControl.INVERTER,
        "tank_l": 4.0,
    }
    return SupplyDraft(**(fields | given))  # type: ignore[arg-type]


def array(**given: object) -> SupplyDraft:
    fields: dict[str, object] = {"name": "Panels on the shed", "kind": SupplyKind.ARRAY, "array_w": 800.0}
    return SupplyDraft(**(fields | given))  # type: ignore[arg-type]


def judge(
    supplies: Sequence[Supply | SupplyDraft],
    what: Totals | None = None,
    lines: Sequence[LoadLine] | None = None,
    own: dict[str, float] | None = None,
    **planned: object,
) -> Verdict:
    days = planned.get("days", 2.0)
    assert isinstance(days, float)
    return verdict(
        supplies,
        "Supply",
        totals(FREEZER_AND_ROUTER, days) if what is None else what,
        [line()] if lines is None else lines,
        plan(**planned),
        facts=facts(own),
        mains_v=230.0,
        mains_hz=50.0,
    )


def limit(found: Verdict, code: LimitCode, *, counts: bool = True) -> Limit:
    return next(each for each in found.limits if each.code is code and each.counts is counts)
