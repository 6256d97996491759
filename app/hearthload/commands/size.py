"""`size`: the whole way from loads to verdicts out of a file; needs neither a logbook nor a window."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from hearthload.service.exchange.outage_json import outage_json
from hearthload.service.exchange.outage_lines import (
    caution_lines,
    heading_lines,
    load_lines,
    step_lines,
    verdict_lines,
)
from hearthload.service.exchange.outage_report import (
    OutageReport,
    all_cautions,
    report_of_size,
    working_of,
)
from hearthload.service.exchange.size_json import read_size_json
from hearthload.service.exchange.sizing_lines import sizing_lines


def run(options: argparse.Namespace) -> int:
    """Print what the file's loads take, what to look for, and what its supplies carry."""
    report = report_of_size(read_size_json(Path(options.file)))
    if options.json:
        print(json.dumps(outage_json(report), ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(_text(report, steps=options.steps)))
    return 0


def _text(report: OutageReport, *, steps: bool) -> list[str]:
    lines = [*heading_lines(report), "", *load_lines(report)]
    lines += ["", "What to look for", "", *sizing_lines(report.sizing)]
    for answer in report.supplies:
        lines += ["", *verdict_lines(report, answer)]
    if steps:
        lines += ["", "The arithmetic", *step_lines(working_of(report))]
    return [*lines, "", *caution_lines(all_cautions(report))]
