"""An outage's answers as lines for people: the load list, what to look for, verdicts, the arithmetic."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence

from hearthload.domain.figures import (
    DASH,
    format_days,
    format_ends,
    format_number,
    format_percent,
    format_watts,
)
from hearthload.estimate.answers import Interval
from hearthload.outage.answers import Limit, LoadLine, Outcome, Verdict
from hearthload.outage.circuits import CircuitCheck
from hearthload.outage.shed import Breach, LeaveOff
from hearthload.outage.steps import Figure, Step
from hearthload.service.exchange.outage_report import OutageReport, Working
from hearthload.service.exchange.tables import table
from hearthload.service.outage_answers import SupplyAnswer
from hearthload.service.outage_words import (
    LIMIT_WORDS,
    NOTE_WORDS,
    OUTCOME_WORDS,
    amount_words,
    figure_words,
    limit_words,
    step_words,
    use_words,
)

WIDTH = 100
_LOADS = ("role", "appliance", "use", "number", "kWh a day", "running W", "starting VA")
_LIMITS = ("limit", "needed", "offered", "margin", "outcome")


def heading_lines(report: OutageReport) -> list[str]:
    """Name the plan: how long, in which month, how sure it is to be enough."""
    plan = report.plan
    sure = f"enough in {format_percent(plan.confidence)} of outages"
    return [f"{tame(plan.name)}: {format_days(plan.days)}, month {plan.month}, {sure}"]


def load_lines(report: OutageReport) -> list[str]:
    """Print the load list, then its totals."""
    if not report.lines:
        return ["There is no appliance in this plan yet."]
    rows = [_load_row(line) for line in report.lines]
    notes = [
        f"{tame(line.load.name)}: {', '.join(said)}."
        for line, circuit in zip(report.lines, report.circuits, strict=True)
        if (said := _notes(line, circuit))
    ]
    return [
        *table(_LOADS, rows, right=frozenset({3, 4, 5, 6})).splitlines(),
        "",
        *(part for note in notes for part in wrapped(note, indent="  ")),
        *([""] if notes else []),
        *_total_lines(report),
    ]


def _notes(line: LoadLine, circuit: CircuitCheck) -> list[str]:
    """Give a load's notes in words; where its way carries too little, unless it has no plug at all."""
    notes = [NOTE_WORDS[note] for note in line.notes]
    if circuit.fits is False and circuit.needed_a is not None and circuit.allowed_a is not None:
        needed, allowed = format_number(circuit.needed_a.value), format_number(circuit.allowed_a.value)
        if not line.load.hard_wired:
            notes.append(f"takes {needed} A, and {circuit.element_name} may carry {allowed} A")
    return notes


def _load_row(line: LoadLine) -> tuple[str, ...]:
    load = line.load
    return (
        load.role.value,
        tame(load.name),
        use_words(load),
        str(load.quantity),
        DASH if line.daily is None else figure_words(line.daily).removesuffix(" kWh/d"),
        DASH if line.running_w is None else format_watts(line.running_w.value).removesuffix(" W"),
        DASH if line.start_va is None else format_watts(line.start_va.value).removesuffix(" W"),
    )


def _total_lines(report: OutageReport) -> list[str]:
    totals = report.totals
    hold = totals.plan_kwh.value if totals.plan_kwh.high is None else totals.plan_kwh.high
    at_start = f", {tame(totals.largest_start)}" if totals.largest_start else ""
    length = f", for {format_number(totals.start_s, 2)} s" if totals.start_s else ""
    rows = [
        ("Energy a day", figure_words(totals.daily, "kWh")),
        ("Energy for the outage, expected", amount_words(totals.plan_kwh.value, "kWh")),
        ("Energy for the outage, to hold", amount_words(hold, "kWh")),
        ("Average", format_watts(totals.average_w)),
        ("Highest running", f"{figure_words(totals.running_w)}, {figure_words(totals.running_va)}"),
        ("Likely highest", figure_words(totals.likely_w)),
        (f"Worst start{at_start}", f"{figure_words(totals.start_va)}{length}"),
        ("All thermostats start together", figure_words(totals.restart_va)),
    ]
    lines = pairs(rows)
    if totals.not_known:
        lines.append(f"Watts or energy not known of: {_listed(totals.not_known)}.")
    if totals.assumed:
        lines.append(f"Assumed, not measured: {_listed(totals.assumed)}.")
    return lines


def verdict_lines(report: OutageReport, answer: SupplyAnswer) -> list[str]:
    """Print a supply's verdict limit by limit, then what to leave off."""
    rows = [_limit_row(limit) for limit in answer.verdict.limits]
    lines = [_judged(answer.verdict), "", *table(_LIMITS, rows, right=frozenset({1, 2, 3})).splitlines()]
    if answer.leave_off is not None:
        lines += ["", *_leave_off(answer, answer.leave_off, report.lines)]
    return lines


def _judged(verdict: Verdict) -> str:
    said = f"{tame(verdict.supply)}: {OUTCOME_WORDS[verdict.outcome]}"
    if verdict.outcome is Outcome.FALLS_SHORT and verdict.fails_first is not None:
        said += f", most of all in {LIMIT_WORDS[verdict.fails_first]}"
    return f"{said}{_for_hours(verdict.hours)}"


def _for_hours(hours: Figure | None) -> str:
    if hours is None:
        return ""
    if hours.low is None or hours.high is None:
        return f"; its energy lasts {amount_words(hours.value, 'hours')}"
    return f"; its energy lasts {format_ends(Interval(hours.value, hours.low, hours.high), 'hours')}"


def _limit_row(limit: Limit) -> tuple[str, ...]:
    outcome = OUTCOME_WORDS[limit.outcome]
    if limit.missing:
        verb = "look up" if limit.outcome is Outcome.NOT_KNOWN else "it wants"
        outcome += f": {verb} {tame(limit.missing)}"
    margin = DASH
    if limit.margin is not None:
        margin = f"{'+' if limit.margin >= 0.0 else '−'}{format_percent(abs(limit.margin))}"
    return (
        tame(limit_words(limit)),
        DASH if limit.needed is None else amount_words(limit.needed.value, limit.unit),
        DASH if limit.offered is None else amount_words(limit.offered, limit.unit),
        margin,
        outcome,
    )


def _leave_off(answer: SupplyAnswer, found: LeaveOff, lines: Sequence[LoadLine]) -> list[str]:
    said = []
    if found.essentials_break:
        said.append(f"The essential loads alone are too much; {_breaches(found.essentials_break)}.")
    for left in found.left_off:
        why = "its energy or watts are not known" if left.not_known else f"with it {_breaches(left.breaches)}"
        said.append(f"Leave off {tame(left.name)}: {why}.")
    if found.kept:
        said.append(f"Keep on: {_listed([lines[place].load.name for place in found.kept])}.")
        order = _listed([lines[place].load.name for place in found.shed_order])
        said.append(f"As energy runs down, switch off in this order: {order}.")
    if answer.kept_verdict is not None:
        then = answer.kept_verdict
        said.append(f"What is then kept on: {OUTCOME_WORDS[then.outcome]}{_for_hours(then.hours)}.")
    return [line for sentence in said for line in wrapped(sentence)]


def _breaches(breaches: Iterable[Breach]) -> str:
    return "; ".join(
        f"the loads' {LIMIT_WORDS[each.code]} would be {amount_words(each.needed, each.unit)}, and "
        f"{amount_words(each.offered, each.unit)} can be carried"
        for each in breaches
    )


def caution_lines(cautions: Iterable[str]) -> list[str]:
    """Print cautions, each from a new line."""
    return [line for caution in cautions for line in wrapped(f"- {caution}", indent="  ")]


def step_lines(working: Working, *, supplies_only: bool = False) -> Iterator[str]:
    """Print every line of arithmetic under what it belongs to."""
    parts: list[tuple[str, tuple[Step, ...]]] = []
    if not supplies_only:
        parts += list(working.loads.items())
        parts += [("Totals", working.totals), ("What to look for", working.sizing)]
    parts += list(working.supplies.items())
    for title, steps in parts:
        if not steps:
            continue
        yield from ("", tame(title))
        for step in steps:
            yield from wrapped(tame(step_words(step)), indent="    ", first="  ")


def pairs(rows: Sequence[tuple[str, str]]) -> list[str]:
    """Set names and figures in two columns."""
    width = max((len(name) for name, _ in rows), default=0)
    return [f"{name.ljust(width)}  {said}" for name, said in rows]


def wrapped(text: str, indent: str = "", first: str = "") -> list[str]:
    """Fill lines; the later ones are indented."""
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=indent, break_on_hyphens=False
    ) or [""]


def tame(text: str) -> str:
    """Give text with nothing in it that a terminal would obey."""
    return "".join(letter if letter.isprintable() else "�" for letter in text)


def _listed(names: Sequence[str]) -> str:
    return ", ".join(tame(name) for name in names)
