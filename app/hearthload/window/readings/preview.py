"""What a reading would give, in words: the span it closes and what the daily average becomes."""

from __future__ import annotations

from datetime import datetime

from hearthload.domain.figures import format_days_to_go, format_ends, format_number, format_watts
from hearthload.domain.reading import ReadingDraft
from hearthload.estimate.answers import Estimate
from hearthload.service.answers import EntryContext, Preview
from hearthload.window.readings.entry_words import span_words, when_words

_FINE = 3.0
"""Steps of the display from which a span's average watts are told."""


def preview_words(preview: Preview, draft: ReadingDraft, context: EntryContext, now: datetime) -> str:
    """Say in one or two sentences what saving this reading would give."""
    sentences = [
        _span_sentence(preview, draft, context, now),
        _average_sentence(preview),
        _enough_sentence(preview),
    ]
    return " ".join(sentence for sentence in sentences if sentence)


def _span_sentence(preview: Preview, draft: ReadingDraft, context: EntryContext, now: datetime) -> str:
    if preview.span_energy_kwh is None or preview.span_h is None:
        if preview.stopped or context.last is not None:
            return ""
        return "This is the first reading; the next one gives the first average."
    is_last = context.last is not None and context.last.taken_at < draft.taken_at
    since = (
        f"Since {when_words(context.last.taken_at, now)}"
        if is_last and context.last
        else "Since the one before"
    )
    energy = format_number(preview.span_energy_kwh, 3)
    # A span of a step or two of the display says nothing of the watts.
    coarse = context.meter is not None and preview.span_energy_kwh < _FINE * context.meter.energy_step_kwh
    power_w = None if coarse else preview.span_power_w
    watts = "" if power_w is None else f", {format_watts(power_w)} on average"
    return f"{since}: {energy} kWh in {span_words(preview.span_h)}{watts}."


def _average_sentence(preview: Preview) -> str:
    after = preview.after
    if preview.stopped or after is None or after.daily_kwh is None:
        return ""
    becomes = f"Daily average becomes {format_ends(after.daily_kwh, 'kWh')}"
    if preview.before is None or preview.before.daily_kwh is None:
        return f"{becomes}{', preliminary' if after.preliminary else ''}."
    return f"{becomes}; it was {format_ends(preview.before.daily_kwh)}."


def _enough_sentence(preview: Preview) -> str:
    after = preview.after
    if preview.stopped or after is None or after.daily_kwh is None:
        return ""
    if after.enough.well_measured:
        was = preview.before is not None and preview.before.enough.well_measured
        return "" if was else "With it the appliance is well measured."
    return _to_go(after)


def _to_go(after: Estimate) -> str:
    if after.enough.days_to_go is None:
        return ""
    words = format_days_to_go(after.enough.days_to_go)
    return f"{words[0].upper()}{words[1:]} to go."
