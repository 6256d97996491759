"""A comma-separated file as rows with line numbers; whatever is wrong with it is said in one sentence."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from hearthload.errors import KnownError
from hearthload.service.exchange.file_text import Expected, file_text

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
    text = file_text(
        path, Expected("file of readings", "table of readings", "CSV in UTF-8", LARGEST_FILE_BYTES)
    )
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
