"""The command line: reads what was typed, runs one command, tells faults in a sentence."""

from __future__ import annotations

import importlib
import os
import sys
from collections.abc import Sequence

import hearthload
from hearthload.commands.parser import parse
from hearthload.errors import KnownError

EXIT_KNOWN = 2
EXIT_BUG = 70  # EX_SOFTWARE of sysexits.h
EXIT_INTERRUPTED = 130  # 128 + SIGINT, as shells count
EXIT_PIPE = 141  # 128 + SIGPIPE


def main(argv: Sequence[str] | None = None) -> int:
    """Run the program with these arguments and give its exit code."""
    from hearthload.commands import faults  # noqa: PLC0415 - keeps the start of every command small

    try:
        code = _run(sys.argv[1:] if argv is None else argv)
        sys.stdout.flush()
    except KnownError as error:
        faults.say(str(error))
        return EXIT_KNOWN
    except KeyboardInterrupt:
        faults.say("Stopped.")
        return EXIT_INTERRUPTED
    except BrokenPipeError:
        _give_up_output()
        return EXIT_PIPE
    except Exception as error:  # noqa: BLE001 - the last net: a report instead of a traceback
        faults.say(faults.apology(error))
        return EXIT_BUG
    return code


def window() -> int:
    """Run the program where there may be no terminal to print to: the entry of the desktop's menu."""
    return main()


def _run(arguments: Sequence[str]) -> int:
    try:
        options = parse(arguments)
    except SystemExit as leaving:  # --help has printed its page
        return int(leaving.code or 0)
    if options.version:
        print(f"Hearthload {hearthload.__version__}")
        return 0
    command = importlib.import_module(f"hearthload.commands.{options.command}")
    return int(command.run(options))


def _give_up_output() -> None:
    """Point standard output nowhere, so that Python's own flush at the end does not complain again."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
