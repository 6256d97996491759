"""A JSON file as plain values, read strictly; whatever is wrong with it is said in one sentence."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, NoReturn

from hearthload.errors import KnownError
from hearthload.service.exchange.file_text import Expected, file_text

LARGEST_FILE_BYTES = 4 * 1024 * 1024
"""More than any household's loads; keeps a wrong file from filling the memory."""


class JsonObject(dict[str, Any]):
    """An object of a JSON file; `twice` is a key that stands in it more than once, or None."""

    twice: str | None = None


class _NoNumberError(ValueError):
    """NaN and Infinity, which Python reads and JSON does not have."""


def read_json(path: Path) -> object:
    """Read a JSON file: values, lists, and objects as `JsonObject`. NaN and Infinity are refused."""
    expected = Expected("file of loads and supplies", "file of loads", "JSON in UTF-8", LARGEST_FILE_BYTES)
    text = file_text(path, expected)
    if not text.strip():
        raise KnownError(f"“{path.name}” is empty: it has to hold a JSON object.")
    try:
        value: object = json.loads(text, object_pairs_hook=_object, parse_constant=_no_constant)
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        raise KnownError(f"“{path.name}”, {where}: this is not JSON ({_lowered(error.msg)}).") from error
    except _NoNumberError as error:
        raise KnownError(
            f"“{path.name}”: {error} is no number in JSON; leave out what is not known."
        ) from error
    except ValueError as error:  # a whole number of thousands of digits
        raise KnownError(f"“{path.name}”: a number in it has too many digits.") from error
    except RecursionError as error:
        raise KnownError(f"“{path.name}”: it is nested too deeply for a file of loads.") from error
    return value


def _object(pairs: list[tuple[str, Any]]) -> JsonObject:
    found = JsonObject()
    for key, value in pairs:
        if key in found:
            found.twice = key
        found[key] = value
    return found


def _no_constant(name: str) -> NoReturn:
    raise _NoNumberError(name)


def _lowered(message: str) -> str:
    return message[:1].lower() + message[1:]
