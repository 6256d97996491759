"""The sheet for adding or changing a meter."""

from __future__ import annotations

from typing import Final

from PySide6.QtWidgets import QWidget

from hearthload.domain.meter import DisplayRounding, Meter, MeterDraft, PowerLoss
from hearthload.window.edit_sheet import EditSheet
from hearthload.window.session import Session
from hearthload.window.typing_in import Typed, written
from hearthload.window.words import CAUTION_METER_LIMIT, POWER_LOSS_WORDS, ROUNDING_WORDS, plug_choices

HOURS_STEPS: Final = (
    (1 / 60, "1 minute, shown as 37:20"),
    (0.01, "0.01 hour, shown as 37.33"),
    (0.1, "0.1 hour, shown as 37.3"),
    (1.0, "1 hour"),
    (24.0, "1 day"),
)


def allowed_percent() -> float:
    """Give the half-width that is allowed for a meter of unstated accuracy [%]."""
    from hearthload.service.accuracy import UNSTATED_PERCENT  # noqa: PLC0415 (after first paint)

    return UNSTATED_PERCENT


class MeterSheet(EditSheet):
    """All that is typed about a meter."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self._changing: int | None = None
        self._add_rows()

    def begin_add(self) -> None:
        """Start with the usual meter on the household's plug."""
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)

        plug = queries.household(self.session.logbook).default_plug
        self._changing = None
        self._fill(MeterDraft(name="", plug=plug))
        self.begin("Add a meter", "Add meter")

    def begin_change(self, meter: Meter) -> None:
        """Start with what is known of a meter."""
        self._changing = meter.id
        self._fill(meter)
        self.begin(f"Change {meter.name}", "Save changes")

    def save_typed(self) -> int | None:
        """Add or change the meter."""
        from hearthload.service.edits import meters  # noqa: PLC0415 (after first paint)

        draft = self.draft()
        if draft is None:
            return None
        if self._changing is None:
            added = self.session.do(meters.add_meter, draft)
            return None if added is None else added.created_id
        changed = self.session.do(meters.change_meter, self._changing, draft)
        return None if changed is None else self._changing

    def draft(self) -> MeterDraft | None:
        """Give what was typed, None when a line cannot be taken."""
        typed = Typed(self.form)
        draft = MeterDraft(
            name=typed.required("name", "Give the meter a name, such as “grey meter”."),
            plug=self.plug.value,
            voltage_v=typed.positive("voltage_v"),
            current_a=typed.positive("current_a"),
            energy_step_kwh=typed.positive_or("energy_step_kwh", MeterDraft("").energy_step_kwh),
            elapsed_step_h=self.elapsed_step.value,
            gain_percent=typed.number("gain_percent"),
            power_loss=self.power_loss.value,
            rounding=self.rounding.value,
            note=typed.text("note"),
        )
        return draft if typed.good else None

    def _add_rows(self) -> None:
        form = self.form
        form.add_line("name", "Name", hint="What you call it, such as “grey meter”")
        form.add_heading("What it carries")
        self.plug = form.add_choice("plug", "Plug", plug_choices())
        form.add_line("voltage_v", "Voltage", unit="V", hint="As printed on it; empty: the household's mains")
        form.add_line("current_a", "Current", unit="A", hint=f"As printed on it. {CAUTION_METER_LIMIT}")
        form.add_heading("What it shows")
        form.add_line("energy_step_kwh", "Energy step", unit="kWh",
            hint="The last digit of its kWh display; empty: 0.01")  # fmt: skip
        self.elapsed_step = form.add_choice("elapsed_step_h", "Hours step", HOURS_STEPS,
            hint="The last digit of its hours display")  # fmt: skip
        self.rounding = form.add_choice("rounding", "Last digit", tuple(ROUNDING_WORDS.items()),
            hint="Most cut off what they cannot show; “not sure” allows for both")  # fmt: skip
        form.add_line("gain_percent", "Accuracy ±", unit="%",
            hint=f"From its leaflet; empty: ± {allowed_percent():.1f} % is allowed for")  # fmt: skip
        self.power_loss = form.add_choice("power_loss", "In a power cut", tuple(POWER_LOSS_WORDS.items()),
            hint="Unplug it for a minute: does it keep its counters?")  # fmt: skip
        form.add_line("note", "Note")

    def _fill(self, known: Meter | MeterDraft) -> None:
        self.form.set_texts(
            name=known.name,
            voltage_v=written(known.voltage_v),
            current_a=written(known.current_a),
            energy_step_kwh=written(known.energy_step_kwh),
            gain_percent=written(known.gain_percent),
            note=known.note,
        )
        self.plug.choose(known.plug)
        self.rounding.choose(DisplayRounding(known.rounding))
        self.power_loss.choose(PowerLoss(known.power_loss))
        steps = {step for step, _ in HOURS_STEPS}
        other = (
            () if known.elapsed_step_h in steps else ((known.elapsed_step_h, f"{known.elapsed_step_h:g} h"),)
        )
        self.elapsed_step.set_choices((*HOURS_STEPS, *other))
        self.elapsed_step.choose(known.elapsed_step_h)
