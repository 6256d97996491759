"""`new`: makes a new, empty logbook."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from hearthload.commands.parser import program_name
from hearthload.service.logbook import create_logbook
from hearthload.service.preferences import SUFFIX


def run(options: argparse.Namespace) -> int:
    """Make the logbook and say how to open it."""
    path = Path(options.logbook)
    path = path if path.suffix or path.exists() else path.with_suffix(SUFFIX)
    logbook = create_logbook(path)
    made = logbook.path
    logbook.close()
    if options.json:
        print(json.dumps({"logbook": str(made)}))
    else:
        print(f"Made a new, empty logbook: {made}\nOpen it with: {program_name()} {made}")
    return 0
