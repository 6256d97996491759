"""One meter in words: what it is, where it is, what it may carry; with its buttons and cautions."""

from __future__ import annotations

from datetime import datetime

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from hearthload.domain.figures import format_watts
from hearthload.domain.meter import Meter
from hearthload.domain.plugs import LONG_RUN_SHARE
from hearthload.errors import RefusedError
from hearthload.service.answers import Complaint, MeterRow, Weight
from hearthload.window.complaints import ComplaintLines
from hearthload.window.meters.meter_cells import hours_step_words, limit_w, since_words
from hearthload.window.meters.meter_form import allowed_percent
from hearthload.window.parts import TitleLabel, button, label, title_row
from hearthload.window.theme import GRID
from hearthload.window.words import CAUTION_METER_LIMIT, POWER_LOSS_WORDS, ROUNDING_WORDS, plug_words


class MeterDetail(QWidget):
    """What is known of the chosen meter; empty when there is none."""

    change_wanted = Signal()
    remove_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.name = TitleLabel(self)
        self.change_button = button("Change", "quiet", self)
        self.remove_button = button("Remove", "quiet", self)
        self.remove_button.setToolTip("Remove this meter; Ctrl+Z brings it back")
        self.change_button.clicked.connect(self.change_wanted)
        self.remove_button.clicked.connect(self.remove_wanted)
        self.complaints = ComplaintLines(self)
        self._facts = QGridLayout()
        self._facts.setHorizontalSpacing(GRID * 2)
        self._facts.setVerticalSpacing(GRID)
        self._facts.setColumnStretch(1, 1)
        self._lay_out()

    def show_meter(self, row: MeterRow | None, now: datetime) -> None:
        """Show a meter, or nothing."""
        self._inside.setVisible(row is not None)
        self.complaints.show_complaints(())
        while (item := self._facts.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        if row is None:
            return
        self.name.setText(row.meter.name)
        for at, (caption, words) in enumerate(facts(row, now)):
            self._facts.addWidget(label(caption, "muted", self._inside), at, 0)
            self._facts.addWidget(label(words, "", self._inside, wrap=True), at, 1)

    def complain(self, error: RefusedError) -> None:
        """Say why something cannot be done with this meter."""
        self.complaints.show_complaints((Complaint("meter_id", error.code, Weight.STOPS, str(error)),))

    def _lay_out(self) -> None:
        self._inside = QWidget(self)
        self._inside.setMaximumWidth(90 * GRID)
        column = QVBoxLayout(self._inside)
        column.setContentsMargins(GRID, GRID, GRID * 2, GRID)
        column.setSpacing(GRID)
        column.addLayout(title_row(self.name, self.change_button, self.remove_button))
        column.addWidget(self.complaints)
        column.addLayout(self._facts)
        column.addSpacing(GRID)
        column.addWidget(label(CAUTION_METER_LIMIT, "muted", self._inside, wrap=True))
        column.addStretch(1)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self._inside)


def facts(row: MeterRow, now: datetime) -> list[tuple[str, str]]:
    """Give what is known of a meter as pairs of caption and words."""
    meter = row.meter
    where = "free" if row.appliance_name is None else f"on {row.appliance_name}"
    if row.since is not None:
        where += f", {since_words(row.since, now)}"
    found = [
        ("Where it is", where),
        ("Plug", plug_words(meter.plug)),
        ("Carries", _carries(meter)),
        ("Energy step", f"{meter.energy_step_kwh:g} kWh"),
        ("Hours step", hours_step_words(meter.elapsed_step_h)),
        ("Last digit", ROUNDING_WORDS[meter.rounding]),
        ("Accuracy", _accuracy(meter)),
        ("In a power cut", POWER_LOSS_WORDS[meter.power_loss]),
        ("Measurements", str(row.measurements)),
    ]
    return [*found, ("Note", meter.note)] if meter.note else found


def _accuracy(meter: Meter) -> str:
    if meter.gain_percent is not None:
        return f"± {meter.gain_percent:g} %"
    return f"not stated: ± {allowed_percent():.1f} % is allowed for"


def _carries(meter: Meter) -> str:
    watts = limit_w(meter)
    if watts is None:
        return "not known; look for volts and amps on its back"
    rated = "" if meter.current_a is None else f", rated {meter.current_a:g} A"
    return f"{format_watts(watts)}{rated}; {format_watts(LONG_RUN_SHARE * watts)} for three hours and more"
