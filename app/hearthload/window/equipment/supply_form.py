"""The sheet for adding or changing equipment: only the rows of its kind, empty for what is not known."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from PySide6.QtWidgets import QLabel, QWidget

from hearthload.domain.supply import Supply, SupplyDraft, SupplyKind
from hearthload.service.outage_words import CHEMISTRY_WORDS, ENGINE_WORDS, FUEL_WORDS, WAVEFORM_WORDS
from hearthload.window.edit_sheet import EditSheet
from hearthload.window.equipment.kind_words import KIND_CHOICES, OWNED_CHOICES
from hearthload.window.equipment.member_boxes import NOTHING_TO_CHOOSE, MemberBoxes
from hearthload.window.equipment.supply_fields import LINES, SECTIONS, ChoiceField, LineField
from hearthload.window.session import Session
from hearthload.window.typing_in import Typed, written
from hearthload.window.words import plug_choices

NAME_WANTED = "Give the equipment a name, such as “shed battery”."


class SupplySheet(EditSheet):
    """All that is typed about one piece of equipment."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self._changing: int | None = None
        self._headings: list[QLabel] = []
        self._add_rows()
        self.kind.currentIndexChanged.connect(self._kind_chosen)
        self._show_kind()

    def begin_add(self, kind: SupplyKind = SupplyKind.BATTERY) -> None:
        """Start with an empty sheet."""
        self._changing = None
        self._fill(SupplyDraft(name="", kind=kind))
        self.begin("Add equipment", "Add equipment")

    def begin_change(self, supply: Supply) -> None:
        """Start with what is known of a supply."""
        self._changing = supply.id
        self._fill(supply.draft)
        self.begin(f"Change {supply.name}", "Save changes")

    def save_typed(self) -> int | None:
        """Add or change the supply."""
        from hearthload.service.edits import supplies  # noqa: PLC0415 (after first paint)

        draft = self.draft()
        if draft is None:
            return None
        if self._changing is None:
            added = self.session.do(supplies.add_supply, draft)
            return None if added is None else added.created_id
        changed = self.session.do(supplies.change_supply, self._changing, draft)
        return None if changed is None else self._changing

    def draft(self) -> SupplyDraft | None:
        """Give what was typed of this kind's rows, None when a line cannot be taken."""
        typed, kind = Typed(self.form), self.kind.value
        found: dict[str, Any] = {line.name: _number(typed, line) for line in LINES if kind in line.kinds}
        found |= self._chosen(kind)
        draft = SupplyDraft(
            name=typed.required("name", NAME_WANTED),
            kind=kind,
            owned=self.owned.value,
            note=typed.text("note"),
            **found,
        )
        return draft if typed.good else None

    def _chosen(self, kind: SupplyKind) -> dict[str, Any]:
        """Give what is chosen or ticked in this kind's rows."""
        every = {
            "chemistry": self.chemistry.value,
            "waveform": self.waveform.value,
            "fuel": self.fuel.value,
            "control": self.control.value,
            "plug": self.plug.value,
            "grid_tied": self.grid_tied.isChecked(),
            "members": self.members.ticked,
        }
        rows = (row for section in SECTIONS for row in section.rows if isinstance(row, ChoiceField))
        return {row.name: every[row.name] for row in rows if kind in row.kinds}

    def _add_rows(self) -> None:
        form = self.form
        form.add_line("name", "Name", hint="What you call it, such as “shed battery”")
        self.kind = form.add_choice("kind", "What it is", tuple(KIND_CHOICES.items()))
        self.owned = form.add_choice("owned", "Yours", tuple(OWNED_CHOICES.items()))
        for section in SECTIONS:
            self._headings.append(form.add_heading(section.heading))
            for row in section.rows:
                if isinstance(row, LineField):
                    form.add_line(row.name, row.caption, unit=row.unit, hint=row.hint)
                else:
                    self._add_choice(row.name)
        form.add_line("note", "Note")

    def _add_choice(self, name: str) -> None:
        form = self.form
        match name:
            case "chemistry":
                self.chemistry = form.add_choice(name, "Chemistry", tuple(CHEMISTRY_WORDS.items()),
                    hint="What stores the energy; lead-acid with caps for water is flooded")  # fmt: skip
            case "waveform":
                self.waveform = form.add_choice(name, "Waveform", tuple(WAVEFORM_WORDS.items()),
                    hint="Motors and medical equipment want a pure sine")  # fmt: skip
            case "fuel":
                self.fuel = form.add_choice(name, "Fuel", tuple(FUEL_WORDS.items()))
            case "control":
                self.control = form.add_choice(name, "Speed", tuple(ENGINE_WORDS.items()))
            case "plug":
                self.plug = form.add_choice(name, "Outlet type", plug_choices())
            case "grid_tied":
                self.grid_tied = form.add_check(name, "", "tied to the grid",
                    hint="Their inverter feeds the house and stops when the grid does")  # fmt: skip
            case "members":
                self.members = MemberBoxes(form)
                form.add_row(name, "", self.members)

    def _kind_chosen(self, _place: int) -> None:
        self._show_kind()

    def _show_kind(self) -> None:
        """Show the rows of the chosen kind under its own words; what stands in the others stays there."""
        kind, rows = self.kind.value, self.form.rows
        for heading, section in zip(self._headings, SECTIONS, strict=True):
            heading.setVisible(section.has(kind))
            for row in section.rows:
                self.form.show_row(row.name, visible=kind in row.kinds)
                if isinstance(row, LineField) and kind in row.kinds:
                    caption = row.captions.get(kind, row.caption)
                    rows[row.name].caption.setText(caption)
                    rows[row.name].editor.setAccessibleName(
                        f"{caption} ({row.unit})" if row.unit else caption
                    )
                    rows[row.name].say_hint(row.hints.get(kind, row.hint))
        if kind is SupplyKind.COMBINATION:
            rows["members"].say_hint("" if len(self.members.boxes) > 1 else NOTHING_TO_CHOOSE)

    def _fill(self, known: SupplyDraft) -> None:
        numbers = {line.name: written(getattr(known, line.name)) for line in LINES}
        self.form.set_texts(name=known.name, note=known.note, **numbers)
        self.kind.choose(known.kind)
        self.owned.choose(known.owned)
        self.chemistry.choose(known.chemistry)
        self.waveform.choose(known.waveform)
        self.fuel.choose(known.fuel)
        self.control.choose(known.control)
        self.plug.choose(known.plug)
        self.grid_tied.setChecked(known.grid_tied)
        self.members.offer(self._possible_members(), known.members)
        stops = (self.grid_tied, *self.members.boxes.values(), self.form.rows["note"].editor)
        for before, after in pairwise(stops):
            QWidget.setTabOrder(before, after)
        self._show_kind()

    def _possible_members(self) -> list[Supply]:
        from hearthload.service import queries_plans  # noqa: PLC0415 (after first paint)

        every = queries_plans.supplies(self.session.logbook)
        return [
            each for each in every if each.kind is not SupplyKind.COMBINATION and each.id != self._changing
        ]


def _number(typed: Typed, line: LineField) -> float | int | None:
    value = typed.number(line.name) if line.may_be_nothing else typed.positive(line.name)
    if value is None or not line.whole:
        return value
    if value != int(value):
        typed.refuse(line.name, "not_whole", "This must be a whole number.")
        return None
    return int(value)
