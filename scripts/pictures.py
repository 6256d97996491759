"""Draws the window of the demo into DIR (out/pictures unless named) and renews the picture in README.md."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import environment
from progress import say

SHOWN = "demo-readings-light-1280x800-100.png"
README_PICTURE = environment.ROOT / "assets" / "pictures" / "readings.png"


def draw() -> int:
    """Prepare the environment, draw every picture with the program's own command, and renew the README's."""
    python = environment.prepare(tests=False)
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else environment.ROOT / "out" / "pictures"
    command = [str(python), "-P", "-m", "hearthload", "pictures", str(folder), "--demo"]
    code = subprocess.call(command, env=environment.clean_environ())
    if code == 0:
        README_PICTURE.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(folder / SHOWN, README_PICTURE)
        say(f"The README's picture is renewed: {README_PICTURE.relative_to(environment.ROOT)}")
    return code


if __name__ == "__main__":
    sys.exit(environment.run_or_sentence(draw))
