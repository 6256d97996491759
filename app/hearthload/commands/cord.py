"""`cord`: checks an extension cord for a load; needs neither a logbook nor a window."""

from __future__ import annotations

import argparse
import json

from hearthload.commands.cord_words import typed_gauge, typed_number
from hearthload.service.exchange.cord_lines import cord_json, cord_lines
from hearthload.service.outages import cord_answer, cord_gauges


def run(options: argparse.Namespace) -> int:
    """Print drop, most current, longest length and the smallest wire that does."""
    watts = typed_number("--watts", options.watts, "w")
    volts = typed_number("--volts", options.volts, "v")
    length_m = typed_number("--length", options.length)
    gauge = typed_gauge(options.gauge, dict(cord_gauges()))
    factor, start = options.power_factor, options.start_multiple
    answer = cord_answer(
        gauge,
        watts=watts,
        volts=volts,
        length_m=length_m,
        power_factor=1.0 if factor is None else typed_number("--power-factor", factor),
        start_multiple=None if start is None else typed_number("--start-multiple", start),
        long_run=options.long_run,
    )
    if options.json:
        print(json.dumps(cord_json(answer), ensure_ascii=False, allow_nan=False))
    else:
        print("\n".join(cord_lines(answer, steps=options.steps)))
    return 0
