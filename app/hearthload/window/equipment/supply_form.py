"""The sheet for adding or changing equipment: only the rows of its kind, empty for what is not known."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QWidget

from hearthload.domain.supply import Supply, SupplyDraft, SupplyKind
from hearthload.domain.typed import TypedError
from hearthload.service.outage_words import CHEMISTRY_WORDS, ENGINE_WORDS, FUEL_WORDS, WAVEFORM_WORDS
from hearthload.window.choice import Choice
from hearthload.window.edit_sheet import EditSheet
from hearthload.window.equipment.kind_words import KIND_CHOICES, OWNED_CHOICES
from hearthload.window.equipment.member_boxes import NOTHING_TO_CHOOSE, MemberBoxes
from hearthload.window.equipment.sheet_drafts import SheetDrafts, SheetState
from hearthload.window.equipment.supply_fields import LINES, SECTIONS, ChoiceField, LineField
from hearthload.window.equipment.typed_units import parse_quantity
from hearthload.window.parts import button, label
from hearthload.window.session import Session
from hearthload.window.theme import GRID
from hearthload.window.typing_in import Typed, written
from hearthload.window.words import plug_choices

BROUGHT_BACK = "What you typed before and did not save is here again."
NOT_POSITIVE = "This must be more than zero; leave it empty if you do not know."
NAME_WANTED = "Give the equipment a name, such as “shed battery”."


class SupplySheet(EditSheet):
    """All that is typed about one piece of equipment."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self._changing: int | None = None
        self._headings: list[QLabel] = []
        self._drafts = SheetDrafts()
        self._open = False
        self._add_notice()
        self._add_rows()
        session.switched.connect(self._forget_drafts)
        self.kind.currentIndexChanged.connect(self._kind_chosen)
        self._show_kind()

    def begin_add(self, kind: SupplyKind = SupplyKind.BATTERY) -> None:
        """Start with an empty sheet."""
        self._begin(None, SupplyDraft(name="", kind=kind), "Add equipment", "Add equipment")

    def begin_change(self, supply: Supply) -> None:
        """Start with what is known of a supply."""
        self._begin(supply.id, supply.draft, f"Change {supply.name}", "Save changes")

    def cancel(self) -> None:
        """Leave without saving; what was typed is kept until the sheet is opened again, and that is said."""
        if self._keep_draft():
            where = "Add equipment" if self._changing is None else "Change"
            self.session.said.emit(f"Not saved. What you typed is kept: “{where}” brings it back.")
        super().cancel()

    def start_afresh(self) -> None:
        """Throw away what was brought back."""
        self._put(self._drafts.begun)
        self._notice.hide()
        self.form.clear_complaints()
        self.form.rows["name"].editor.setFocus(Qt.FocusReason.OtherFocusReason)

    def save_typed(self) -> int | None:
        """Add or change the supply."""
        from hearthload.service.edits import supplies  # noqa: PLC0415 (after first paint)

        draft = self.draft()
        if draft is None:
            return None
        if self._changing is None:
            changes = self.session.do(supplies.add_supply, draft)
        else:
            changes = self.session.do(supplies.change_supply, self._changing, draft)
        if changes is None:
            return None
        self._open = False
        return changes.created_id if self._changing is None else self._changing

    def _begin(self, supply_id: int | None, known: SupplyDraft, title: str, save_text: str) -> None:
        """Open the sheet; what was typed before and not saved comes back, and that is said."""
        self._keep_draft()
        self._changing, self._open = supply_id, True
        self._fill(known)
        before = self._drafts.begin(supply_id, self._state())
        if before is not None:
            self._put(before)
        self._notice.setVisible(before is not None)
        self.begin(title, save_text)

    def _keep_draft(self) -> bool:
        """Keep what was typed and not saved; tell whether there is anything."""
        if not self._open:
            return False
        self._open = False
        return self._drafts.keep(self._changing, self._state())

    def _forget_drafts(self, _path: object) -> None:
        """Another logbook: its numbers are other things."""
        self._drafts, self._open = SheetDrafts(), False

    def _choices(self) -> dict[str, Choice[Any]]:
        return {name: row.editor for name, row in self.form.rows.items() if isinstance(row.editor, Choice)}

    def _state(self) -> SheetState:
        """Give what stands in the sheet, whether it can be taken or not."""
        lines = {
            n: row.editor.text() for n, row in self.form.rows.items() if isinstance(row.editor, QLineEdit)
        }
        chosen = {name: choice.value for name, choice in self._choices().items()}
        return SheetState(lines, chosen, self.grid_tied.isChecked(), self.members.ticked)

    def _put(self, state: SheetState) -> None:
        """Fill the sheet as it stood."""
        self.form.set_texts(**state.texts)
        for name, choice in self._choices().items():
            choice.choose(state.chosen[name])
        self.grid_tied.setChecked(state.grid_tied)
        for number, box in self.members.boxes.items():
            box.setChecked(number in state.members)
        self._show_kind()

    def _add_notice(self) -> None:
        """Set over the rows where it is said that they are filled with what was typed before."""
        self._notice = QWidget(self.form)
        row = QHBoxLayout(self._notice)
        row.setContentsMargins(0, 0, 0, GRID)
        row.setSpacing(GRID)
        row.addWidget(label(BROUGHT_BACK, "", self._notice, wrap=True), stretch=1)
        self.afresh_button = button("Start afresh", "quiet", self._notice)
        self.afresh_button.clicked.connect(self.start_afresh)
        row.addWidget(self.afresh_button, alignment=Qt.AlignmentFlag.AlignTop)
        self.form.add_wide(self._notice)
        self._notice.hide()

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
    """Read a line's number in its unit, None when nothing is typed or it cannot be taken."""
    text = typed.text(line.name)
    if not text:
        return None
    try:
        value = parse_quantity(text, line.unit)
    except TypedError as error:
        typed.refuse(line.name, error.code, str(error))
        return None
    if value <= 0.0 and not line.may_be_nothing:
        typed.refuse(line.name, "not_positive", NOT_POSITIVE)
        return None
    if line.whole and value != int(value):
        typed.refuse(line.name, "not_whole", "This must be a whole number.")
        return None
    return int(value) if line.whole else value
