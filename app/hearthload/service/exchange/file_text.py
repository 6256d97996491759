"""The text of a file that a person names; whatever is wrong with it is said in one sentence."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from hearthload.errors import KnownError


@dataclass(frozen=True, slots=True)
class Expected:
    """What a file is meant to be, for sentences: "file of readings", and how it is to be saved."""

    what: str
    short: str
    saved_as: str
    most_bytes: int


def file_text(path: Path, expected: Expected) -> str:
    """Read a file of UTF-8 text, with or without a byte order mark."""
    raw = _bytes_of(path, expected)
    if len(raw) > expected.most_bytes:
        most = f"{expected.most_bytes // 2**20} MB"
        raise KnownError(f"“{path.name}” is larger than {most}: not a {expected.short}.")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise KnownError(
            f"“{path.name}”, line {line}: the file is not UTF-8 text; save it as {expected.saved_as}."
        ) from error
    nul = text.find("\0")
    if nul >= 0:
        line = text.count("\n", 0, nul) + 1
        raise KnownError(f"“{path.name}”, line {line}: there is a NUL byte, so this is not a text file.")
    return text


def _bytes_of(path: Path, expected: Expected) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(expected.most_bytes + 1)
    except FileNotFoundError as error:
        raise KnownError(f"There is no file {path}.") from error
    except IsADirectoryError as error:
        raise KnownError(f"{path} is a folder, not a {expected.what}.") from error
    except (OSError, ValueError) as error:
        if _is_folder(path):
            raise KnownError(f"{path} is a folder, not a {expected.what}.") from error
        why = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise KnownError(f"{path} cannot be read: {why}.") from error


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except (OSError, ValueError):  # a name too long, a folder above it that may not be entered
        return False
