"""What one appliance is in a plan: its role, its use, and the figures that may stand in place of others."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QWidget

from hearthload.domain.appliance import Role
from hearthload.domain.plan import Plan, PlanLoad, PlanLoadDraft, Use
from hearthload.domain.typed import TypedError, parse_count
from hearthload.domain.typed_numbers import shown
from hearthload.errors import RefusedError
from hearthload.service.answers import Complaint, Weight
from hearthload.window.form import Form, FormRow
from hearthload.window.outage.load_hints import UNITS, in_force
from hearthload.window.outage.outage_words import ROLES, USES
from hearthload.window.session import Session
from hearthload.window.theme import GRID
from hearthload.window.typing_in import Typed, written

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanRow

FIELD_PX: Final = 14 * GRID
CAPTIONS: Final = {
    "quantity": "Number",
    "hours_a_day": "Used for",
    "uses_a_day": "Used",
    "daily_kwh": "One takes",
    "daily_low_kwh": "At least",
    "daily_high_kwh": "At most",
    "room_c": "Its room",
    "season_factor": "Season",
    "season_factor_u": "Give or take",
    "running_w": "Running",
    "idle_w": "Idle",
    "power_factor": "Power factor",
    "start_multiple": "At start",
    "start_s": "Start lasts",
    "rank": "Rank",
}
USED_BY: Final = {
    "hours_a_day": Use.HOURS_A_DAY,
    "uses_a_day": Use.USES_A_DAY,
    "daily_kwh": Use.ASSUMED,
    "daily_low_kwh": Use.ASSUMED,
    "daily_high_kwh": Use.ASSUMED,
}
"""Fields that are shown with one use only."""
COUNTS: Final = {
    ("quantity", "negative"): "{} is negative; this can only be one or more.",
    ("quantity", "not_whole"): "{} is not a whole number; type a whole number of appliances.",
    ("rank", "not_whole"): "{} is not a whole number; type 1, 2, 3 and so on.",
}
"""What is said in place of the common sentences about counts, by field and code."""


class LoadForm(Form):
    """Filled anew only when what is kept has changed, so that nothing typed is lost; `saved` tells of saving.

    Empty lines leave what is measured or usual.
    """

    saved = Signal()

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(parent, field_width=FIELD_PX, shares=(2, 3), units_only=True)
        self._session = session
        self._load: PlanLoad | None = None
        self._add_rows()
        self.accepted.connect(self.save)
        self.left.connect(self.put_back)
        self.use.currentIndexChanged.connect(self._show_used)
        self.role.currentIndexChanged.connect(self._show_used)

    @property
    def load(self) -> PlanLoad | None:
        """Give the load as it is kept."""
        return self._load

    def show_load(self, row: PlanRow, plan: Plan) -> None:
        """Show a load; fields are filled only where another one, or another state of it, is kept."""
        if row.load != self._load:
            self._load = row.load
            self._fill(row.load)
        for name, words in in_force(row, plan).items():
            beside = self.rows[name].beside
            if beside.text() != words:
                beside.setText(words)

    def is_touched(self) -> bool:
        """Tell whether what stands in the fields differs from what is kept."""
        load = self._load
        if load is None:
            return False
        chosen = (self.role.value, self.use.value) != (load.role, load.use)
        texts = _texts(load)
        return chosen or any(self._line(name).text().strip() != text for name, text in texts.items())

    def put_back(self) -> None:
        """Show what is kept again."""
        if self._load is not None:
            self._fill(self._load)

    def save(self) -> None:
        """Keep what was typed as one edit; what cannot be taken is said under its field."""
        from hearthload.service.edits.plans import set_plan_load  # noqa: PLC0415 (after first paint)

        if self._load is None:
            return
        draft = self.draft()
        if draft is None:
            self.focus_first_complaint()
        elif not self.is_touched():
            self._session.said.emit("Nothing was changed.")
            self.saved.emit()
        else:
            with self._session.refusals_to(self._say_refusal):
                done = self._session.do(set_plan_load, self._load.plan_id, draft)
            if done is None:
                self.focus_first_complaint()
            else:
                self.saved.emit()

    def draft(self) -> PlanLoadDraft | None:
        """Give what was typed, None when a line cannot be taken."""
        if self._load is None:
            return None
        typed = Typed(self)
        spread = typed.number("season_factor_u")
        draft = PlanLoadDraft(
            self._load.appliance_id,
            self.role.value,
            quantity=self._count(typed, "quantity", 1),
            use=self.use.value,
            hours_a_day=typed.number("hours_a_day"),
            uses_a_day=typed.number("uses_a_day"),
            daily_kwh=typed.number("daily_kwh"),
            daily_low_kwh=typed.number("daily_low_kwh"),
            daily_high_kwh=typed.number("daily_high_kwh"),
            room_c=typed.signed("room_c", "°C"),
            season_factor=typed.number("season_factor"),
            season_factor_u=None if spread is None else spread / 100.0,
            running_w=typed.number("running_w"),
            idle_w=typed.number("idle_w"),
            power_factor=typed.number("power_factor"),
            start_multiple=typed.number("start_multiple"),
            start_s=typed.number("start_s"),
            rank=self._count(typed, "rank", 0),
        )
        if spread is not None and spread > 100.0:
            typed.refuse("season_factor_u", "out_of_range", "This is a share of the factor: at most 100 %.")
        return draft if typed.good else None

    def _add_rows(self) -> None:
        self.role = self.add_choice("role", "Role", tuple(ROLES.items()))
        self._add_figure("rank")
        self._add_figure("quantity")
        self.use = self.add_choice("use", "Use", tuple(USES.items()))
        for name in ("hours_a_day", "uses_a_day", "daily_kwh", "daily_low_kwh", "daily_high_kwh"):
            self._add_figure(name)
        self._add_figure("room_c")
        self._add_figure("season_factor")
        self._add_figure("season_factor_u")
        self.add_heading("In place of what is measured or usual")
        for name in ("running_w", "idle_w", "power_factor", "start_multiple", "start_s"):
            self._add_figure(name)

    def _add_figure(self, name: str) -> None:
        line = self.add_line(name, CAPTIONS[name], unit=UNITS[name])
        line.textEdited.connect(partial(self._typed, self.rows[name]))

    def _fill(self, load: PlanLoad) -> None:
        self.clear_complaints()
        self.role.choose(load.role)
        self.use.choose(load.use)
        self.set_texts(**_texts(load))
        for name in _texts(load):
            self._line(name).setCursorPosition(0)
        self._show_used()

    def _show_used(self, _index: int = 0) -> None:
        for name, use in USED_BY.items():
            self.show_row(name, visible=self.use.value is use)
        self.show_row("rank", visible=self.role.value is Role.WANTED)

    def _line(self, name: str) -> QLineEdit:
        editor = self.rows[name].editor
        if not isinstance(editor, QLineEdit):
            raise TypeError(f"{name} is not a line")
        return editor

    def _count(self, typed: Typed, name: str, empty: int) -> int:
        text = typed.text(name)
        if not text:
            return empty
        try:
            return parse_count(text)
        except TypedError as error:
            sentence = COUNTS.get((name, error.code), "")
            typed.refuse(name, error.code, sentence.format(shown(text)) or str(error))
            return empty

    def _typed(self, row: FormRow, _text: str) -> None:
        row.clear()

    def _say_refusal(self, error: RefusedError) -> None:
        self.show_complaints([Complaint(error.field, error.code, Weight.STOPS, str(error))])


def _texts(load: PlanLoad) -> dict[str, str]:
    """Give what stands in each line for a load as it is kept."""
    spread = load.season_factor_u
    return {
        "quantity": str(load.quantity),
        "rank": str(load.rank) if load.rank else "",
        "hours_a_day": written(load.hours_a_day),
        "uses_a_day": written(load.uses_a_day),
        "daily_kwh": written(load.daily_kwh),
        "daily_low_kwh": written(load.daily_low_kwh),
        "daily_high_kwh": written(load.daily_high_kwh),
        "room_c": written(load.room_c),
        "season_factor": written(load.season_factor),
        "season_factor_u": written(None if spread is None else 100.0 * spread),
        "running_w": written(load.running_w),
        "idle_w": written(load.idle_w),
        "power_factor": written(load.power_factor),
        "start_multiple": written(load.start_multiple),
        "start_s": written(load.start_s),
    }
