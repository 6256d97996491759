"""The edits behind the measurement bar's actions, imported when first needed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from hearthload.domain.reading import ReadingDraft
from hearthload.service.changes import Changes
from hearthload.window.readings.measure_words import Action
from hearthload.window.session import Session


@dataclass(frozen=True, slots=True)
class Subject:
    """What an action is about: the appliance, and the measurement when there is one."""

    appliance_id: int
    measurement_id: int | None = None


@dataclass(frozen=True, slots=True)
class Details:
    """What the inline form of an action asks for."""

    at: datetime
    meter_id: int | None = None
    first: ReadingDraft | None = None
    exact_zero: bool = False


def perform(session: Session, action: Action, subject: Subject, details: Details) -> Changes | None:
    """Do what the action says as one undoable edit; None when it was refused."""
    from hearthload.service.edits import measurements as edits  # noqa: PLC0415 (after first paint)

    measurement_id, first, zero = subject.measurement_id, details.first, details.exact_zero
    if action is Action.PLAN:
        return session.do(edits.plan_measurement, subject.appliance_id, details.meter_id)
    if action is Action.START and first is not None and details.meter_id is not None:
        return session.do(
            edits.start_measurement, subject.appliance_id, details.meter_id, first,
            exact_zero=zero, measurement_id=measurement_id,
        )  # fmt: skip
    if measurement_id is None:
        return None
    if action is Action.RESET and first is not None:
        return session.do(edits.reset_meter, measurement_id, first, exact_zero=zero)
    if action is Action.SWAP and first is not None and details.meter_id is not None:
        return session.do(edits.swap_meter, measurement_id, details.meter_id, first, exact_zero=zero)
    return _at_once(session, action, measurement_id, details.at)


def _at_once(session: Session, action: Action, measurement_id: int, at: datetime) -> Changes | None:
    """Do what needs no more than the measurement and perhaps a time."""
    from hearthload.service.edits import measurements as edits  # noqa: PLC0415 (after first paint)

    if action is Action.FINISH:
        return session.do(edits.finish_measurement, measurement_id, at)
    if action in {Action.REOPEN, Action.TAKE_UP}:
        return session.do(edits.reopen_measurement, measurement_id)
    if action is Action.SET_ASIDE:
        return session.do(edits.set_aside_measurement, measurement_id)
    if action in {Action.JOIN, Action.PART}:
        from hearthload.service.edits.settling import join_measurement  # noqa: PLC0415 (after first paint)

        return session.do(join_measurement, measurement_id, joined=action is Action.JOIN)
    if action is Action.DROP_PLAN:
        return session.do(edits.remove_measurement, measurement_id)
    return None
