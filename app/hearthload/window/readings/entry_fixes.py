"""What the one-click fixes do to the texts of the entry form."""

from __future__ import annotations

from dataclasses import replace

from hearthload.service import sentences
from hearthload.service.answers import Complaint, EntryContext, Fix, FixAction
from hearthload.window.readings.entry_form import EntryForm
from hearthload.window.readings.entry_words import clock_hours_words, counter_words, plain_words
from hearthload.window.readings.table_columns import draft_of
from hearthload.window.session import Session


def apply_fix(
    session: Session, form: EntryForm, complaint: Complaint, fix: Fix, context: EntryContext | None
) -> bool:
    """Put texts or the reading before right, the cursor where the work goes on; tell whether it was done."""
    if fix.action is FixAction.SET_BEFORE:
        return _mend_before(session, complaint.field, fix, context)
    if fix.action is FixAction.SET_TIME and fix.moment is not None:
        form.when.setText(sentences.said_when(fix.moment, session.now()))
        form.show_moment(session.now())
        form.focus_field("taken_at")
        return True
    if fix.action is FixAction.EXCHANGE:
        _exchange(form)
        return True
    if fix.action is FixAction.TO_WATTS:
        _to_watts(form)
        return True
    line = form.line(complaint.field)
    if line is None or fix.value is None:
        return False
    line.setText(fix_text(complaint.field, fix.value, context))
    form.focus_field(complaint.field)
    return True


def fix_text(field: str, value: float, context: EntryContext | None) -> str:
    """Write a fix's value the way its field is typed."""
    if field == "elapsed_h":
        return clock_hours_words(value)
    if field == "energy_kwh" and context is not None and context.meter is not None:
        return counter_words(value, context.meter.energy_step_kwh)
    return plain_words(value)


def _mend_before(session: Session, field: str, fix: Fix, context: EntryContext | None) -> bool:
    """Correct the reading before, as one edit that can be taken back; the typed one is judged anew."""
    from hearthload.service.edits.readings import change_reading  # noqa: PLC0415 (after first paint)

    last = None if context is None else context.last
    if last is None or last.id != fix.reading_id or fix.value is None:
        return False
    draft = draft_of(last)
    mended = (
        replace(draft, elapsed_h=fix.value) if field == "elapsed_h" else replace(draft, energy_kwh=fix.value)
    )
    return session.do(change_reading, last.id, mended) is not None


def _exchange(form: EntryForm) -> None:
    """Put the counter's text into the hours' field and the hours' into the counter's."""
    energy, hours = form.energy.text(), form.hours.text()
    form.energy.setText(hours)
    form.hours.setText(energy)
    form.focus_field("elapsed_h" if hours else "energy_kwh")


def _to_watts(form: EntryForm) -> None:
    """Put the counter's text into the watts' field; the counter waits for its number."""
    form.spots.lines["power_w"].setText(form.energy.text())
    form.energy.clear()
    form.focus_field("energy_kwh")
