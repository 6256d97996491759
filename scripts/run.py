"""Starts Hearthload from this checkout: makes the environment when needed, then hands the arguments on."""

from __future__ import annotations

import os
import subprocess
import sys

import environment


def start() -> int:
    """Prepare the environment and become the program."""
    python = environment.prepare(tests=False)
    environ = {**environment.clean_environ(), "HEARTHLOAD_STARTED_AS": "python3 scripts/run.py"}
    # -P keeps files of the current folder, such as a csv.py, from being taken for modules.
    command = [str(python), "-P", "-m", "hearthload", *sys.argv[1:]]
    if os.name != "nt":
        os.execve(command[0], command, environ)
    return subprocess.call(command, env=environ)


if __name__ == "__main__":
    sys.exit(environment.run_or_sentence(start))
