"""`verdict`: says what each supply carries of a plan, limit by limit, and what to leave off."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from hearthload.commands.plans import chosen_plan, chosen_supplies
from hearthload.service import queries
from hearthload.service.exchange.outage_json import outage_json
from hearthload.service.exchange.outage_lines import caution_lines, heading_lines, step_lines, verdict_lines
from hearthload.service.exchange.outage_report import (
    OutageReport,
    all_cautions,
    report_of_answer,
    working_of,
)
from hearthload.service.logbook import open_logbook
from hearthload.service.outages import plan_answer, supply_answer


def run(options: argparse.Namespace) -> int:
    """Print the verdict on the supply that is named, or on all of them."""
    logbook = open_logbook(Path(options.logbook))
    try:
        plan = chosen_plan(queries.plans(logbook), options.plan)
        supplies = chosen_supplies(queries.supplies(logbook), options.supply)
        answers = [supply_answer(logbook, plan.id, supply.id) for supply in supplies]
        report = report_of_answer(plan_answer(logbook, plan.id), answers)
    finally:
        logbook.close()
    if options.json:
        print(json.dumps(outage_json(report), ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(_text(report, steps=options.steps)))
    return 0


def _text(report: OutageReport, *, steps: bool) -> list[str]:
    lines = heading_lines(report)
    for answer in report.supplies:
        lines += ["", *verdict_lines(report, answer)]
    if steps:
        lines += ["", "The arithmetic", *step_lines(working_of(report))]
    return [*lines, "", *caution_lines(all_cautions(report))]
