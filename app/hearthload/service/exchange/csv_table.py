"""A comma-separated file as rows with line numbers; whatever is wrong with it is said in one sentence."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from hearthload.errors import KnownError

LARGEST_FILE_BYTES = 256 * 1024 * 1024
"""More than any table of readings; keeps a wrong file from filling the memory."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row: the line it begins on, and its cells by column name without blanks around."""

    line: int
    cells: dict[str, str]


def read_table(path: Path, wanted: Sequence[str], known: Sequence[str]) -> Iterator[Row]:
    """Read the rows of a UTF-8 file whose first line names its columns, in any order.

    Columns in `wanted` must be there, those not in `known` are ignored, and so are empty lines.
    """
    text = _text_of(path)
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    header: list[str] | None = None
    line = 1
    try:
        for fields in reader:
            if not any(field.strip() for field in fields):
                pass
            elif header is None:
                header = _header(path, fields, wanted, known)
            else:
                yield _row(path, line, header, fields)
            line = reader.line_num + 1
    except csv.Error as error:
        raise KnownError(f"“{path.name}”, line {line}: {_reason(error)}.") from error
    if header is None:
        raise KnownError(f"“{path.name}” is empty: its first line has to name the columns.")


def _reason(error: csv.Error) -> str:
    said = str(error)
    if "field limit" in said:
        return (
            f"a cell is longer than {csv.field_size_limit()} characters, perhaps a quotation mark is missing"
        )
    if "unexpected end" in said:
        return "a quotation mark is opened and never closed"
    return f"the row cannot be read ({said})"


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except (OSError, ValueError):  # a name too long, a folder above it that may not be entered
        return False


def _text_of(path: Path) -> str:
    try:
        with path.open("rb") as file:
            raw = file.read(LARGEST_FILE_BYTES + 1)
    except FileNotFoundError as error:
        raise KnownError(f"There is no file {path}.") from error
    except IsADirectoryError as error:
        raise KnownError(f"{path} is a folder, not a file of readings.") from error
    except (OSError, ValueError) as error:
        if _is_folder(path):
            raise KnownError(f"{path} is a folder, not a file of readings.") from error
        why = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise KnownError(f"{path} cannot be read: {why}.") from error
    if len(raw) > LARGEST_FILE_BYTES:
        raise KnownError(
            f"“{path.name}” is larger than {LARGEST_FILE_BYTES // 2**20} MB: not a table of readings."
        )
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise KnownError(
            f"“{path.name}”, line {line}: the file is not UTF-8 text; save it as CSV in UTF-8."
        ) from error
    nul = text.find("\0")
    if nul >= 0:
        line = text.count("\n", 0, nul) + 1
        raise KnownError(f"“{path.name}”, line {line}: there is a NUL byte, so this is not a text file.")
    return text


def _header(path: Path, fields: Sequence[str], wanted: Sequence[str], known: Sequence[str]) -> list[str]:
    names = [field.strip().casefold() for field in fields]
    if len(names) == 1 and (";" in names[0] or "\t" in names[0]):
        raise KnownError(
            f"“{path.name}”, line 1: the columns are not parted by commas; save it as CSV with commas."
        )
    lacking = [name for name in wanted if name not in names]
    if lacking:
        said = ", ".join(lacking)
        raise KnownError(
            f"“{path.name}”: the first line has to name the columns, and these are missing: {said}."
        )
    for name in known:
        if names.count(name) > 1:
            raise KnownError(f"“{path.name}”: the column {name} is there more than once.")
    return [name if name in known else "" for name in names]


def _row(path: Path, line: int, header: Sequence[str], fields: Sequence[str]) -> Row:
    if any(field.strip() for field in fields[len(header) :]):
        raise KnownError(
            f"“{path.name}”, line {line}: {len(fields)} cells, but line 1 names {len(header)} columns."
        )
    return Row(line, {name: field.strip() for name, field in zip(header, fields, strict=False) if name})
