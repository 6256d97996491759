"""Writing the demo's five weeks into a logbook through the same edits that a person's typing goes through."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

from hearthload.errors import KnownError
from hearthload.service.demo.household import APPLIANCES, HOUSEHOLD, METERS
from hearthload.service.demo.mornings import Act, Deed, simulate
from hearthload.service.demo.outages import COMBINATIONS, OUTAGES, SUPPLIES
from hearthload.service.demo.stays import PLANNED, SEED
from hearthload.service.demo.world import local_moment
from hearthload.service.edits.appliances import add_appliance
from hearthload.service.edits.measurements import (
    finish_measurement,
    plan_measurement,
    reset_meter,
    set_aside_measurement,
    start_measurement,
)
from hearthload.service.edits.meters import add_meter
from hearthload.service.edits.plans import add_plan, set_plan_load
from hearthload.service.edits.readings import add_reading
from hearthload.service.edits.supplies import add_supply
from hearthload.service.logbook import Logbook, create_logbook, open_logbook

EVENING_H = 21.0


def build_demo(path: Path, today: date, now: datetime | None = None, seed: int = SEED) -> Logbook:
    """Write a demo logbook whose last day is `today` and open it with nothing to undo.

    The same day, moment and seed give the same demo. No reading lies after `now`, which is this very moment
    when `today` is today, else that day's evening. The file has its name only when all of it is written.
    """
    if path.exists():
        raise KnownError(f"“{path.name}” exists already. Open it, or choose another name.")
    if now is None:
        clock = datetime.now().astimezone()
        now = clock if clock.date() == today else local_moment(today, EVENING_H)
    deeds = simulate(today, now, seed).deeds
    clock_hand = _ClockHand(deeds[0].draft.taken_at - timedelta(hours=1))
    part = path.with_name(f"{path.name}.part")
    part.unlink(missing_ok=True)
    logbook = create_logbook(part, HOUSEHOLD, clock=clock_hand, lasting=False)
    try:
        _Writer(logbook, clock_hand).write(deeds)
    finally:
        logbook.close()
    part.replace(path)
    return open_logbook(path)


class _ClockHand:
    """The clock by which the five weeks are written down: it stands at the deed that is being entered."""

    def __init__(self, now: datetime) -> None:
        self.now = now

    def __call__(self) -> datetime:
        return self.now


class _Writer:
    """The edits of the demo, with the numbers that the logbook gave to things so far."""

    def __init__(self, logbook: Logbook, clock_hand: _ClockHand) -> None:
        self.logbook = logbook
        self.clock_hand = clock_hand
        self.appliance_ids: dict[str, int] = {}
        self.meter_ids: dict[str, int] = {}
        self.measurement_ids: dict[str, int] = {}

    def write(self, deeds: tuple[Deed, ...]) -> None:
        """Enter the household's things, live through the deeds and plan what comes next."""
        for appliance in APPLIANCES:
            self.appliance_ids[appliance.name] = _number(add_appliance(self.logbook, appliance).created_id)
        for meter in METERS:
            self.meter_ids[meter.name] = _number(add_meter(self.logbook, meter).created_id)
        for deed in deeds:
            self._do(deed)
        for name, meter_name in PLANNED:
            meter_id = None if meter_name is None else self.meter_ids[meter_name]
            plan_measurement(self.logbook, self.appliance_ids[name], meter_id)
        self._prepare()

    def _prepare(self) -> None:
        """Enter the outages that are prepared for, and the equipment that may carry them."""
        for outage in OUTAGES:
            plan_id = _number(add_plan(self.logbook, outage.plan).created_id)
            for name, load in outage.loads.items():
                set_plan_load(self.logbook, plan_id, replace(load, appliance_id=self.appliance_ids[name]))
        supply_ids = {
            supply.name: _number(add_supply(self.logbook, supply).created_id) for supply in SUPPLIES
        }
        for combination, members in COMBINATIONS:
            numbers = tuple(supply_ids[name] for name in members)
            add_supply(self.logbook, replace(combination, members=numbers))

    def _do(self, deed: Deed) -> None:
        name = deed.stay.appliance
        self.clock_hand.now = deed.draft.taken_at
        if deed.act is Act.START:
            changes = start_measurement(
                self.logbook,
                self.appliance_ids[name],
                self.meter_ids[deed.stay.meter],
                deed.draft,
                exact_zero=deed.exact_zero,
            )
            self.measurement_ids[name] = _number(changes.created_id)
        elif deed.act is Act.RESET:
            reset_meter(self.logbook, self.measurement_ids[name], deed.draft, exact_zero=deed.exact_zero)
        else:
            add_reading(self.logbook, self.measurement_ids[name], deed.draft)
        if deed.act is Act.FINISH:
            self._finish(deed)

    def _finish(self, deed: Deed) -> None:
        measurement_id = self.measurement_ids[deed.stay.appliance]
        finish_measurement(self.logbook, measurement_id, deed.draft.taken_at)
        if deed.stay.set_aside:
            set_aside_measurement(self.logbook, measurement_id)


def _number(created_id: int | None) -> int:
    """Give the number of what an adding edit made; such an edit always has one."""
    if created_id is None:
        raise ValueError("the edit added nothing")
    return created_id
