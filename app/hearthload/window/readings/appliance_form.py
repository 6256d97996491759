"""The sheet for adding or changing an appliance."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from hearthload.domain.appliance import Appliance, ApplianceDraft, Cycling, Kind, Role
from hearthload.window.edit_sheet import EditSheet
from hearthload.window.session import Session
from hearthload.window.typing_in import Typed, written
from hearthload.window.words import (
    CAUTION_HARD_WIRED,
    CAUTION_MEDICAL,
    CYCLING_WORDS,
    KIND_CHOICES,
    ROLE_WORDS,
    plug_choices,
)


class ApplianceSheet(EditSheet):
    """All that is typed about an appliance."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self._changing: int | None = None
        self._add_rows()
        self.hard_wired.toggled.connect(self._show_cautions)
        self.medical.toggled.connect(self._show_cautions)

    def begin_add(self) -> None:
        """Start with an empty sheet and the household's plug."""
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)

        plug = queries.household(self.session.logbook).default_plug
        self._changing = None
        self._fill(ApplianceDraft(name="", kind=Kind.NOT_SURE, plug=plug))
        self.begin("Add an appliance", "Add appliance")

    def begin_change(self, appliance: Appliance) -> None:
        """Start with what is known of an appliance."""
        self._changing = appliance.id
        self._fill(appliance)
        self.begin(f"Change {appliance.name}", "Save changes")

    def save_typed(self) -> int | None:
        """Add or change the appliance."""
        from hearthload.service.edits import appliances  # noqa: PLC0415 (after first paint)

        draft = self.draft()
        if draft is None:
            return None
        if self._changing is None:
            added = self.session.do(appliances.add_appliance, draft)
            return None if added is None else added.created_id
        changed = self.session.do(appliances.change_appliance, self._changing, draft)
        return None if changed is None else self._changing

    def draft(self) -> ApplianceDraft | None:
        """Give what was typed, None when a line cannot be taken."""
        typed = Typed(self.form)
        target = typed.positive("target")
        draft = ApplianceDraft(
            name=typed.required("name", "Give the appliance a name, as you call it at home."),
            kind=self.kind.value,
            room=typed.text("room"),
            role=self.role.value,
            plug=self.plug.value,
            voltage_v=typed.positive("voltage_v"),
            nameplate_w=typed.positive("nameplate_w"),
            running_w=typed.positive("running_w"),
            target=None if target is None else target / 100.0,
            hard_wired=self.hard_wired.isChecked(),
            medical=self.medical.isChecked(),
            note=typed.text("note"),
            cycling=self.cycling.value,
        )
        return draft if typed.good else None

    def _add_rows(self) -> None:
        form = self.form
        form.add_line("name", "Name", hint="As you call it at home")
        form.add_line("room", "Room")
        self.kind = form.add_choice(
            "kind",
            "Kind",
            tuple(KIND_CHOICES.items()),
            hint="Says how much one day may differ from the next",
        )
        self.role = form.add_choice("role", "In an outage", tuple(ROLE_WORDS.items()))
        self.medical = form.add_check("medical", "", "keeps someone alive or healthy")
        form.add_heading("Plug and nameplate")
        self.hard_wired = form.add_check("hard_wired", "Connection", "hard-wired, no plug to pull")
        self.plug = form.add_choice("plug", "Plug", plug_choices())
        form.add_line("voltage_v", "Voltage", unit="V", hint="Empty: the household's mains")
        form.add_line("nameplate_w", "Nameplate", unit="W", hint="The watts on its data plate")
        self.cycling = form.add_choice(
            "cycling",
            "Its motor runs",
            tuple(CYCLING_WORDS.items()),
            hint="For refrigerators, freezers, pumps and fans",
        )
        form.add_line(
            "running_w", "While running", unit="W", hint="Watts that you have seen it draw while running"
        )
        form.add_heading("Measuring")
        form.add_line(
            "target", "Known to ±", unit="%", hint="Empty: what is usual for its kind, ± 5 % to ± 30 %"
        )
        form.add_line("note", "Note")

    def _fill(self, known: Appliance | ApplianceDraft) -> None:
        target = None if known.target is None else known.target * 100.0
        self.form.set_texts(
            name=known.name,
            room=known.room,
            voltage_v=written(known.voltage_v),
            nameplate_w=written(known.nameplate_w),
            running_w=written(known.running_w),
            target=written(target),
            note=known.note,
        )
        self.kind.choose(known.kind)
        self.role.choose(Role(known.role))
        self.plug.choose(known.plug)
        self.cycling.choose(Cycling(known.cycling))
        self.hard_wired.setChecked(known.hard_wired)
        self.medical.setChecked(known.medical)
        self._show_cautions()

    def _show_cautions(self, _ticked: bool = False) -> None:
        self.form.rows["hard_wired"].say_hint(CAUTION_HARD_WIRED if self.hard_wired.isChecked() else "")
        self.form.rows["medical"].say_hint(CAUTION_MEDICAL if self.medical.isChecked() else "")
        self.form.rows["plug"].set_visible(not self.hard_wired.isChecked())
