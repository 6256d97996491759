"""No command: opens the window."""

from __future__ import annotations

import argparse
from pathlib import Path

from hearthload.commands.display import require_display, told_if_qt
from hearthload.commands.parser import SUMMARIES, UsageError, program_name
from hearthload.errors import KnownError


def run(options: argparse.Namespace) -> int:
    """Open the window on the logbook named, on a copy of the demo, or on the person's own logbook."""
    if options.logbook and options.demo:
        raise UsageError("Give either a LOGBOOK or --demo, not both.")
    path = Path(options.logbook) if options.logbook else None
    if path is not None:
        _require_file(path, options.logbook)
    require_display()
    try:
        from hearthload.main import run_window  # noqa: PLC0415 - Qt only where a window is wanted
    except ImportError as error:
        raise told_if_qt(error) from error
    return run_window(path, demo=options.demo)


def _require_file(path: Path, typed: str) -> None:
    try:
        is_folder, is_there = path.is_dir(), path.exists()
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise KnownError(f"{typed} cannot be opened: {why}.") from error
    if is_folder:
        raise KnownError(f"{typed} is a folder, not a logbook.")
    if not is_there:
        raise KnownError(
            f"There is no logbook {typed}; {program_name()} new {typed} makes one. "
            f"Commands are {', '.join(SUMMARIES)}."
        )
