"""One line that says what is being done and for how long; plain lines where there is no terminal."""

from __future__ import annotations

import sys
import threading
import time
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from typing import Self

TERMINAL_PERIOD_S = 0.5
PLAIN_PERIOD_S = 15.0


def say(sentence: str) -> None:
    """Print one line to standard error, which keeps standard output for the program's own answers."""
    print(sentence, file=sys.stderr, flush=True)


class Progress:
    """A task's line: on a terminal it is redrawn in place, elsewhere it is repeated now and then.

    Set `count` while the task goes on; `unit` says what is counted.
    """

    def __init__(self, task: str, unit: str = "") -> None:
        self.task = task
        self.unit = unit
        self.count = 0
        self._began = time.monotonic()
        self._over = threading.Event()
        self._terminal = sys.stderr.isatty()
        self._thread = threading.Thread(target=self._tick, daemon=True)

    def __enter__(self) -> Self:
        """Print the line and keep it fresh."""
        if not self._terminal:
            say(f"{self.task} ...")
        self._thread.start()
        return self

    def __exit__(self, kind: object, error: object, trace: object) -> None:
        """Print the line for the last time, with how long the task took."""
        self._over.set()
        self._thread.join()
        end = "" if kind is None else ", stopped"
        if self._terminal:
            print(f"\r{self._line()}{end}   ", file=sys.stderr, flush=True)
        else:
            say(f"{self._line()}{end}")

    def _line(self) -> str:
        seconds = time.monotonic() - self._began
        counted = f"{self.count} {self.unit}, " if self.unit else ""
        return f"{self.task}: {counted}{seconds:.0f} s"

    def _tick(self) -> None:
        while not self._over.wait(TERMINAL_PERIOD_S if self._terminal else PLAIN_PERIOD_S):
            if self._terminal:
                print(f"\r{self._line()} ", end="", file=sys.stderr, flush=True)
            else:
                say(f"{self._line()} ...")
