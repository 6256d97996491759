"""Where the counter should stand at a moment: by all readings, and by those that are not in doubt."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from hearthload.domain.doubt import TOO_MUCH, DoubtCode
from hearthload.domain.measurement import MeasurementRecord
from hearthload.domain.reading import Reading
from hearthload.domain.units import WATTS_PER_KILOWATT
from hearthload.estimate.answers import Interval
from hearthload.estimate.posterior import Posterior
from hearthload.estimate.series import Series
from hearthload.estimate.spans import Span, spans_of
from hearthload.service.checks_case import clock_hours
from hearthload.service.doubts import open_doubts
from hearthload.service.logbook import Logbook
from hearthload.service.placing import minute_of, place_of, readings_of_run
from hearthload.service.ratings import most_w
from hearthload.service.series import series_of


def both_expected(
    logbook: Logbook, record: MeasurementRecord, at: datetime
) -> tuple[Interval | None, Interval | None]:
    """Give the range of the counter without the readings in doubt, and with them where that is another."""
    everything = foreseen(logbook, record, at, frozenset())
    in_doubt = readings_in_doubt(logbook, record)
    without = foreseen(logbook, record, at, in_doubt) if in_doubt else None
    return (everything, None) if without is None else (without, everything)


def readings_in_doubt(logbook: Logbook, record: MeasurementRecord) -> frozenset[int]:
    """Give the numbers of the readings in doubt for their kWh; an odd day in the middle is a day."""
    last = record.readings[-1].id if record.readings else None
    found = set()
    for each in open_doubts(logbook, record.measurement.id) if record.readings else ():
        reading, code = each.reading, each.doubt.code
        if reading is None:
            continue
        slip = code in TOO_MUCH or code is DoubtCode.ODD_READING or each.doubt.left_out
        if slip or (code is DoubtCode.ODD_SPAN and reading.id == last):
            found.add(reading.id)
    return frozenset(found)


def foreseen(
    logbook: Logbook, record: MeasurementRecord, at: datetime, without: frozenset[int]
) -> Interval | None:
    """Give the range of the counter at a moment, from all readings but some, within what can flow."""
    if not record.readings or at.utcoffset() is None:
        return None
    if without:
        expected = _expected_without(logbook, record, at, without)
    else:
        expected = logbook.estimates.expected_energy_kwh(record.measurement.id, at)
    before = _latest_before(record, at, without)
    if expected is None or before is None:
        return expected
    held = logbook.held()
    meter = held.meters[held.runs[before.run_id].meter_id]
    limit_w = most_w(meter, held.appliance(record.measurement.appliance_id), held.household)
    hours = max(clock_hours(before.taken_at, at), 0.0)
    most = before.energy_kwh + meter.energy_step_kwh + limit_w * hours / WATTS_PER_KILOWATT
    return _within(expected, before.energy_kwh, most)


def _within(expected: Interval, least: float, most: float) -> Interval:
    """Cut a range to what can be; one that lies beyond says nothing, so that all that can be is expected."""
    if expected.low >= most or expected.high < least:
        return Interval(0.5 * (least + most), least, most)
    low, high = max(expected.low, least), min(expected.high, most)
    return Interval(min(max(expected.value, low), high), low, high)


def _latest_before(record: MeasurementRecord, at: datetime, without: frozenset[int]) -> Reading | None:
    """Give the last reading up to a moment in its run; one of the same minute was taken before."""
    place = place_of(record, at)
    if place.run is None:
        return None
    minute = minute_of(at)
    mates = reversed(readings_of_run(record, place.run))
    return next((m for m in mates if m.id not in without and minute_of(m.taken_at) <= minute), None)


def _expected_without(
    logbook: Logbook, record: MeasurementRecord, at: datetime, without: frozenset[int]
) -> Interval | None:
    """Foresee the counter from the other readings; what they say is worked out once."""
    from hearthload.estimate.api import estimate, expected_energy_kwh  # noqa: PLC0415 (numpy: when first needed)

    estimates, number = logbook.estimates, record.measurement.id

    def work() -> tuple[Series, tuple[Span, ...], Posterior | None]:
        held = logbook.held()
        left = replace(record, readings=tuple(each for each in record.readings if each.id not in without))
        appliance = held.appliance(record.measurement.appliance_id)
        series = series_of(left, appliance, held.meters, estimates.snapshot)
        spans = spans_of(series)
        return series, spans, estimate(series, spans).posterior

    series, spans, posterior = estimates.kept(("without", without), number, work)
    return expected_energy_kwh(series, at, spans, posterior)
