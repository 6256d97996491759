"""A measurement's chart values as plain rows of numbers, and in words for the read-out."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime

from hearthload.domain.figures import format_days, format_ends, format_number, format_percent, format_watts
from hearthload.service.answers import ChartData, SpanBar, TrendPoint
from hearthload.window.readings.entry_words import clock_words, day_words, span_words

TALLEST = 2.2
"""The daily scale ends at so many times the highest median: the first wide bands may run off it."""


@dataclass(frozen=True, slots=True)
class Curves:
    """What the plots draw, all float: trend and band in kWh per day, spans as pairs in watts, points.

    `span_s` and `span_w` hold two entries per span, its beginning and its end. `point_s` and `point_w`
    are the readings at the watts of the span that they close, or that they open at the start of a run;
    `doubt_s` and `doubt_w` those of them with an open doubt.
    """

    trend_s: list[float]
    median: list[float]
    band_s: list[float]
    low: list[float]
    high: list[float]
    span_s: list[float]
    span_w: list[float]
    point_s: list[float]
    point_w: list[float]
    doubt_s: list[float]
    doubt_w: list[float]


@dataclass(frozen=True, slots=True)
class Scales:
    """The ranges that show everything: time [UTC seconds], daily energy [kWh], watts from zero [W]."""

    from_s: float
    to_s: float
    daily: tuple[float, float]
    watts: tuple[float, float]


def curves_of(data: ChartData) -> Curves:
    """Turn a measurement's answer into what the plots draw; a lone estimate's band covers its span."""
    trend = data.trend
    edges = [(point.at_s, point.daily_kwh.low, point.daily_kwh.high) for point in trend]
    if len(trend) == 1 and data.spans:
        edges.insert(0, (data.spans[0].from_s, *edges[0][1:]))
    closing = {span.to_s: span.power_w for span in data.spans}
    opening = {span.from_s: span.power_w for span in data.spans}
    points = [(at, closing.get(at, opening.get(at))) for at in data.readings_s]
    known = [(at, watts) for at, watts in points if watts is not None]
    return Curves(
        [point.at_s for point in trend],
        [point.daily_kwh.value for point in trend],
        [at for at, _, _ in edges],
        [low for _, low, _ in edges],
        [high for _, _, high in edges],
        [end for span in data.spans for end in (span.from_s, span.to_s)],
        [span.power_w for span in data.spans for _ in range(2)],
        [at for at, _ in known],
        [watts for _, watts in known],
        [at for at, _ in known if at in data.doubts_s],
        [watts for at, watts in known if at in data.doubts_s],
    )


def scales_of(data: ChartData) -> Scales:
    """Choose the ranges: all of the time, medians and target always inside, watts from zero."""
    times = data.readings_s or (0.0, 86400.0)
    finished = data.measurement.finished_at
    last = times[-1] if finished is None else max(times[-1], finished.timestamp())
    margin = max(0.03 * (last - times[0]), 1800.0)
    medians = [point.daily_kwh.value for point in data.trend]
    target = [edge for edge in (data.target_low_kwh, data.target_high_kwh) if edge is not None]
    tallest = max([*medians, *target], default=1.0)
    high = min(max([point.daily_kwh.high for point in data.trend] + target, default=1.0), TALLEST * tallest)
    low = min([point.daily_kwh.low for point in data.trend] + target, default=0.0)
    low = 0.0 if low < 0.4 * high else low - 0.08 * (high - low)
    top = max((span.power_w for span in data.spans), default=1.0)
    return Scales(
        times[0] - margin,
        last + margin,
        (low, high + 0.06 * (high - low) if high > low else high + 1.0),
        (0.0, 1.12 * top if top > 0.0 else 1.0),
    )


def nearest(times_s: tuple[float, ...], at_s: float) -> int | None:
    """Give the place of the reading nearest to a moment, None without readings."""
    if not times_s or not math.isfinite(at_s):
        return None
    return min(range(len(times_s)), key=[abs(each - at_s) for each in times_s].__getitem__)


def read_out(data: ChartData, place: int, now: datetime) -> str:
    """Say one reading's numbers: when, the average of the span it closes, what the readings gave by then."""
    at_s = data.readings_s[place]
    moment = datetime.fromtimestamp(at_s).astimezone()
    said = [f"{day_words(moment, now)} {clock_words(moment)}"]
    span = next((span for span in data.spans if span.to_s == at_s), None)
    if span is not None:
        said.append(_span_said(span))
    elif at_s in data.breaks_s:
        said.append("the counters began anew")
    elif place == 0:
        said.append("first reading")
    else:
        said.append("too soon after the one before to tell its watts")
    by_then = _trend_at(data, at_s)
    if by_then is not None:
        said.append(f"daily average {format_ends(by_then.daily_kwh, 'kWh')}")
    return "   ·   ".join(part.replace(" ", "\u00a0") for part in said)


def values_at(data: ChartData, place: int) -> tuple[float | None, float | None]:
    """Give the daily average by then [kWh] and the watts at one reading, None where there is none."""
    at_s = data.readings_s[place]
    by_then = next((point.daily_kwh.value for point in data.trend if point.at_s == at_s), None)
    closing = next((span.power_w for span in data.spans if span.to_s == at_s), None)
    opening = next((span.power_w for span in data.spans if span.from_s == at_s), None)
    return by_then, closing if closing is not None else opening


def summary(data: ChartData) -> str:
    """Say in a few sentences what the charts show, for those who do not see them."""
    if not data.trend:
        return f"{data.appliance_name}: no daily average yet."
    last = data.trend[-1].daily_kwh
    days = (data.readings_s[-1] - data.readings_s[0]) / 86400.0
    said = [
        f"{data.appliance_name}: {len(data.readings_s)} readings over {format_days(days)}.",
        f"The daily average settled at {format_ends(last, 'kWh')}.",
    ]
    if data.spans:
        powers = [span.power_w for span in data.spans]
        said.append(f"Between readings it took {format_watts(min(powers))} to {format_watts(max(powers))}.")
    if data.target_low_kwh and data.target_high_kwh:
        half = math.expm1(0.5 * math.log(data.target_high_kwh / data.target_low_kwh))
        said.append(f"The target band is ± {format_percent(half)}.")
    if data.doubts_s:
        said.append(f"Readings with an open doubt: {len(data.doubts_s)}.")
    if data.breaks_s:
        said.append(f"The counters began anew {len(data.breaks_s)} times.")
    return " ".join(said)


def _span_said(span: SpanBar) -> str:
    energy = format_number(span.energy_kwh, 3)
    return f"{format_watts(span.power_w)} on average, {energy} kWh in {span_words(span.span_h)}"


def _trend_at(data: ChartData, at_s: float) -> TrendPoint | None:
    """Give the last point of the trend up to a moment."""
    return next((point for point in reversed(data.trend) if point.at_s <= at_s), None)
