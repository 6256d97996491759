"""Constants that turn one unit into another."""

from __future__ import annotations

HOURS_PER_DAY = 24.0
MINUTES_PER_HOUR = 60.0
SECONDS_PER_HOUR = 3600.0
SECONDS_PER_DAY = 86400.0
WATTS_PER_KILOWATT = 1000.0
