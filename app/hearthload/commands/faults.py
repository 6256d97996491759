"""A bug's report: written to the log folder, told in one sentence; no traceback meets a person."""

from __future__ import annotations

import platform
import sys
import traceback
from datetime import datetime
from pathlib import Path

import hearthload


def write_report(error: BaseException) -> Path | None:
    """Write what went wrong to the person's log folder and give the file, None if even that fails."""
    import platformdirs  # noqa: PLC0415 - only when something went wrong

    now = datetime.now().astimezone()
    text = "\n".join(
        [
            f"Hearthload {hearthload.__version__}, Python {platform.python_version()}, {platform.platform()}",
            f"{now.isoformat(timespec='seconds')}",
            "".join(traceback.format_exception(error)),
        ]
    )
    try:
        folder = platformdirs.user_log_path("hearthload", appauthor=False, ensure_exists=True)
        path = folder / f"report-{now:%Y%m%d-%H%M%S-%f}.txt"
        path.write_text(text, encoding="utf-8")
    except OSError:
        return None
    return path


def apology(error: BaseException) -> str:
    """Report a bug and give the sentence that says so."""
    path = write_report(error)
    where = f"a report is in {path}" if path else f"({type(error).__name__}: {error})"
    return f"Something went wrong inside Hearthload, sorry; what was saved before is safe, and {where}."


def say(sentence: str) -> None:
    """Print one sentence for the person to standard error."""
    print(sentence, file=sys.stderr)
