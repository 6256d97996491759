"""`explain`: says how an appliance's estimate came about."""

from __future__ import annotations

import argparse
import json
import re
import textwrap
from dataclasses import asdict
from datetime import datetime
from pathlib import Path

from hearthload.commands.appliances import find_appliance
from hearthload.errors import RefusedError
from hearthload.service import queries
from hearthload.service.explain import EQUATIONS, Explanation, explain
from hearthload.service.logbook import open_logbook
from hearthload.service.speaking import speaking

WIDTH = 88
HELD = "\u00a0"


def run(options: argparse.Namespace) -> int:
    """Print the steps of the estimate of the measurement that speaks for the appliance."""
    logbook = open_logbook(Path(options.logbook))
    try:
        appliance = find_appliance(queries.appliances(logbook), options.appliance)
        choices = queries.measurements_of(logbook, appliance.id)
        measurement = speaking(choice.measurement for choice in choices)
        if measurement is None or measurement.started_at is None:
            raise RefusedError(
                f"{appliance.name} was not measured yet, so there is nothing to explain.",
                field="appliance",
                code="not_measured",
            )
        told = explain(logbook, measurement.id, datetime.now().astimezone())
    finally:
        logbook.close()
    text = _text(told, equations=options.equations)
    print(json.dumps(asdict(told), ensure_ascii=False) if options.json else text)
    return 0


def _text(told: Explanation, *, equations: bool) -> str:
    """Write the words, and below them the equations where they are wanted."""
    lines = [told.title, ""]
    for step in told.steps:
        lines += [*_wrapped(f"{step.lead} {step.text}"), ""]
    found = told.equations if equations else ()
    if found:
        lines += [EQUATIONS, ""]
    for step in found:
        lines += _wrapped(f"{step.label} {step.equation}", indent="    ")
    return "\n".join(lines).rstrip()


def _wrapped(text: str, indent: str = "") -> list[str]:
    """Fill lines; a figure stays with its sign and its unit."""
    held = re.sub(r"(?<=±) |(?<=\d) (?=%|(?:W|kWh)\b)", HELD, text)
    return [line.replace(HELD, " ") for line in textwrap.wrap(held, WIDTH, subsequent_indent=indent)]
