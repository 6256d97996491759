"""What the one-click fixes do to the texts of the entry form."""

from __future__ import annotations

from hearthload.service.answers import Complaint, EntryContext, Fix, FixAction
from hearthload.window.readings.entry_form import EntryForm
from hearthload.window.readings.entry_words import clock_hours_words, counter_words, plain_words


def apply_fix(form: EntryForm, complaint: Complaint, fix: Fix, context: EntryContext | None) -> bool:
    """Put the texts right and the cursor where the work goes on; tell whether anything was done."""
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
