"""`plan`: prints an outage plan's load list, its totals, and what to look for."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from hearthload.commands.plans import chosen_plan
from hearthload.service import queries
from hearthload.service.exchange.outage_json import outage_json
from hearthload.service.exchange.outage_lines import caution_lines, heading_lines, load_lines, step_lines
from hearthload.service.exchange.outage_report import OutageReport, report_of_answer, working_of
from hearthload.service.exchange.sizing_lines import sizing_lines
from hearthload.service.logbook import open_logbook
from hearthload.service.outages import plan_answer


def run(options: argparse.Namespace) -> int:
    """Print the plan that is named, or the only one."""
    logbook = open_logbook(Path(options.logbook))
    try:
        plan = chosen_plan(queries.plans(logbook), options.plan)
        report = report_of_answer(plan_answer(logbook, plan.id))
    finally:
        logbook.close()
    if options.json:
        print(json.dumps(outage_json(report), ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(_text(report, steps=options.steps)))
    return 0


def _text(report: OutageReport, *, steps: bool) -> list[str]:
    lines = [*heading_lines(report), "", *load_lines(report)]
    lines += ["", "What to look for", "", *sizing_lines(report.sizing)]
    if steps:
        lines += ["", "The arithmetic", *step_lines(working_of(report))]
    return [*lines, "", *caution_lines(report.cautions)]
