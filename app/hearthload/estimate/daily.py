"""The daily table: the energy between two readings allotted to the local days that it stretches over."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from typing import TYPE_CHECKING, Final

from hearthload.domain.units import HOURS_PER_DAY
from hearthload.estimate.answers import DailyTable, DayRow, WeekdayRow

if TYPE_CHECKING:
    import pandas as pd

    from hearthload.estimate.spans import Span

EPOCH: Final = date(1970, 1, 1)

LONGEST_SPAN_D = 1.5
"""A longer span [d] spreads its energy over days that it cannot tell apart: no word on weekdays from it."""

LEAST_OF_EACH_D = 1.8
"""So much of each weekday must be covered [d], two mornings apart, before the week has a pattern."""

WHOLE_DAY_H = 23.0
"""Covered hours that count as a whole day [h]: morning readings are not taken to the minute."""


def table_of(spans: Sequence[Span]) -> DailyTable:
    """Allot spans to local days and gather them by day and by weekday.

    Within a span the energy is taken to flow evenly, E_day = d·(overlap of day and span)/(length of the
    span) [kWh], all by local wall time; so the days together hold exactly the spans' energies.
    """
    pieces = allotted(spans)
    return DailyTable(_days(pieces), _weekdays(pieces[pieces["length_d"] <= LONGEST_SPAN_D]))


def allotted(spans: Iterable[Span]) -> pd.DataFrame:
    """Cut spans at local midnights: a row a piece with day number, hours [h], kWh, length of its span [d]."""
    import pandas as pd  # noqa: PLC0415 (a second's start-up, when first asked for)

    rows = [piece for span in spans for piece in _pieces(span)]
    return pd.DataFrame(
        {
            "day": pd.Series([row[0] for row in rows], dtype="int64"),
            "hours": pd.Series([row[1] * HOURS_PER_DAY for row in rows], dtype="float64"),
            "energy_kwh": pd.Series([row[2] for row in rows], dtype="float64"),
            "length_d": pd.Series([row[3].to_local_d - row[3].from_local_d for row in rows], dtype="float64"),
        }
    )


def _pieces(span: Span) -> list[tuple[int, float, float, Span]]:
    """Cut one span: day number, length [d], energy [kWh]; whole where the clock went back across it."""
    length_d = span.to_local_d - span.from_local_d
    if length_d <= 0.0:
        return [(int(span.from_local_d // 1), span.days, span.energy_kwh, span)]
    cut = _cut(span.from_local_d, span.to_local_d)
    return [(day, end - begin, span.energy_kwh * (end - begin) / length_d, span) for day, begin, end in cut]


def _cut(from_d: float, to_d: float) -> list[tuple[int, float, float]]:
    """Cut a time at midnights: day number since 1970-01-01, begin and end [d]."""
    first, last = int(from_d // 1), int(to_d // 1)
    cut = [(day, max(from_d, float(day)), min(to_d, day + 1.0)) for day in range(first, last + 1)]
    return [piece for piece in cut if piece[2] > piece[1]]


def _days(pieces: pd.DataFrame) -> tuple[DayRow, ...]:
    by_day = pieces.groupby("day").agg(
        energy_kwh=("energy_kwh", "sum"), hours=("hours", "sum"), longest_d=("length_d", "max")
    )
    return tuple(
        DayRow(
            day=EPOCH + timedelta(days=int(day)),
            energy_kwh=float(row["energy_kwh"]),
            hours=float(row["hours"]),
            spread=bool(row["longest_d"] > LONGEST_SPAN_D),
        )
        for day, row in by_day.iterrows()
    )


def _weekdays(pieces: pd.DataFrame) -> tuple[WeekdayRow, ...]:
    """Gather by weekday; nothing unless every weekday was covered often enough."""
    weekday = (pieces["day"] + EPOCH.weekday()) % 7
    by_weekday = pieces.groupby(weekday)[["energy_kwh", "hours"]].sum()
    covered_d = by_weekday["hours"] / HOURS_PER_DAY
    if len(by_weekday) < 7 or covered_d.min() < LEAST_OF_EACH_D:
        return ()
    by_day = pieces.groupby("day")[["energy_kwh", "hours"]].sum()
    whole = by_day[by_day["hours"] >= WHOLE_DAY_H]["energy_kwh"]
    ends = whole.groupby((whole.index + EPOCH.weekday()) % 7).agg(["min", "max"])
    mean = by_weekday["energy_kwh"] / covered_d
    return tuple(
        WeekdayRow(
            weekday=number,
            mean_kwh=float(mean[number]),
            low_kwh=float(ends["min"].get(number, mean[number])),
            high_kwh=float(ends["max"].get(number, mean[number])),
            days=float(covered_d[number]),
        )
        for number in range(7)
    )
