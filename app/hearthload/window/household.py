"""The sheet for the household: its name, its mains, what energy costs."""

from __future__ import annotations

from typing import Final

from PySide6.QtWidgets import QWidget

from hearthload.domain.household import Household
from hearthload.window.edit_sheet import EditSheet
from hearthload.window.session import Session
from hearthload.window.typing_in import Typed, written
from hearthload.window.words import plug_choices

FREQUENCIES: Final = ((50.0, "50 Hz"), (60.0, "60 Hz"))


class HouseholdSheet(EditSheet):
    """Settings of the household that the logbook belongs to."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        form = self.form
        form.add_line("name", "Name", hint="Whose logbook this is; stands in the window's title")
        form.add_heading("Mains")
        form.add_line("mains_voltage_v", "Voltage", unit="V", hint="Empty: 230 V")
        self.frequency = form.add_choice("mains_frequency_hz", "Frequency", FREQUENCIES)
        self.plug = form.add_choice(
            "default_plug", "Usual plug", plug_choices(), hint="Offered for every new appliance and meter"
        )
        form.add_heading("Cost, if you like")
        form.add_line("price_per_kwh", "Price per kWh")
        form.add_line("currency", "Currency", hint="Such as EUR, as you want it written")
        form.add_line("note", "Note")

    def begin_change(self) -> None:
        """Start with the household as it stands."""
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)

        known = queries.household(self.session.logbook)
        self.form.set_texts(
            name=known.name,
            mains_voltage_v=written(known.mains_voltage_v),
            price_per_kwh=written(known.price_per_kwh),
            currency=known.currency,
            note=known.note,
        )
        hz = known.mains_frequency_hz
        other = () if hz in dict(FREQUENCIES) else ((hz, f"{hz:g} Hz"),)
        self.frequency.set_choices((*FREQUENCIES, *other))
        self.frequency.choose(hz)
        self.plug.choose(known.default_plug)
        self.begin("Household")

    def save_typed(self) -> int | None:
        """Save the settings; there is one household, so its number is 1."""
        from hearthload.service.edits.household import set_household  # noqa: PLC0415 (after first paint)

        typed = Typed(self.form)
        household = Household(
            name=typed.text("name"),
            mains_voltage_v=typed.positive_or("mains_voltage_v", Household().mains_voltage_v),
            mains_frequency_hz=self.frequency.value,
            default_plug=self.plug.value,
            price_per_kwh=typed.number("price_per_kwh"),
            currency=typed.text("currency"),
            note=typed.text("note"),
        )
        if not typed.good or self.session.do(set_household, household) is None:
            return None
        return 1
