"""The face of the entry panel: whose reading it is, the form, the result in words, the inline forms."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from hearthload.domain.measurement import MeasurementState
from hearthload.service.answers import Complaint, EntryContext, Weight
from hearthload.window.following import Following
from hearthload.window.parts import button, label
from hearthload.window.readings.entry_form import EntryForm
from hearthload.window.readings.measure_forms import ActionForm
from hearthload.window.theme import GRID

SAVE, SAVE_ANYWAY = "Save reading", "Save anyway"


class EntryFace(Following):
    """Everything of the entry panel that is seen; it decides nothing."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("look", "sheet")
        self.run_form: ActionForm | None = None
        self.name = label("", "lead", self)
        self.round_words = label("", "muted", self, wrap=True)
        self.round_words.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.skip_button = button("S&kip", "quiet", self)
        self.form = EntryForm(self)
        self.result = label("", "", self, wrap=True)
        self.save_button = button(SAVE, "primary", self)
        self._arrange()

    def _arrange(self) -> None:
        head = QHBoxLayout()
        head.setSpacing(GRID)
        for part, stretch in ((self.name, 0), (self.round_words, 1), (self.skip_button, 0)):
            head.addWidget(part, stretch, Qt.AlignmentFlag.AlignVCenter)
        foot = QHBoxLayout()
        foot.setSpacing(GRID * 2)
        foot.addWidget(self.form.spots.more_button, 0, Qt.AlignmentFlag.AlignVCenter)
        foot.addStretch(1)
        foot.addWidget(self.save_button, 0, Qt.AlignmentFlag.AlignTop)
        self._page = QVBoxLayout(self)
        self._page.setContentsMargins(GRID * 2, GRID, GRID * 2, GRID * 2)
        self._page.setSpacing(GRID)
        self._page.addLayout(head)
        self._page.addWidget(self.form)
        self._page.addWidget(self.result)
        self._page.addLayout(foot)
        self.form.spots.order_tabs()

    def show_who(self, context: EntryContext | None) -> bool:
        """Say which meter is read; hide where nothing is measured now. Tell whether one can be typed."""
        running = context is not None and context.measurement.state is MeasurementState.RUNNING
        self.setVisible(running)
        for part in (self.form, self.form.spots.more_button, self.save_button):
            part.setVisible(self.run_form is None)
        self.show_result(self.result.text())
        self.name.setText("" if context is None or context.meter is None else context.meter.name)
        return running

    def show_result(self, words: str) -> None:
        """Say what a reading would give, or gave."""
        self.result.setText(words)
        self.result.setVisible(bool(words) and self.run_form is None)

    def show_complaints(self, complaints: Sequence[Complaint]) -> None:
        """Say complaints beside their fields; with nothing but doubts the button says "Save anyway"."""
        self.form.show_complaints(complaints)
        doubtful = bool(complaints) and all(c.weight is Weight.WARNS for c in complaints)
        self.save_button.setText(SAVE_ANYWAY if doubtful else SAVE)

    def open_run_form(self, form: ActionForm) -> None:
        """Put an inline reset or swap form in place of the fields."""
        self.run_form = form
        self._page.addWidget(form)
        form.show()

    def close_run_form(self) -> None:
        """Take the inline form away."""
        if self.run_form is not None:
            self.run_form.hide()
            self.run_form.deleteLater()
            self.run_form = None
