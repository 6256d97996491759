"""The schema of a new file against the tables that the program thinks it has."""

from __future__ import annotations

from pathlib import Path

import pytest
from sqlalchemy import Table

from hearthload.store import tables
from hearthload.store.connecting import APPLICATION_ID
from hearthload.store.database import Database
from hearthload.store.steps import all_steps
from tests.store.files import looking, meddling, tables_of

TABLES = tables.metadata.sorted_tables
EACH_TABLE = pytest.mark.parametrize("table", TABLES, ids=lambda table: table.name)


def test_the_file_has_these_tables_and_no_others(fresh: Path) -> None:
    with looking(fresh) as connection:
        listed = connection.execute("SELECT name FROM sqlite_schema WHERE type = 'table'").fetchall()
    names = {row["name"] for row in listed if not row["name"].startswith("sqlite_")}
    assert names == {table.name for table in TABLES}


def test_every_table_but_the_journal_has_images_parents_first(fresh: Path) -> None:
    with looking(fresh) as connection:
        assert {table.name for table in tables.KEPT} == set(tables_of(connection))
    assert set(TABLES) - set(tables.KEPT) == {tables.journal}
    for place, table in enumerate(tables.KEPT):
        parents = {key.column.table for key in table.foreign_keys}
        assert parents <= set(tables.KEPT[:place])


@EACH_TABLE
def test_the_columns_are_those_of_the_metadata(fresh: Path, table: Table) -> None:
    with looking(fresh) as connection:
        found = connection.execute(f"PRAGMA table_xinfo({table.name})").fetchall()
    # SQLite says of a key column that it may be NULL and never lets it be.
    in_file = [(row["name"], row["type"], bool(row["notnull"]) or row["pk"] == 1, row["pk"]) for row in found]
    assert in_file == [
        (column.name, str(column.type), not column.nullable, int(column.primary_key))
        for column in table.columns
    ]


@EACH_TABLE
def test_the_table_is_strict(fresh: Path, table: Table) -> None:
    with looking(fresh) as connection:
        (row,) = connection.execute(f"PRAGMA table_list({table.name})").fetchall()
    assert row["strict"] == 1


@EACH_TABLE
def test_the_keys_point_where_the_metadata_say_and_take_nothing_with_them(fresh: Path, table: Table) -> None:
    with looking(fresh) as connection:
        found = connection.execute(f"PRAGMA foreign_key_list({table.name})").fetchall()
    in_file = {(row["from"], row["table"], row["to"]) for row in found}
    assert in_file == {
        (key.parent.name, key.column.table.name, key.column.name) for key in table.foreign_keys
    }
    # A cascade would remove rows that no image remembers: undo could not bring them back.
    assert {(row["on_delete"], row["on_update"]) for row in found} <= {("NO ACTION", "NO ACTION")}


def test_the_file_says_whose_it_is_and_how_new(fresh: Path) -> None:
    with looking(fresh) as connection:
        assert connection.execute("PRAGMA application_id").fetchone()[0] == APPLICATION_ID
        assert connection.execute("PRAGMA user_version").fetchone()[0] == len(all_steps()) >= 1


def test_the_steps_make_what_the_file_has_without_help(fresh: Path) -> None:
    """No table, index or trigger comes from anywhere else, so any two files of one version are alike."""
    with looking(fresh) as connection:
        kinds = connection.execute("SELECT type, count(*) AS n FROM sqlite_schema GROUP BY type").fetchall()
        assert {row["type"] for row in kinds} == {"table", "index", "trigger"}
        triggers = connection.execute("SELECT tbl_name FROM sqlite_schema WHERE type = 'trigger'").fetchall()
    assert {row["tbl_name"] for row in triggers} == {"journal"}


def test_a_key_is_never_given_twice(fresh: Path) -> None:
    """Undo brings rows back under their own keys: nobody else may have taken them in the meantime."""
    add = (
        "INSERT INTO meters (name, plug, energy_step_kwh, elapsed_step_h, power_loss, rounding, note)"
        " VALUES ('Grey', 'unknown', 0.01, 0.1, 'unknown', 'unknown', '')"
    )
    with meddling(fresh) as connection:
        first = connection.execute(add).lastrowid
        connection.execute("DELETE FROM meters")
        assert connection.execute(add).lastrowid != first


def test_a_commit_leaves_one_file_behind(database: Database) -> None:
    with database.reading() as connection:
        assert connection.exec_driver_sql("PRAGMA journal_mode").scalar_one() == "delete"
        # 3 is EXTRA: the folder is synced too, so a power cut leaves the old state or the new.
        assert connection.exec_driver_sql("PRAGMA synchronous").scalar_one() == 3
        assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar_one() == 1
        assert connection.exec_driver_sql("PRAGMA trusted_schema").scalar_one() == 0
    assert [other.name for other in database.path.parent.iterdir()] == [database.path.name]
