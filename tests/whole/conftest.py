"""The program as a process of its own, in an empty home."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

TOO_LONG_S = 120


@dataclass(frozen=True)
class Answer:
    """What a process said and how it ended."""

    code: int
    out: str
    err: str

    def json(self) -> Any:  # noqa: ANN401 - what JSON holds is what the test is about
        return json.loads(self.out)

    def refused(self, *words: str) -> None:
        """Check that it ended with one sentence on standard error, holding these words."""
        assert self.code == 2, (self.code, self.out, self.err)
        assert self.out == ""
        lines = self.err.strip().splitlines()
        assert len(lines) == 1, self.err
        assert "Traceback" not in self.err
        assert lines[0][0].isupper() or lines[0][0] in "“-./" or lines[0].startswith(("hearthload", "KWH"))
        assert lines[0].endswith((".", "?", "!")) or "Usage: " in lines[0]
        for word in words:
            assert word.casefold() in lines[0].casefold(), lines[0]


Hearthload = Callable[..., Answer]
Child = Callable[[str], Answer]


@pytest.fixture
def hearthload(home: Path) -> Hearthload:
    """Give a function that runs `hearthload` with arguments, in the test's empty home.

    `before` goes before the command, such as a tool that takes rights away.
    """

    def run(*arguments: str | Path, before: Sequence[str] = (), **environ: str) -> Answer:
        done = subprocess.run(
            [*before, sys.executable, "-P", "-m", "hearthload", *map(str, arguments)],
            cwd=home,
            env={**os.environ, "PYTHONWARNINGS": "error", "PYTHONIOENCODING": "utf-8", **environ},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            encoding="utf-8",
            timeout=TOO_LONG_S,
            check=False,
        )
        return Answer(done.returncode, done.stdout, done.stderr)

    return run


@pytest.fixture
def child(home: Path) -> Child:
    """Give a function that runs a piece of Python in a process of its own, drawing into memory."""

    def run(program: str) -> Answer:
        done = subprocess.run(
            [sys.executable, "-X", "faulthandler", "-P", "-c", program],
            cwd=home,
            env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
            stdin=subprocess.DEVNULL,
            capture_output=True,
            encoding="utf-8",
            timeout=TOO_LONG_S,
            check=False,
        )
        return Answer(done.returncode, done.stdout, done.stderr)

    return run
