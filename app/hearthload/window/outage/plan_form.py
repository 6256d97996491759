"""The sheets on which a plan is added, changed or copied."""

from __future__ import annotations

import re
from typing import Final

from PySide6.QtWidgets import QWidget

from hearthload.domain.plan import Plan, PlanDraft
from hearthload.domain.typed import TypedError, parse_duration_h
from hearthload.domain.units import HOURS_PER_DAY
from hearthload.window.edit_sheet import EditSheet
from hearthload.window.outage.outage_words import MONTHS
from hearthload.window.session import Session
from hearthload.window.typing_in import Typed, written

LEAST_PERCENT, MOST_PERCENT = 50.0, 99.9
_BARE = re.compile(r"[0-9]+(?:[.,][0-9]+)?")
_HOURS_AND_MINUTES: Final = 60.0


class PlanSheet(EditSheet):
    """All that is typed about a plan."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self._changing: int | None = None
        self._add_rows()

    def begin_add(self) -> None:
        """Start with an outage of three days in the present month."""
        self._changing = None
        self._fill(PlanDraft("", month=self.session.now().month))
        self.begin("Add a plan", "Add plan")

    def begin_change(self, plan: Plan) -> None:
        """Start with what is noted about a plan."""
        self._changing = plan.id
        self._fill(plan)
        self.begin(f"Change {plan.name}", "Save changes")

    def save_typed(self) -> int | None:
        """Add or change the plan."""
        from hearthload.service.edits import plans  # noqa: PLC0415 (after first paint)

        draft = self.draft()
        if draft is None:
            return None
        if self._changing is None:
            added = self.session.do(plans.add_plan, draft)
            return None if added is None else added.created_id
        changed = self.session.do(plans.change_plan, self._changing, draft)
        return None if changed is None else self._changing

    def draft(self) -> PlanDraft | None:
        """Give what was typed, None when a line cannot be taken."""
        typed = Typed(self.form)
        usual = PlanDraft("")
        battery_c, outdoor_c = typed.signed("battery_c", "°C"), typed.signed("outdoor_c", "°C")
        altitude_m = typed.signed("altitude_m")
        draft = PlanDraft(
            name=typed.required("name", "Give the plan a name, such as “winter storm”."),
            days=_days(typed),
            month=self.month.value,
            room_c=typed.signed("room_c", "°C"),
            battery_c=usual.battery_c if battery_c is None else battery_c,
            outdoor_c=usual.outdoor_c if outdoor_c is None else outdoor_c,
            altitude_m=usual.altitude_m if altitude_m is None else altitude_m,
            confidence=_confidence(typed, usual.confidence),
            waking_from_h=_hour(typed, "waking_from_h", usual.waking_from_h),
            waking_to_h=_hour(typed, "waking_to_h", usual.waking_to_h),
            latitude_deg=typed.signed("latitude_deg"),
            peak_sun_hours=typed.number("peak_sun_hours"),
            note=typed.text("note"),
        )
        return draft if typed.good else None

    def _add_rows(self) -> None:
        form = self.form
        form.add_line("name", "Name", hint="What you call it, such as “winter storm”")
        form.add_line("days", "Length", hint="Such as 3 d, 8 h or 1 d 12 h")
        self.month = form.add_choice("month", "Month", MONTHS)
        form.add_line("confidence", "Enough in", unit="% of such outages",
            hint="90: in one outage of ten the energy would run out; more costs more")  # fmt: skip
        form.add_heading("How warm it is")
        form.add_line("room_c", "Rooms", unit="°C", hint="Empty: as warm as when things were measured")
        form.add_line("battery_c", "By the battery", unit="°C", hint="A cold battery holds less; empty: 20")
        form.add_line("outdoor_c", "Outdoors", unit="°C", hint="Where a generator runs; empty: 15")
        form.add_heading("Day and place")
        form.add_line("waking_from_h", "Up from", unit="o'clock", hint="Empty: 7:00")
        form.add_line("waking_to_h", "Up until", unit="o'clock", hint="24:00 is midnight; empty: 23:00")
        form.add_line("altitude_m", "Altitude", unit="m", hint="An engine gives less high up; empty: 0")
        form.add_line(
            "latitude_deg", "Latitude", unit="°", hint="North positive; the sun is estimated from it"
        )
        form.add_line("peak_sun_hours", "Peak sun hours", unit="kWh/m² a day",
            hint="In the plane of the panels in this month; empty: from the latitude")  # fmt: skip
        form.add_line("note", "Note")

    def _fill(self, known: Plan | PlanDraft) -> None:
        self.form.set_texts(
            name=known.name,
            days=written_length(known.days),
            room_c=written(known.room_c),
            battery_c=written(known.battery_c),
            outdoor_c=written(known.outdoor_c),
            altitude_m=written(known.altitude_m),
            confidence=written(100.0 * known.confidence),
            waking_from_h=written_hour(known.waking_from_h),
            waking_to_h=written_hour(known.waking_to_h),
            latitude_deg=written(known.latitude_deg),
            peak_sun_hours=written(known.peak_sun_hours),
            note=known.note,
        )
        self.month.choose(known.month)


class CopySheet(EditSheet):
    """The name under which a plan is copied."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self._copying: int | None = None
        self.form.add_line("name", "Name", hint="Of the copy; its loads and figures are those of the first")

    def begin_copy(self, plan: Plan) -> None:
        """Start with a name made of the plan's own."""
        self._copying = plan.id
        self.form.set_texts(name=f"{plan.name}, copy")
        self.begin(f"Copy {plan.name}", "Copy plan")

    def save_typed(self) -> int | None:
        """Copy the plan."""
        from hearthload.service.edits.plans import copy_plan  # noqa: PLC0415 (after first paint)

        typed = Typed(self.form)
        name = typed.required("name", "Give the copy a name.")
        if not typed.good or self._copying is None:
            return None
        copied = self.session.do(copy_plan, self._copying, name)
        return None if copied is None else copied.created_id


def written_length(days: float) -> str:
    """Write a plan's length as it would be typed: "3 d", "8 h", "1 d 12 h"."""
    minutes = round(days * HOURS_PER_DAY * _HOURS_AND_MINUTES)
    if abs(days * HOURS_PER_DAY * _HOURS_AND_MINUTES - minutes) > 1e-6:
        return f"{days:.10g} d"
    whole, rest = divmod(minutes, round(HOURS_PER_DAY * _HOURS_AND_MINUTES))
    hours, left = divmod(rest, round(_HOURS_AND_MINUTES))
    parts = ((whole, "d"), (hours, "h"), (left, "min"))
    return " ".join(f"{number} {unit}" for number, unit in parts if number)


def written_hour(hour: float) -> str:
    """Write an hour of the day as it would be typed: "6:30"."""
    minutes = round(hour * _HOURS_AND_MINUTES)
    whole, rest = divmod(minutes, round(_HOURS_AND_MINUTES))
    return f"{whole}:{rest:02d}"


def _days(typed: Typed) -> float:
    text = typed.text("days")
    if _BARE.fullmatch(text):
        typed.refuse("days", "no_unit", f"“{text}” may be days or hours; write {text} d or {text} h.")
        return 1.0
    return _duration_h(typed, "days", text, HOURS_PER_DAY) / HOURS_PER_DAY


def _hour(typed: Typed, name: str, usual_h: float) -> float:
    text = typed.text(name)
    return _duration_h(typed, name, text, usual_h) if text else usual_h


def _duration_h(typed: Typed, name: str, text: str, instead_h: float) -> float:
    try:
        return parse_duration_h(text)
    except TypedError as error:
        sentence = (
            "Type how long the outage lasts, such as 3 d or 8 h." if error.code == "empty" else str(error)
        )
        typed.refuse(name, error.code, sentence)
        return instead_h


def _confidence(typed: Typed, usual: float) -> float:
    percent = typed.number("confidence")
    if percent is None:
        return usual
    if not LEAST_PERCENT <= percent <= MOST_PERCENT:
        sentence = f"This must lie between {LEAST_PERCENT:g} and {MOST_PERCENT:g} % of such outages."
        typed.refuse("confidence", "out_of_range", sentence)
        return usual
    return percent / 100.0
