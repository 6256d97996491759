"""An outage's answers as lines for people: the load list, what to look for, verdicts, the arithmetic."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence

from hearthload.domain.figures import (
    DASH,
    format_days,
    format_number,
    format_percent,
    format_watts,
)
from hearthload.outage.answers import Limit, LimitCode, LoadInput, LoadLine, Outcome, Verdict
from hearthload.outage.circuits import CircuitCheck
from hearthload.outage.shed import LeaveOff
from hearthload.outage.steps import Step
from hearthload.service.exchange.outage_report import OutageReport, Working
from hearthload.service.exchange.tables import table
from hearthload.service.outage_answers import SupplyAnswer
from hearthload.service.outage_leave_words import LoadName, leave_off_words
from hearthload.service.outage_limit_words import (
    few,
    margin_words,
    missing_words,
    needed_words,
    offered_words,
    outcome_words,
    verdict_words,
)
from hearthload.service.outage_verdict_words import hours_sentence, trips_words
from hearthload.service.outage_words import (
    ALSO,
    LIMIT_WORDS,
    NOTE_WORDS,
    amount_words,
    figure_words,
    step_words,
    use_words,
)

WIDTH = 100
_LOADS = ("role", "appliance", "use", "number", "kWh a day", "running W", "starting VA")
_LIMITS = ("limit", "needed", "offered", "margin", "outcome")


def heading_lines(report: OutageReport) -> list[str]:
    """Name the plan: how long, in which month, how sure it is to be enough; how warm and high it is there."""
    plan = report.plan

    def given(field: str, said: str) -> str:
        return f"{said} (assumed)" if field in report.assumed else said

    month = given("month", f"month {plan.month}")
    sure = given("confidence", f"enough in {format_percent(plan.confidence)} of outages")
    rooms = "as measured" if plan.room_c is None else _celsius(plan.room_c)
    there = (
        given("room_c", f"rooms {rooms}"),
        given("battery_c", f"battery {_celsius(plan.battery_c)}"),
        given("outdoor_c", f"outdoors {_celsius(plan.outdoor_c)}"),
        given("altitude_m", f"{plan.altitude_m:g} m above sea level"),
    )
    where = ", ".join(there)
    first = f"{tame(plan.name)}: {format_days(plan.days)}, {month}, {sure}"
    return [first, *wrapped(f"{where[0].upper()}{where[1:]}")]


def _celsius(celsius: float) -> str:
    return f"{celsius:g} °C".replace("-", "−")


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
        ("All that starts by itself, together", figure_words(totals.restart_va)),
    ]
    lines = pairs(rows)
    if totals.not_known:
        lines.append(f"Watts or energy not known of: {_listed(totals.not_known)}.")
    if totals.assumed:
        lines.append(f"Assumed, not measured: {_listed(totals.assumed)}.")
    return lines


def verdict_lines(report: OutageReport, answer: SupplyAnswer) -> list[str]:
    """Print a supply's verdict limit by limit, those that are only told last, then what to leave off."""
    counting = [limit for limit in answer.verdict.limits if limit.counts]
    told = [limit for limit in answer.verdict.limits if not limit.counts]
    head, rule, *rows = table(
        _LIMITS, [_limit_row(limit) for limit in (*counting, *told)], right=frozenset({1, 2, 3})
    ).splitlines()
    lasts = hours_sentence(answer, report.plan)
    lines = [_judged(answer.verdict), *(wrapped(lasts) if lasts else []), "", head, rule]
    lines += rows[: len(counting)]
    if told:
        lines += [ALSO, *rows[len(counting) :]]
    if answer.leave_off is not None:
        lines += ["", *_leave_off(answer, answer.leave_off, report)]
    return lines


def _judged(verdict: Verdict) -> str:
    said = f"{tame(verdict.supply)}: {verdict_words(verdict)}"
    if verdict.fails_first is None or verdict.outcome is not Outcome.FALLS_SHORT:
        return said
    if verdict.fails_first is not LimitCode.SUN:
        said += f", most of all in {LIMIT_WORDS[verdict.fails_first]}"
    trips = trips_words(verdict)
    return f"{said}: {trips}" if trips else said


def _limit_row(limit: Limit) -> tuple[str, ...]:
    about, missing = few(limit.about), missing_words(limit)
    return (
        tame(LIMIT_WORDS[limit.code] + (f", {about}" if about else "")),
        needed_words(limit),
        offered_words(limit),
        margin_words(limit),
        tame(outcome_words(limit) + (f"; {missing}" if missing else "")),
    )


def _leave_off(answer: SupplyAnswer, found: LeaveOff, report: OutageReport) -> list[str]:
    loads = [LoadName(_counted(line.load), line.load.role) for line in report.lines]
    words = leave_off_words(answer, report.plan, loads)
    said = list(words.sentences)
    if found.kept and words.stays:
        said.append(f"Keep on: {', '.join(loads[place].name for place in found.kept)}.")
    left = [f"Leave off {name}, {reason}." for name, reason in words.left_off]
    order = [f"{words.heading}: {', '.join(name for name, _ in words.shed_order)}."]
    order = order if words.shed_order else []
    said += left + order if words.stays else order + left
    return [line for sentence in said for line in wrapped(sentence)]


def _counted(load: LoadInput) -> str:
    return tame(load.name) + (f" × {load.quantity}" if load.quantity > 1 else "")


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
