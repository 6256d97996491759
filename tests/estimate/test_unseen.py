"""What a meter may not see while an appliance idles: when it is worth a note, and for whom never."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hearthload.domain.appliance import Kind
from hearthload.domain.reading import RunState
from hearthload.estimate.answers import DutyBasis, DutyCycle, DutyNature, Estimate, Interval
from hearthload.estimate.api import estimate
from hearthload.estimate.series import Series
from hearthload.estimate.unseen import unseen_kwh_per_watt
from tests.estimate.measurements import every_morning


def said(
    daily_kwh: float,
    kind: Kind = Kind.REFRIGERATOR,
    share: float | None = None,
    nature: DutyNature = DutyNature.SHARE,
    spots: tuple[tuple[float, RunState | None], ...] = (),
) -> float | None:
    """Give what is not seen of an appliance that takes so much a day, with such a share and such spots."""
    series = with_spots(every_morning(kind, [daily_kwh * day for day in range(8)], 1e-6), spots)
    answer = estimate(series)
    daily = Interval(daily_kwh, 0.9 * daily_kwh, 1.1 * daily_kwh)
    return unseen_kwh_per_watt(series, replace(answer, daily_kwh=daily, duty_cycle=duty(share, nature)))


def duty(share: float | None, nature: DutyNature) -> DutyCycle | None:
    if share is None:
        return None
    return DutyCycle(Interval(share, share, share), 90.0, 5.0, 1.0, DutyBasis.STATED, 0, nature)


def with_spots(series: Series, spots: tuple[tuple[float, RunState | None], ...]) -> Series:
    (run,) = series.runs
    noted = [
        replace(snapshot, power_w=watts, state=state)
        for snapshot, (watts, state) in zip(run.snapshots, spots, strict=False)
    ]
    return replace(series, runs=(replace(run, snapshots=(*noted, *run.snapshots[len(noted) :])),))


@pytest.mark.parametrize(
    ("daily_kwh", "share", "unseen_kwh"),
    [
        # The whole day at 1 W is 0.024 kWh, 2 % of 1.2 kWh.
        (1.19, None, 0.024),
        (1.21, None, None),
        # Running a quarter of the time leaves 18 h: 0.018 kWh, 2 % of 0.9 kWh.
        (0.89, 0.25, 0.018),
        (0.91, 0.25, None),
        # Running all the time leaves nothing.
        (0.10, 1.0, None),
    ],
)
def test_by_hand_on_both_sides_of_two_per_cent(
    daily_kwh: float, share: float | None, unseen_kwh: float | None
) -> None:
    found = said(daily_kwh, share=share)
    assert found == (None if unseen_kwh is None else pytest.approx(unseen_kwh))


def test_an_average_of_the_highest_watts_is_no_time_running() -> None:
    assert said(1.0, share=0.5) is None
    assert said(1.0, share=0.5, nature=DutyNature.MEAN_LOAD) == pytest.approx(0.024)


@pytest.mark.parametrize(
    ("spots", "told"),
    [
        (((90.0, RunState.RUNNING),), True),
        (((90.0, RunState.RUNNING), (0.0, RunState.IDLE)), True),
        (((90.0, RunState.RUNNING), (0.8, RunState.IDLE)), False),
        # Not named, but parted by more than three times.
        (((90.0, None), (2.0, None)), False),
        (((90.0, None), (0.0, None)), True),
        (((90.0, None), (60.0, None)), True),
    ],
)
def test_idle_watts_that_were_read_end_the_matter(
    spots: tuple[tuple[float, RunState | None], ...],
    told: bool,
) -> None:
    assert (said(0.9, spots=spots) is not None) is told


@pytest.mark.parametrize("kind", [kind for kind in Kind if kind is not Kind.ALWAYS_ON])
def test_every_kind_that_idles_is_told(kind: Kind) -> None:
    assert said(0.3, kind) == pytest.approx(0.024)


@pytest.mark.parametrize(("daily_kwh", "unseen_kwh"), [(0.119, 0.024), (0.121, None)])
def test_what_is_always_on_is_what_the_meter_counts_above_5_w(
    daily_kwh: float, unseen_kwh: float | None
) -> None:
    found = said(daily_kwh, Kind.ALWAYS_ON)
    assert found == (None if unseen_kwh is None else pytest.approx(unseen_kwh))


def test_what_is_always_on_was_seen_once_its_watts_were_read() -> None:
    assert said(0.1, Kind.ALWAYS_ON, spots=((4.0, None),)) is None
    assert said(0.1, Kind.ALWAYS_ON, spots=((0.0, None),)) == pytest.approx(0.024)


def test_without_a_daily_figure_there_is_nothing_to_tell() -> None:
    series = every_morning(Kind.FREEZER, [1.0])
    answer: Estimate = estimate(series)
    assert answer.daily_kwh is None
    assert unseen_kwh_per_watt(series, answer) is None
