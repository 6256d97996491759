"""`pictures`: draws every page of the window into picture files, without a display."""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
from pathlib import Path

from hearthload.commands.display import told_if_qt
from hearthload.errors import KnownError

# Qt takes its scale once, at the start: each scale is drawn by a process of its own, told by this variable.
SCALE = "HEARTHLOAD_PICTURES_SCALE"
SCALES = ("1", "2")


def run(options: argparse.Namespace) -> int:
    """Draw the pictures at every scale and list the files."""
    folder = Path(options.folder)
    scale = os.environ.get(SCALE)
    if scale is not None:
        return _draw(folder, float(scale), demo=options.demo)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise KnownError(f"The folder {folder} cannot be made: {error.strerror}.") from error
    files: list[str] = []
    for one in SCALES:
        code, printed = _draw_in_process(folder, one, demo=options.demo)
        if code:
            return code
        files += printed
    if options.json:
        print(json.dumps({"pictures": files}, ensure_ascii=False))
    else:
        print("\n".join(files))
    return 0


def _draw_in_process(folder: Path, scale: str, *, demo: bool) -> tuple[int, list[str]]:
    drawing = {SCALE: scale, "QT_SCALE_FACTOR": scale, "QT_QPA_PLATFORM": "offscreen", "QT_FONT_DPI": "96"}
    # -P keeps files of the current folder from being taken for modules.
    command = [sys.executable, "-P", "-m", "hearthload", "pictures", str(folder), *["--demo"][: int(demo)]]
    done = subprocess.run(  # noqa: S603 - ourselves
        command, env={**os.environ, **drawing}, stdout=subprocess.PIPE, encoding="utf-8", check=False
    )
    return done.returncode, done.stdout.splitlines()


def _draw(folder: Path, scale: float, *, demo: bool) -> int:
    try:
        from hearthload.main import draw_pictures  # noqa: PLC0415 - Qt only where it draws
    except ImportError as error:
        raise told_if_qt(error) from error
    for file in draw_pictures(folder, scale, demo=demo):
        print(file, flush=True)
    return 0
