"""Step 2: answers to doubts, measurements joined to the one before, how a machine runs."""

from __future__ import annotations

from sqlalchemy import Connection

_MOMENT = "GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]T[0-9][0-9]:[0-9][0-9]:[0-9][0-9]Z'"

_ANSWERS = f"""
CREATE TABLE answers (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    measurement_id INTEGER NOT NULL REFERENCES measurements (id),
    reading_id INTEGER REFERENCES readings (id),
    code TEXT NOT NULL CHECK (code <> ''),
    about TEXT NOT NULL,
    answered_at TEXT NOT NULL CHECK (answered_at {_MOMENT}),
    answered_offset_min INTEGER NOT NULL CHECK (answered_offset_min BETWEEN -1439 AND 1439)
) STRICT
"""

_REST = (
    "CREATE INDEX answers_by_measurement ON answers (measurement_id)",
    "CREATE INDEX answers_by_reading ON answers (reading_id)",
    (
        "ALTER TABLE appliances ADD COLUMN cycling TEXT NOT NULL DEFAULT 'not_known' "
        "CHECK (cycling IN ('not_known', 'on_and_off', 'frost_free', 'variable_speed'))"
    ),
    "ALTER TABLE measurements ADD COLUMN joined INTEGER NOT NULL DEFAULT 0 CHECK (joined IN (0, 1))",
)


def step(connection: Connection) -> None:
    """Make the table of answers and give measurements and appliances their new columns."""
    for statement in (_ANSWERS, *_REST):
        connection.exec_driver_sql(statement)
