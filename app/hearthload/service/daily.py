"""The question behind the daily table of a measurement."""

from __future__ import annotations

from hearthload.estimate.answers import DailyTable
from hearthload.estimate.daily import table_of
from hearthload.service.logbook import Logbook


def daily_table(logbook: Logbook, measurement_id: int) -> DailyTable:
    """Give a measurement's energy by local day and, where it is known, by weekday."""
    return table_of(logbook.estimates.spans(measurement_id))
