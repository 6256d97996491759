"""What is wrong with a CSV file of readings, in one sentence with file, line and column."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from hearthload.errors import KnownError
from hearthload.service.exchange import csv_table
from hearthload.service.exchange.estimate_csv import OPTIONAL, WANTED, read_estimate_csv

COLUMNS = (*WANTED, *OPTIONAL)
GOOD = {
    "appliance": "Router",
    "kind": "always_on",
    "taken_at": "2026-11-24T07:30+01:00",
    "energy_kwh": "5.2",
}


def refusal(folder: Path, content: str | bytes) -> str:
    """Give the sentence with which a file is refused, and see that it is one plain line about that file."""
    path = folder / "readings.csv"
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    with pytest.raises(KnownError) as refused:
        read_estimate_csv(path)
    said = str(refused.value)
    assert "readings.csv" in said
    assert said.endswith(".")
    assert all(letter.isprintable() for letter in said), said
    assert len(said) < 400
    return said


def row(**cells: str) -> str:
    """Give a row with all columns, a good one but for the cells given."""
    kept = {**GOOD, **cells}
    return ",".join(
        f'"{kept[name]}"' if "," in kept.get(name, "") else kept.get(name, "") for name in COLUMNS
    )


def file_of(*rows: str) -> str:
    return "\n".join([",".join(COLUMNS), *rows]) + "\n"


BAD_CELLS = [
    ("appliance", "", "nothing"),
    ("kind", "", "nothing"),
    ("taken_at", "", "nothing"),
    ("energy_kwh", "", "nothing"),
    ("kind", "fridge", "refrigerator"),  # the sentence lists the kinds there are
    ("kind", "always on", "always_on"),
    ("taken_at", "yesterday", "yesterday"),
    ("taken_at", "2026-11-24", "time of day"),
    ("taken_at", "20261124", "time of day"),
    ("taken_at", "2026-W48-2", "time of day"),
    ("taken_at", "24.11.2026 07:30", "24.11.2026"),
    ("taken_at", "2026-02-30T07:30", "2026-02-30"),
    ("taken_at", "2026-11-24T25:00", "25:00"),
    ("taken_at", "2026-11-24T07:30+99:00", "+99"),
    ("taken_at", "٢٠٢٦-11-24T07:30", "not a date"),
    ("taken_at", "1764000000", "1764000000"),
    *(
        (column, value, said)
        for column in ("energy_kwh", "elapsed_h", "power_w")
        for value, said in (
            ("abc", "not a number"),
            ("5,2", "comma"),
            ("1.234,5", "not a number"),
            ("1 234", "not a number"),
            ("-0.1", "negative"),
            ("nan", "not a number"),
            ("inf", "not a number"),
            ("1e400", "too large"),
            ("1000000001", "too large"),
            ("0x10", "not a number"),
            ("1_000", "not a number"),
            ("٣", "not a number"),
            ("5.2 kWh", "not a number"),
            ("--5", "not a number"),
            ("NA", "not a number"),
        )
    ),
    ("uses", "2.5", "whole"),
    ("uses", "-1", "negative"),
    ("run", "first", "not a number"),
    ("run", "1.5", "whole"),
    ("energy_step_kwh", "0", "zero"),
    ("energy_step_kwh", "-0.01", "negative"),
    ("energy_step_kwh", "1001", "too large"),
    ("elapsed_step_h", "0", "zero"),
    ("elapsed_step_h", "1:00", "not a number"),
    ("gain_percent", "101", "too large"),
    ("gain_percent", "2 %", "not a number"),
    ("exact_start", "yes", "neither"),
    ("exact_start", "2", "neither"),
    ("exact_start", "true", "neither"),
]


@pytest.mark.parametrize(("column", "cell", "word"), BAD_CELLS)
def test_a_bad_cell_is_named_by_file_line_and_column(
    tmp_path: Path, column: str, cell: str, word: str
) -> None:
    said = refusal(tmp_path, file_of(row(), "", row(**{column: cell})))
    assert re.match(rf"“readings\.csv”, line 4, column {column}: ", said), said
    assert word in said


@pytest.mark.parametrize(
    ("column", "cells"),
    [
        ("energy_kwh", ("0", "1000000000")),
        ("elapsed_h", ("0", "1e9")),
        ("power_w", ("0", "1e9")),
        ("uses", ("0", "3.0")),
        ("energy_step_kwh", ("1e-9", "1000")),
        ("elapsed_step_h", ("1e-9", "1000")),
        ("gain_percent", ("0", "100")),
    ],
)
def test_both_ends_of_what_a_cell_may_hold_are_taken(
    tmp_path: Path, column: str, cells: tuple[str, str]
) -> None:
    path = tmp_path / "readings.csv"
    for cell in cells:
        path.write_text(file_of(row(**{column: cell})))
        assert [name for name, _ in read_estimate_csv(path)] == ["Router"]


def test_the_line_is_the_one_an_editor_shows(tmp_path: Path) -> None:
    two_lines = row(appliance="Lamp").replace("Lamp", '"Lamp\nhall"')
    for break_ in ("\n", "\r\n"):
        text = file_of(two_lines, "", two_lines, row(energy_kwh="x")).replace("\n", break_)
        # Header 1, rows 2-3, 4 empty, rows 5-6, the bad one 7.
        assert ", line 7, column energy_kwh:" in refusal(tmp_path, text)


def test_the_first_of_several_faults_is_told(tmp_path: Path) -> None:
    said = refusal(tmp_path, file_of(row(), row(power_w="x"), row(energy_kwh="y")))
    assert ", line 3, column power_w:" in said


def test_a_long_or_unprintable_cell_is_shown_short_and_tame(tmp_path: Path) -> None:
    assert '"' + "x" * 40 + '"' in refusal(tmp_path, file_of(row(energy_kwh="x" * 40)))
    for length in (41, 5000):
        assert '"' + "x" * 39 + '…"' in refusal(tmp_path, file_of(row(energy_kwh="x" * length)))
    said = refusal(tmp_path, file_of(row(energy_kwh="5\x1b[31m\u202e2")))
    assert "\x1b" not in said
    assert "�" in said


@pytest.mark.parametrize(
    ("header", "lacking"),
    [
        ("appliance,kind,taken_at", "energy_kwh"),
        ("name,kind,taken_at,energy_kwh", "appliance"),
        ("a,b,c,d", "appliance, kind, taken_at, energy_kwh"),
        ("Router,always_on,2026-11-24T07:30+01:00,5.2", "appliance, kind, taken_at, energy_kwh"),
        ("appliance kind taken_at energy_kwh", "appliance, kind, taken_at, energy_kwh"),
    ],
)
def test_missing_columns_are_named(tmp_path: Path, header: str, lacking: str) -> None:
    assert f"missing: {lacking}." in refusal(tmp_path, f"{header}\n{row()}\n")


@pytest.mark.parametrize("column", COLUMNS)
def test_a_column_that_is_there_twice_is_named(tmp_path: Path, column: str) -> None:
    text = ",".join((*COLUMNS, column.upper())) + "\n" + row() + ",\n"
    assert f"the column {column} is there more than once" in refusal(tmp_path, text)


@pytest.mark.parametrize("mark", [";", "\t"])
def test_other_marks_than_commas_are_told_in_line_1(tmp_path: Path, mark: str) -> None:
    said = refusal(tmp_path, file_of(row()).replace(",", mark))
    assert "line 1:" in said
    assert "commas" in said


def test_more_cells_than_columns(tmp_path: Path) -> None:
    said = refusal(tmp_path, "appliance,kind,taken_at,energy_kwh\nRouter,always_on,2026-11-24T07:30,5,2\n")
    # A decimal comma makes five cells of four.
    assert "line 2: 5 cells, but line 1 names 4 columns" in said


@pytest.mark.parametrize("content", [b"", b"\n\n", b"\xef\xbb\xbf", b" \r\n,,\r\n"])
def test_an_empty_file(tmp_path: Path, content: bytes) -> None:
    assert "is empty" in refusal(tmp_path, content)


def test_quotation_marks_that_do_not_close(tmp_path: Path) -> None:
    assert "line 1: a quotation mark is opened" in refusal(tmp_path, '"appliance,kind,taken_at,energy_kwh\n')
    assert "line 3: a quotation mark is opened and never closed" in refusal(
        tmp_path, file_of(row(), '"Router,always_on,2026-11-24T07:30,5')
    )
    assert "line 3: the row cannot be read" in refusal(tmp_path, file_of(row(), '"Rou"ter,always_on,x,5'))
    assert "line 3: a cell is longer than" in refusal(tmp_path, file_of(row(), '"' + "Router\n" * 40_000))


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (
            "appliance,kind,taken_at,energy_kwh\nK\u00fchl,freezer".encode("latin-1"),
            "line 2: the file is not UTF-8",
        ),
        ("appliance,kind,taken_at,energy_kwh\n".encode("utf-16"), "line 1: the file is not UTF-8"),
        (b"\n\xff", "line 2: the file is not UTF-8"),
        (b"appliance,kind,taken_at,energy_kwh\nRouter\0,freezer", "line 2: there is a NUL byte"),
        (b"\0appliance,kind,taken_at,energy_kwh\n", "line 1: there is a NUL byte"),
        (b"\n\0", "line 2: there is a NUL byte"),
    ],
)
def test_a_file_that_is_no_text_in_utf_8(tmp_path: Path, content: bytes, said: str) -> None:
    assert said in refusal(tmp_path, content)


def test_a_file_that_is_larger_than_any_table(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # The real limit of 256 MB would only be slow to lay down.
    monkeypatch.setattr(csv_table, "LARGEST_FILE_BYTES", 2**20)
    text = file_of(row())
    path = tmp_path / "readings.csv"
    path.write_text(text + "\n" * (2**20 - len(text.encode())))
    assert len(read_estimate_csv(path)) == 1
    assert "larger than 1 MB" in refusal(tmp_path, path.read_bytes() + b"\n")


def test_no_file_a_folder_and_a_name_that_cannot_be(tmp_path: Path) -> None:
    with pytest.raises(KnownError, match=r"There is no file .*nowhere"):
        read_estimate_csv(tmp_path / "nowhere.csv")
    with pytest.raises(KnownError, match="is a folder"):
        read_estimate_csv(tmp_path)
    (tmp_path / "readings.csv").touch()
    for name in ("nul\0.csv", "readings.csv/inside"):
        with pytest.raises(KnownError, match="cannot be read"):
            read_estimate_csv(tmp_path / name)


def test_offsets_are_not_mixed_within_an_appliance(tmp_path: Path) -> None:
    local = row(taken_at="2026-11-25T07:30", energy_kwh="6")
    said = refusal(tmp_path, file_of(row(), local))
    assert "line 3, column taken_at:" in said
    assert "no offset" in said
    assert "line 2" in said
    said = refusal(tmp_path, file_of(local, row()))
    assert "line 3, column taken_at:" in said
    assert "an offset" in said


def test_an_appliance_is_of_one_kind(tmp_path: Path) -> None:
    said = refusal(tmp_path, file_of(row(), row(kind="freezer", energy_kwh="6")))
    assert "line 3, column kind:" in said
    assert "always_on on line 2" in said


@pytest.mark.parametrize(
    ("column", "one", "other"),
    [("energy_step_kwh", "0.1", "0.01"), ("elapsed_step_h", "1", "0.1"), ("gain_percent", "1", "2")],
)
def test_a_run_has_one_meter_of_one_nature(tmp_path: Path, column: str, one: str, other: str) -> None:
    later = {"taken_at": "2026-11-25T07:30+01:00", "energy_kwh": "6"}
    said = refusal(tmp_path, file_of(row(**{column: one}), row(**{**later, column: other})))
    assert f"line 3, column {column}:" in said
    assert "line 2 of the same run" in said
    # Said twice alike, and said otherwise of another run, is well.
    path = tmp_path / "readings.csv"
    path.write_text(file_of(row(**{column: one}), row(**{**later, column: one})))
    assert len(read_estimate_csv(path)) == 1
    path.write_text(file_of(row(**{column: one}), row(**{**later, column: other, "run": "2"})))
    assert len(read_estimate_csv(path)[0][1].runs) == 2


def test_an_exact_start_begins_at_zero(tmp_path: Path) -> None:
    said = refusal(tmp_path, file_of(row(exact_start="1")))
    assert "line 2, column exact_start:" in said
    assert "5.2 kWh" in said
    later = row(taken_at="2026-11-25T07:30+01:00", energy_kwh="6", exact_start="1")
    said = refusal(tmp_path, file_of(row(energy_kwh="0", exact_start="0"), later))
    assert "line 3, column exact_start:" in said
    assert "0 on line 2" in said


def test_runs_do_not_overlap(tmp_path: Path) -> None:
    rows = [
        row(run="1", taken_at="2026-11-23T07:30+01:00"),
        row(run="1", taken_at="2026-11-25T07:30+01:00", energy_kwh="7"),
        row(run="2", taken_at="2026-11-25T07:29+01:00", energy_kwh="0"),
    ]
    said = refusal(tmp_path, file_of(*rows))
    assert "line 4, column taken_at:" in said
    assert "run 2 begins before the last reading of run 1" in said
    assert "line 3" in said
