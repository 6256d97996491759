"""The open doubts about a measurement, each with its likely fixes; what is chosen is one undoable edit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QVBoxLayout, QWidget

from hearthload.domain.appliance import Kind
from hearthload.service.answers import Complaint, Fix, FixAction, Weight
from hearthload.window.complaints import ComplaintLines, FixWanted
from hearthload.window.parts import label
from hearthload.window.readings.entry_words import clock_hours_words, plain_words
from hearthload.window.readings.table_columns import draft_of
from hearthload.window.session import Session
from hearthload.window.words import KIND_WORDS

if TYPE_CHECKING:
    from hearthload.service.doubts import OpenDoubt

MOST_SHOWN: Final = 3
AFTER_PAINT_MS: Final = 150
"""By then what changed is on the screen; an offer that comes a moment later is not missed."""

IT_IS_RIGHT: Final = "It is right"


class DoubtLines(QWidget):
    """Takes no room while there is no doubt."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._measurement_id: int | None = None
        self._shown: dict[Complaint, OpenDoubt] = {}
        self._kind: Kind | None = None
        self.lines = ComplaintLines(self)
        self.lines.fix_wanted.connect(self._fix)
        self.more = label("", "muted", self)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.lines)
        column.addWidget(self.more)
        self.hide()

    def show_measurement(self, measurement_id: int | None) -> None:
        """Show the open doubts about a measurement."""
        kind = self._kind if measurement_id == self._measurement_id else None
        self._measurement_id = measurement_id
        doubts: tuple[OpenDoubt, ...] = ()
        if measurement_id is not None and self._session.is_open:
            from hearthload.service import queries  # noqa: PLC0415 (after first paint)

            doubts = queries.open_doubts(self._session.logbook, measurement_id)
        self._show(doubts[:MOST_SHOWN], kind)
        if any(doubt.asks_for_kind for doubt in self._shown.values()):
            QTimer.singleShot(AFTER_PAINT_MS, self.offer_kind)
        left = len(doubts) - len(self._shown)
        self.more.setText(f"and {left} more, once these are settled" if left > 0 else "")
        self.more.setVisible(left > 0)
        self.setVisible(bool(doubts))

    def offer_kind(self) -> None:
        """Offer a better kind where one would explain a doubt; asked after all else was painted."""
        if self._measurement_id is None or not self._session.is_open:
            return
        if not any(doubt.asks_for_kind for doubt in self._shown.values()):
            return
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)

        kind = queries.offered_kind(self._session.logbook, self._measurement_id)
        if kind is not self._kind:
            self._show(tuple(self._shown.values()), kind)

    def _show(self, doubts: Sequence[OpenDoubt], kind: Kind | None) -> None:
        self._kind = kind
        self._shown = {_complaint(doubt, kind): doubt for doubt in doubts}
        self.lines.show_complaints(list(self._shown))

    def _fix(self, wanted: FixWanted) -> None:
        doubt, measurement_id = self._shown.get(wanted.complaint), self._measurement_id
        if doubt is None or measurement_id is None:
            return
        match wanted.fix.action:
            case FixAction.ANSWER:
                self._answer(measurement_id, doubt)
            case FixAction.SET_VALUE if wanted.fix.value is not None:
                self._correct(doubt, wanted.fix)
            case FixAction.OTHER_KIND:
                self._take_as(measurement_id)
            case _:
                return

    def _answer(self, measurement_id: int, doubt: OpenDoubt) -> None:
        from hearthload.service.edits.settling import answer_doubt  # noqa: PLC0415 (after first paint)

        reading_id = None if doubt.reading is None else doubt.reading.id
        self._session.do(answer_doubt, measurement_id, doubt.doubt.code, reading_id)

    def _correct(self, doubt: OpenDoubt, fix: Fix) -> None:
        from hearthload.service.edits.readings import change_reading  # noqa: PLC0415 (after first paint)

        if doubt.reading is not None:
            draft = draft_of(doubt.reading)
            if fix.value == doubt.suggested_h:
                draft = replace(draft, elapsed_h=fix.value)
            elif fix.value is not None:
                draft = replace(draft, energy_kwh=fix.value)
            self._session.do(change_reading, doubt.reading.id, draft)

    def _take_as(self, measurement_id: int) -> None:
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)
        from hearthload.service.edits.appliances import take_as_kind  # noqa: PLC0415 (after first paint)

        if self._kind is not None:
            context = queries.entry_context(self._session.logbook, measurement_id, self._session.now())
            self._session.do(take_as_kind, context.appliance.id, self._kind)


def _complaint(doubt: OpenDoubt, kind: Kind | None) -> Complaint:
    fixes = []
    if doubt.suggested_kwh is not None:
        words = f"Make it {plain_words(doubt.suggested_kwh)} kWh"
        fixes.append(Fix(words, FixAction.SET_VALUE, doubt.suggested_kwh))
    if doubt.suggested_h is not None:
        words = f"Make it {clock_hours_words(doubt.suggested_h)}"
        fixes.append(Fix(words, FixAction.SET_VALUE, doubt.suggested_h))
    if kind is not None and doubt.asks_for_kind:
        fixes.append(Fix(f"Take it as “{KIND_WORDS[kind]}”", FixAction.OTHER_KIND))
    fixes.append(Fix(IT_IS_RIGHT, FixAction.ANSWER))
    about = "" if doubt.reading is None else str(doubt.reading.id)
    sentence = doubt.sentence[:1].upper() + doubt.sentence[1:]
    return Complaint(about, doubt.doubt.code.value, Weight.WARNS, sentence, tuple(fixes))
