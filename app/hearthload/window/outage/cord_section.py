"""A cord's voltage drop and what it may carry: a small calculator by the plan's figures."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial
from typing import TYPE_CHECKING, Final, Protocol

from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QWidget

from hearthload.domain.figures import DASH, format_decimals, format_number
from hearthload.errors import RefusedError
from hearthload.outage.answers import Outcome
from hearthload.outage.steps import Figure
from hearthload.service.answers import Complaint, Weight
from hearthload.window.form import Form, FormRow
from hearthload.window.lines_delegate import ROW_PX
from hearthload.window.outage.figure_table import FigureRow, Headers
from hearthload.window.outage.figures_section import FiguresSection
from hearthload.window.outage.outage_words import NOT_KNOWN
from hearthload.window.parts import button, label
from hearthload.window.session import Session
from hearthload.window.theme import GRID
from hearthload.window.typing_in import Typed, written

if TYPE_CHECKING:
    from hearthload.service.outage_answers import PlanAnswer

LEAD: Final = (
    "A long or thin cord loses voltage on the way: motors start badly, and the cord grows warm. Uncoil it "
    "before use."
)
DROPS: Final = {"running": "cord_running_drop", "starting": "cord_starting_drop"}
"""The figures of the trade that say how much of the voltage may be lost."""
TABLE_PX: Final = 5 * ROW_PX + 2
"""Room for the header and all that comes out."""
USUAL_SIZES: Final = ((200.0, "mm2_1.5"), (0.0, "awg_14"))
"""From so many volts on, the size that is offered first."""


class _Gauge(Protocol):
    """A conductor size."""

    @property
    def name(self) -> str: ...


class Cord(Protocol):
    """A cord's answer, as the service gives it."""

    @property
    def gauge(self) -> _Gauge: ...  # noqa: D102
    @property
    def running_drop(self) -> Figure: ...  # noqa: D102
    @property
    def starting_drop(self) -> Figure | None: ...  # noqa: D102
    @property
    def carries_a(self) -> Figure | None: ...  # noqa: D102
    @property
    def longest_m(self) -> Figure: ...  # noqa: D102
    @property
    def smallest(self) -> _Gauge | None: ...  # noqa: D102
    @property
    def thickest(self) -> _Gauge | None: ...  # noqa: D102
    @property
    def thickest_longest_m(self) -> Figure | None: ...  # noqa: D102
    @property
    def outcome(self) -> Outcome: ...  # noqa: D102
    @property
    def missing(self) -> str: ...  # noqa: D102


class CordSection(FiguresSection):
    """Enter works the cord out; what comes out stands below, each figure with its arithmetic beside it."""

    def __init__(self, session: Session, parent: QWidget | None = None) -> None:
        super().__init__(Headers("The cord", ("Figure", "Limit")), "Cord", parent)
        self._session = session
        self._plan: PlanAnswer | None = None
        self.answer: Cord | None = None
        self.form = Form(self, field_width=18 * GRID, shares=(1, 2), units_only=True)
        self.work_button = button("Work it out", "primary", self)
        self.verdict = label("", "lead", self, wrap=True)
        self._add_rows()
        self._arrange()
        self.form.accepted.connect(self.work_out)
        self.work_button.clicked.connect(self.work_out)
        self._show_cord()

    def show_answer(self, answer: PlanAnswer) -> None:
        """Go by another plan's figures, and work the cord out again where one was."""
        fresh = self._plan is None
        self._plan = answer
        if fresh:
            self._fill_first()
        elif self.answer is not None:
            self.answer = self._asked()
            self._show_cord()

    def work_out(self) -> None:
        """Work the cord out; what cannot be taken is said under its field."""
        self.answer = self._asked()
        self._show_cord()
        if self.answer is None:
            self.form.focus_first_complaint()

    def _asked(self) -> Cord | None:
        from hearthload.service.outages import cord_answer  # noqa: PLC0415 (slow to load)

        typed = Typed(self.form)
        watts, volts, length_m = (self._needed(typed, name) for name in ("watts", "volts", "length_m"))
        factor, multiple = typed.number("power_factor"), typed.number("start_multiple")
        if not typed.good or watts is None or volts is None or length_m is None:
            return None
        try:
            return cord_answer(
                self.gauge.value,
                watts=watts,
                volts=volts,
                length_m=length_m,
                power_factor=1.0 if factor is None else factor,
                start_multiple=multiple,
                long_run=self.long_run.isChecked(),
                plan_id=None if self._plan is None else self._plan.plan.id,
                logbook=self._session.logbook,
            )
        except RefusedError as error:
            self.form.show_complaints([Complaint(error.field, error.code, Weight.STOPS, str(error))])
            return None

    @staticmethod
    def _needed(typed: Typed, name: str) -> float | None:
        sentences = {"watts": "Type the load's watts.", "volts": "Type the supply's volts."}
        return typed.positive(name) if typed.required(name, sentences.get(name, "Type its length.")) else None

    def _show_cord(self) -> None:
        cord = self.answer
        self.verdict.setText("" if cord is None else verdict_words(cord))
        self.verdict.setVisible(cord is not None)
        self.table.setVisible(cord is not None)
        limits = {} if self._plan is None else {row.fact.key: row.value for row in self._plan.facts}
        self.table.show_rows(() if cord is None else cord_rows(cord, limits))

    def _fill_first(self) -> None:
        from hearthload.service import queries  # noqa: PLC0415 (after first paint)
        from hearthload.service.outages import cord_gauges  # noqa: PLC0415 (slow to load)

        self.gauge.set_choices(cord_gauges())
        volts = queries.household(self._session.logbook).mains_voltage_v
        self.form.set_texts(volts=written(volts))
        self.gauge.choose(next(size for least_v, size in USUAL_SIZES if volts >= least_v))

    def _add_rows(self) -> None:
        form = self.form
        form.add_line("watts", "Load", unit="W")
        form.add_line("volts", "Supply", unit="V")
        form.add_line("length_m", "Length, one way", unit="m")
        self.gauge = form.add_choice("gauge", "Size", (("", ""),))
        form.add_line("power_factor", "Power factor", unit="empty: 1")
        form.add_line("start_multiple", "At start", unit="times; empty: no motor")
        self.long_run = QCheckBox("It runs for three hours or more", form)
        form.add_wide(self.long_run)
        for row in form.rows.values():
            if hasattr(row.editor, "textEdited"):
                row.editor.textEdited.connect(partial(self._typed, row))

    def _typed(self, row: FormRow, _text: str) -> None:
        row.clear()

    def _arrange(self) -> None:
        """Put the form at the left, and the table of what comes out above its arithmetic."""
        line = QHBoxLayout()
        line.addWidget(self.work_button)
        line.addStretch(1)
        self.left.removeWidget(self.table)
        self.left.addWidget(label(LEAD, "muted", self, wrap=True))
        self.left.addWidget(self.form)
        self.left.addLayout(line)
        self.left.addWidget(self.verdict)
        self.left.addStretch(1)
        self.right.insertWidget(0, self.table)
        self.table.setFixedHeight(TABLE_PX)


def cord_rows(cord: Cord, limits: Mapping[str, float]) -> tuple[FigureRow, ...]:
    """Give a cord's figures beside their limits."""
    found = [_drop("running", cord.running_drop, limits)]
    if cord.starting_drop is not None:
        found.append(_drop("starting", cord.starting_drop, limits))
    found.append(_current(cord))
    longest = format_number(cord.longest_m.value, 3)
    below = "one way, for the drops"
    found.append(
        FigureRow(
            "longest", "Longest", (longest, ""), "m", below, cord.longest_m.steps, result=cord.longest_m.value
        )
    )
    return tuple(found)


def verdict_words(cord: Cord) -> str:
    """Say whether a cord does, and which is the thinnest that would."""
    if cord.outcome is Outcome.CARRIES:
        return f"{cord.gauge.name} does."
    if cord.outcome is Outcome.FALLS_SHORT:
        return f"△ {cord.gauge.name} is not enough: {_instead(cord)}"
    return f"◇ Its voltage drop is small enough, but not all is known: look up {cord.missing}."


def _instead(cord: Cord) -> str:
    if cord.smallest is not None:
        amps = _running_a(cord)
        too_much = cord.carries_a is not None and amps is not None and amps > cord.carries_a.value
        shorter = "" if too_much else f", or at most {format_number(cord.longest_m.value, 2)} m of this one"
        return f"take {cord.smallest.name} or thicker{shorter}."
    if cord.thickest is not None and cord.thickest_longest_m is not None:
        longest = format_number(cord.thickest_longest_m.value, 2)
        return f"no size in the table does; {cord.thickest.name} would for {longest} m."
    return "no size in the table carries as much."


def _current(cord: Cord) -> FigureRow:
    """Give the running current beside what the cord may carry; the drop's arithmetic names the current."""
    running = _running_a(cord)
    amps = DASH if running is None else format_number(running, 3)
    most, steps = NOT_KNOWN, cord.running_drop.steps
    if cord.carries_a is not None:
        most, steps = format_number(cord.carries_a.value, 3), cord.carries_a.steps
    result = steps[-1].value
    return FigureRow("carries", "Current, running", (amps, most), "A", "", steps, result=result)


def _running_a(cord: Cord) -> float | None:
    inputs = (each for step in cord.running_drop.steps for each in step.inputs)
    return next((each.value for each in inputs if each.symbol == "I"), None)


def _drop(when: str, figure: Figure, limits: Mapping[str, float]) -> FigureRow:
    limit = limits.get(DROPS[when])
    value = format_decimals(100.0 * figure.value, 1)
    most = "" if limit is None else format_decimals(100.0 * limit, 1)
    what = f"Voltage lost, {when}"
    return FigureRow(when, what, (value, most), "%", "", figure.steps, result=figure.value)
