"""What stands in the entry form, judged: the draft, the complaints, and what saving it would give."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from hearthload.domain.reading import ReadingDraft
from hearthload.service.answers import Complaint, EntryContext, FixAction, Weight
from hearthload.window.readings.entry_fields import Texts, read_entry
from hearthload.window.readings.preview import preview_words

if TYPE_CHECKING:
    from hearthload.service.logbook import Logbook

NO_COUNTER = Complaint("energy_kwh", "empty", Weight.STOPS, "Type the kWh that the display shows.")


@dataclass(frozen=True, slots=True)
class Judged:
    """A form's texts judged: a draft when they can be read, complaints, and the result in words."""

    draft: ReadingDraft | None
    complaints: tuple[Complaint, ...]
    words: str

    @property
    def stopped(self) -> bool:
        """Tell whether it cannot be saved as it stands."""
        return self.draft is None or any(c.weight is Weight.STOPS for c in self.complaints)

    @property
    def doubtful(self) -> bool:
        """Tell whether it can be saved but should be asked about."""
        return not self.stopped and bool(self.complaints)


def judge(logbook: Logbook, context: EntryContext, texts: Texts, now: datetime) -> Judged:
    """Read the texts and ask the service what saving them would give."""
    entry = read_entry(texts, now)
    if entry.draft is None:
        return Judged(None, entry.complaints, "")
    from hearthload.service import queries  # noqa: PLC0415 (after first paint)

    preview = queries.preview(logbook, context.measurement.id, entry.draft, now)
    return Judged(
        entry.draft,
        (*entry.complaints, *preview.complaints),
        preview_words(preview, entry.draft, context, now),
    )


def settled_only(
    complaints: Iterable[Complaint], held_field: str, shown: Iterable[Complaint]
) -> list[Complaint]:
    """Leave out new complaints about the field that is just being typed in."""
    known = {(complaint.field, complaint.code) for complaint in shown}
    return [c for c in complaints if c.field != held_field or (c.field, c.code) in known]


def is_new_run(action: FixAction) -> bool:
    """Tell whether a fix says that the counters began anew."""
    return action in {FixAction.METER_RESET, FixAction.METER_SWAPPED}
