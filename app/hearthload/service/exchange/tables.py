"""Plain tables for a terminal."""

from __future__ import annotations

from collections.abc import Sequence


def table(headers: Sequence[str], rows: Sequence[Sequence[str]], right: frozenset[int] = frozenset()) -> str:
    """Set rows under headers in columns of equal width; the columns numbered in `right` end flush."""
    lines = [tuple(headers), *map(tuple, rows)]
    widths = [max(len(line[column]) for line in lines) for column in range(len(headers))]
    printed = [
        "  ".join(
            cell.rjust(width) if column in right else cell.ljust(width)
            for column, (cell, width) in enumerate(zip(line, widths, strict=True))
        ).rstrip()
        for line in lines
    ]
    printed.insert(1, "-" * max(map(len, printed)))
    return "\n".join(printed)
