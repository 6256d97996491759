"""What may be typed on the command line, and sentences for what may not."""

from __future__ import annotations

import argparse
import os
import re
from collections.abc import Callable, Mapping, Sequence
from typing import NoReturn

from hearthload.errors import KnownError
from hearthload.resources import asset

_NEGATIVE = re.compile(r"-(?:[0-9.,]|inf|nan)", re.IGNORECASE)

SUMMARIES = {
    "pictures": "draw every page of the window into picture files; needs no display",
    "new": "make a new, empty logbook",
    "show": "print the appliances with what their readings say",
    "log": "save one reading",
    "explain": "say how an appliance's estimate came about",
    "estimate": "estimate from a CSV file of readings, without a logbook",
    "plan": "print an outage plan: its loads, its totals, what to look for",
    "verdict": "say what each supply carries of a plan, and what to leave off",
    "cord": "check an extension cord for a load",
    "size": "from loads to verdicts out of a JSON file, without a logbook",
}


class UsageError(KnownError):
    """What was typed is not a command as Hearthload knows it."""


def program_name() -> str:
    """Give what the person types to start the program, for hints that can be typed as they stand."""
    return os.environ.get("HEARTHLOAD_STARTED_AS", "hearthload")


class Parser(argparse.ArgumentParser):
    """A parser that raises one sentence and its usage instead of printing and leaving."""

    def error(self, message: str) -> NoReturn:
        """Refuse what was typed."""
        usage = " ".join(self.format_usage().removeprefix("usage:").split())
        raise UsageError(f"{_refusal(message)} Usage: {usage}")


def _refusal(message: str) -> str:
    missing = re.fullmatch(r"the following arguments are required: (.*)", message)
    if missing:
        return f"{missing.group(1)} is missing."
    surplus = re.fullmatch(r"unrecognized arguments: (.*)", message)
    if surplus:
        return f"“{surplus.group(1)}” is more than is understood here."
    return f"{message[:1].upper()}{message[1:]}."


def parse(arguments: Sequence[str]) -> argparse.Namespace:
    """Read the command line; `options.command` is "window" when no command is named.

    The first word that is not an option is the command if it is one, else the logbook to open.
    """
    words = [word for word in arguments if not word.startswith("-")]
    if not words or words[0] not in SUMMARIES or "--version" in arguments:
        options = _window_parser().parse_args(list(arguments))
        options.command = "window"
        return options
    command = words[0]
    rest = list(arguments)
    rest.remove(command)
    options = _command_parser(command).parse_args([_as_value(word) for word in rest])
    options.command = command
    return options


def _as_value(word: str) -> str:
    """Let a negative number through as a value, to be refused as one: with a space it is no option."""
    return f" {word}" if _NEGATIVE.match(word) else word


def _window_parser() -> Parser:
    listed = "\n".join(f"  {name:<10}{summary}" for name, summary in SUMMARIES.items())
    parser = Parser(
        prog=program_name(),
        usage=f"{program_name()} [LOGBOOK] [--demo]",
        description="Open the window on a logbook: the one named, else the one in your data folder.",
        epilog=f"commands:\n{listed}\n\n{program_name()} COMMAND --help tells more about each.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        allow_abbrev=False,
    )
    parser.add_argument("logbook", nargs="?", metavar="LOGBOOK", help="a .hearthload file")
    parser.add_argument("--demo", action="store_true", help="open the demo household, made anew each day")
    _add_common(parser)
    return parser


def _command_parser(command: str) -> Parser:
    parser = Parser(
        prog=f"{program_name()} {command}",
        description=f"{SUMMARIES[command][:1].upper()}{SUMMARIES[command][1:]}.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
        epilog=_size_epilog() if command == "size" else None,
        allow_abbrev=False,
    )
    if command == "pictures":
        parser.add_argument("folder", metavar="DIR", help="where to put the pictures")
        parser.add_argument("--demo", action="store_true", help="of the demo household, not of your own")
    elif command in _FILES:
        parser.add_argument("file", metavar=_FILES[command][0], help=_FILES[command][1])
    elif command != "cord":
        parser.add_argument("logbook", metavar="LOGBOOK", help="a .hearthload file")
    _ADD.get(command, _add_nothing)(parser)
    if command in _WITH_STEPS:
        parser.add_argument("--steps", action="store_true", help="print every line of arithmetic")
    _add_common(parser)
    return parser


def _size_epilog() -> str:
    return (
        "What such a file says stands on the page “The size file” of the window's help. A whole one:\n"
        f"{asset('examples/mill-cottage.json')}"
    )


def _add_nothing(_parser: Parser) -> None:
    """Add no more than every command has."""


def _add_appliance(parser: Parser) -> None:
    parser.add_argument("appliance", metavar="APPLIANCE", help="its name, or how its name begins")


def _add_explain(parser: Parser) -> None:
    _add_appliance(parser)
    parser.add_argument("--equations", action="store_true", help="print the equations too, below the words")


def _add_reading(parser: Parser) -> None:
    _add_appliance(parser)
    parser.add_argument("energy", metavar="KWH", help="the cumulative kWh that the meter shows")
    parser.add_argument(
        "hours", nargs="?", metavar="HOURS", help="the elapsed hours: 37:20, 37.3, 1d 13h 20m"
    )
    parser.add_argument("--at", metavar="T", default="", help="when: 7:30, yesterday 7:30, 2026-11-24 7:30")
    parser.add_argument("--watts", metavar="W", help="the watts shown at that moment")


def _add_plan(parser: Parser) -> None:
    parser.add_argument(
        "--plan", metavar="NAME", help="which plan, or how its name begins; else the only one"
    )


def _add_verdict(parser: Parser) -> None:
    _add_plan(parser)
    parser.add_argument("--supply", metavar="NAME", help="which supply, or how its name begins; else all")


def _add_cord(parser: Parser) -> None:
    parser.add_argument("--watts", metavar="W", required=True, help="what the load draws while running")
    parser.add_argument("--volts", metavar="V", required=True, help="the supply's voltage")
    parser.add_argument("--length", metavar="M", required=True, help="one way: 15, 15 m, 50 ft")
    parser.add_argument("--gauge", metavar="KEY", required=True, help="14 AWG, awg_14, 1.5 mm2, mm2_1.5")
    parser.add_argument("--power-factor", metavar="PF", help="of the load running; 1 if left out")
    parser.add_argument("--start-multiple", metavar="X", help="current at the start over current running")
    parser.add_argument("--long-run", action="store_true", help="it runs three hours or more at a time")


def _add_common(parser: Parser) -> None:
    parser.add_argument("--version", action="store_true", help="print the version")
    parser.add_argument("--json", action="store_true", help="answer as JSON, for machines")


_FILES = {
    "estimate": ("FILE.csv", "one row a reading"),
    "size": ("FILE.json", "a plan, its loads and supplies"),
}
_WITH_STEPS = frozenset({"plan", "verdict", "cord", "size"})
_ADD: Mapping[str, Callable[[Parser], None]] = {
    "log": _add_reading,
    "explain": _add_explain,
    "plan": _add_plan,
    "verdict": _add_verdict,
    "cord": _add_cord,
}
