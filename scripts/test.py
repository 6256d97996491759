"""Runs the tests, the linter, the formatter's check and the type check, in the environment it makes."""

from __future__ import annotations

import subprocess
import sys
import time

import environment
from progress import say


def run_checks() -> int:
    """Prepare the environment, run every check, and end with what passed; arguments after -- go to pytest."""
    python = environment.prepare(tests=True)
    arguments = sys.argv[1:]
    if arguments and arguments[0] != "--":
        say("Usage: python3 scripts/test.py [-- ARGUMENTS FOR PYTEST]")
        return 2
    checks = (
        ("Checking the style", ["ruff", "check", "--quiet"]),
        ("Checking the layout", ["ruff", "format", "--check", "--quiet"]),
        ("Checking the types", ["mypy", "--strict"]),
        ("Running the tests", ["pytest", *arguments[1:]]),
    )
    failed = []
    for task, (module, *options) in checks:
        say(f"{task} ({module}) ...")
        began = time.monotonic()
        code = subprocess.call(
            [python, "-m", module, *options], cwd=environment.ROOT, env=environment.clean_environ()
        )
        say(f"{task}: {'passed' if code == 0 else 'FAILED'}, {time.monotonic() - began:.0f} s")
        failed += [module] if code else []
    print(f"checks: {len(checks) - len(failed)} passed, {len(failed)} failed", flush=True)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(environment.run_or_sentence(run_checks))
