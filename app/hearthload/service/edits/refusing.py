"""Refusals that several edits share."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from hearthload.domain.appliance import Appliance
from hearthload.domain.measurement import Measurement, MeasurementState
from hearthload.domain.meter import Meter
from hearthload.domain.plugs import PLUGS
from hearthload.errors import RefusedError
from hearthload.service.answers import Complaint, Weight
from hearthload.service.caches import Caches
from hearthload.service.ratings import meter_complaints
from hearthload.service.tidy import same_name

MINIMUM_W, MAXIMUM_W = 0.0, 1e5
"""Watts that a household appliance may be said to take [W]."""

MINIMUM_V, MAXIMUM_V = 50.0, 500.0
"""Mains voltages of appliances and meters [V]."""


class _Named(Protocol):
    @property
    def name(self) -> str: ...


def refuse_unknown_plug(plug: str, field: str = "plug") -> None:
    """Refuse a plug that the program has no row for."""
    if plug not in PLUGS:
        raise RefusedError(f"There is no plug type “{plug}”.", field=field, code="unknown_plug")


def refuse_taken_name(name: str, others: Iterable[_Named], what: str) -> None:
    """Refuse a name that another of its sort has: commands and lists tell them apart by name."""
    for other in others:
        if same_name(name, other.name):
            raise RefusedError(
                f"There is {what} called “{other.name}” already. Choose another name.",
                field="name",
                code="name_taken",
            )


def refuse_stops(complaints: Iterable[Complaint]) -> None:
    """Refuse what a complaint stops; warnings may pass."""
    for complaint in complaints:
        if complaint.weight is Weight.STOPS:
            raise RefusedError(complaint.sentence, field=complaint.field, code=complaint.code)


def running_on_meter(held: Caches, meter_id: int) -> Measurement | None:
    """Find the measurement that a meter is busy with."""
    return next((found for found in _running(held) if found.meter_id == meter_id), None)


def running_of_appliance(held: Caches, appliance_id: int) -> Measurement | None:
    """Find the measurement that is under way on an appliance."""
    return next((found for found in _running(held) if found.appliance_id == appliance_id), None)


def refuse_busy_meter(held: Caches, meter: Meter, *, ignoring: int | None = None) -> None:
    """Refuse a meter that measures something now, saying what."""
    busy = running_on_meter(held, meter.id)
    if busy is not None and busy.id != ignoring:
        name = held.appliances[busy.appliance_id].name
        raise RefusedError(
            f"The meter “{meter.name}” is measuring “{name}” now. Finish that first, or take another meter.",
            field="meter_id",
            code="meter_in_use",
        )


def refuse_measured_appliance(held: Caches, appliance: Appliance, *, ignoring: int | None = None) -> None:
    """Refuse an appliance that is being measured now."""
    running = running_of_appliance(held, appliance.id)
    if running is not None and running.id != ignoring:
        raise RefusedError(
            f"“{appliance.name}” is being measured already. Finish that measurement first.",
            field="appliance_id",
            code="already_measured",
        )


def refuse_hard_wired(appliance: Appliance) -> None:
    """Refuse a plug-in meter for what has no plug."""
    if appliance.hard_wired:
        raise RefusedError(
            f"“{appliance.name}” is hard-wired: it is not for a plug-in meter. Take the watts on its "
            "nameplate, or have an electrician measure it.",
            field="appliance_id",
            code="hard_wired",
        )


def refuse_unfit_meter(held: Caches, meter: Meter, appliance: Appliance) -> None:
    """Refuse a meter that the appliance would overload."""
    refuse_stops(meter_complaints(meter, appliance, held.household))


def refuse_unless(measurement: Measurement, wanted: MeasurementState, sentence: str, code: str) -> None:
    """Refuse unless the measurement is in the state that the edit needs."""
    if measurement.state is not wanted:
        raise RefusedError(sentence, field="measurement_id", code=code)


def _running(held: Caches) -> Iterable[Measurement]:
    return (found for found in held.measurements.values() if found.state is MeasurementState.RUNNING)
