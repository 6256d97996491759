"""Estimates of many appliances as JSON: the contract with machines, and the lines for people."""

from __future__ import annotations

import json
import math
from dataclasses import asdict, replace
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.appliance import Kind
from hearthload.estimate.api import estimate
from hearthload.estimate.series import RunSeries, Series, Snapshot
from hearthload.service.exchange.estimate_csv import read_estimate_csv
from hearthload.service.exchange.estimate_json import estimate_json, estimate_lines

MORNING = datetime(2026, 11, 23, 7, 30, tzinfo=timezone(timedelta(hours=1)))
KEYS = {
    "appliance",
    "kind",
    "readings",
    "days",
    "daily_kwh",
    "duty_cycle",
    "kwh_per_use",
    "daily_kwh_by_uses",
    "well_measured",
    "target",
    "days_to_go",
    "doubts",
}


def mornings(
    *energies_kwh: float,
    kind: Kind = Kind.FREEZER,
    power_w: float | None = None,
    target: float | None = None,
) -> Series:
    """Give a series of one run, read every morning."""
    snapshots = tuple(
        Snapshot(MORNING + timedelta(days=day), energy_kwh, power_w=power_w)
        for day, energy_kwh in enumerate(energies_kwh)
    )
    return Series(kind, (RunSeries(snapshots),), target=target)


WEEK = (0.0, 0.93, 1.77, 2.71, 3.5, 4.42, 5.31, 6.2)


def answers(*rows: tuple[str, Series]) -> list[dict[str, Any]]:
    """Give the answers as a program that reads the JSON gets them."""
    told = json.loads(json.dumps(estimate_json(rows), allow_nan=False))
    assert list(told) == ["appliances"]
    found: list[dict[str, Any]] = told["appliances"]
    for answer in found:
        follows_the_contract(answer)
    return found


def follows_the_contract(answer: dict[str, Any]) -> None:
    """Check the name, sort and bounds of every field that was promised; more may come."""
    assert set(answer) >= KEYS
    assert isinstance(answer["appliance"], str)
    assert answer["kind"] in set(Kind)
    assert type(answer["readings"]) is int
    assert type(answer["well_measured"]) is bool
    assert isinstance(answer["doubts"], list)
    assert answer["days"] >= 0.0
    assert 0.0 < answer["target"] <= 1.0
    for field, middle in (("daily_kwh", "median"), ("duty_cycle", "value"), ("days_to_go", "value")):
        ends = answer[field]
        if ends is not None:
            assert set(ends) == {middle, "low", "high"}, field
            assert 0.0 <= ends["low"] <= ends[middle] <= ends["high"], field
    share = answer["duty_cycle"]
    assert share is None or share["high"] <= 1.0


def test_an_answer_follows_the_contract_and_says_what_the_estimator_says() -> None:
    series = mornings(*WEEK, power_w=95.0)
    truth = estimate(series)
    (answer,) = answers(("Barn freezer", series))
    assert (answer["appliance"], answer["kind"], answer["readings"]) == ("Barn freezer", "freezer", 8)
    assert answer["days"] == pytest.approx(7.0)
    assert truth.daily_kwh is not None
    # Not rounded: every bit of the figure comes through.
    assert answer["daily_kwh"] == {
        "median": truth.daily_kwh.value,
        "low": truth.daily_kwh.low,
        "high": truth.daily_kwh.high,
    }
    assert truth.duty_cycle is not None
    share = truth.duty_cycle.share
    assert answer["duty_cycle"] == {"value": share.value, "low": share.low, "high": share.high}
    assert answer["well_measured"] is truth.enough.well_measured
    assert answer["target"] == truth.enough.target == 0.10


def test_a_plain_mean_of_a_week_lies_in_the_interval() -> None:
    (answer,) = answers(("Barn freezer", mornings(*WEEK)))
    # 6.2 kWh in seven days.
    assert answer["daily_kwh"]["low"] < 6.2 / 7.0 < answer["daily_kwh"]["high"]
    assert answer["daily_kwh"]["median"] == pytest.approx(6.2 / 7.0, rel=0.05)


def test_days_to_go_until_it_is_well_measured() -> None:
    early, late = answers(
        ("Early", mornings(*WEEK[:3])),
        ("Late", mornings(*(0.9 * day for day in range(30)))),
    )
    assert early["well_measured"] is False
    assert early["days_to_go"]["value"] >= 1.0  # three days at least, of which one is left
    assert late["well_measured"] is True
    assert late["days_to_go"] is None


def test_the_day_by_counted_uses_comes_from_three_uses_on() -> None:
    def counting(uses: int) -> Series:
        (run,) = mornings(*WEEK[:4], kind=Kind.BY_THE_LOAD).runs
        snapshots = (*run.snapshots[:-1], replace(run.snapshots[-1], uses=uses))
        return Series(Kind.BY_THE_LOAD, (replace(run, snapshots=snapshots),))

    few, enough, none = answers(
        ("Few", counting(2)), ("Enough", counting(3)), ("None", mornings(*WEEK, kind=Kind.BY_THE_LOAD))
    )
    assert few["daily_kwh_by_uses"] is None
    assert few["kwh_per_use_at_most"] > 0.0
    assert none["daily_kwh_by_uses"] is None
    truth = estimate(counting(3)).per_use
    assert truth is not None
    assert truth.daily_kwh is not None
    assert enough["daily_kwh_by_uses"] == asdict(truth.daily_kwh)
    assert list(enough["daily_kwh_by_uses"]) == ["value", "low", "high"]


def test_a_wanted_target_is_the_target() -> None:
    (answer,) = answers(("Freezer", mornings(*WEEK, target=0.25)))
    assert answer["target"] == 0.25


def test_without_watts_there_is_no_duty_cycle() -> None:
    (answer,) = answers(("Freezer", mornings(*WEEK)))
    assert answer["duty_cycle"] is None


def test_appliances_keep_their_order_and_their_names() -> None:
    names = ["007", "NA", "Kühlschrank", "Lamp, hall", 'The "cold" box', "007"]
    assert [answer["appliance"] for answer in answers(*((name, mornings(*WEEK)) for name in names))] == names


def test_no_appliances() -> None:
    assert answers() == []


def test_progress_is_told_appliance_by_appliance() -> None:
    rows = [("A", mornings(*WEEK)), ("B", mornings(1.0)), ("C", mornings(0.0, 0.0))]
    for give in (estimate_json, estimate_lines):
        told: list[int] = []
        give(rows, told.append)
        assert told == [1, 2, 3]


NOW_TWICE = (Snapshot(MORNING, 1.0), Snapshot(MORNING, 1.0))
NOTHING_YET = [
    pytest.param(mornings(5.0), id="one reading"),
    pytest.param(Series(Kind.FREEZER, (RunSeries(NOW_TWICE),)), id="two at one instant"),
    pytest.param(Series(Kind.FREEZER, ()), id="no run"),
    pytest.param(Series(Kind.FREEZER, (RunSeries(()),)), id="no reading"),
    pytest.param(Series(Kind.FREEZER, (RunSeries(NOW_TWICE[:1]), RunSeries(NOW_TWICE[1:]))), id="one a run"),
]


@pytest.mark.parametrize("series", NOTHING_YET)
def test_without_time_between_readings_there_is_no_figure(series: Series) -> None:
    (answer,) = answers(("Odd", series))
    assert (answer["daily_kwh"], answer["duty_cycle"], answer["days_to_go"]) == (None, None, None)
    assert (answer["days"], answer["well_measured"]) == (0.0, False)
    line = estimate_lines([("Odd", series)])[1]
    assert "Odd" in line
    assert "two readings" in line


@pytest.mark.parametrize("kind", Kind)
@pytest.mark.parametrize("energies", [(0.0, 0.0, 4.0), (5.0, 5.0), (1e9, 1e9), (0.0, 1e-9)])
def test_odd_energies_are_still_figures(kind: Kind, energies: tuple[float, ...]) -> None:
    (answer,) = answers(("Odd", mornings(*energies, kind=kind, power_w=0.0)))
    assert 0.0 < answer["daily_kwh"]["median"] < 4.0


@pytest.mark.parametrize("kind", Kind)
def test_what_no_household_uses_in_a_day_is_still_json(kind: Kind) -> None:
    (answer,) = answers(("Odd", mornings(0.0, 1e9, kind=kind, power_w=1e9)))
    assert answer["readings"] == 2


@pytest.mark.parametrize("kind", Kind)
def test_what_stood_still_for_long_uses_less_than_what_stood_still_for_a_day(kind: Kind) -> None:
    rows = [("Off", mornings(*(0.0,) * days, kind=kind)) for days in (2, 80)]
    first, last = (answer["daily_kwh"] for answer in answers(*rows))
    assert first["median"] > last["median"]
    assert first["high"] > last["high"]


@given(
    st.sampled_from(Kind),
    st.lists(st.tuples(st.floats(0.0, 90.0), st.floats(0.0, 50.0)), min_size=1, max_size=6),
    st.none() | st.floats(0.0, 1e5),
    st.sampled_from([1e-3, 0.01, 1.0, 1000.0]),
    st.none() | st.floats(0.0, 100.0),
)
def test_any_rising_readings_give_json(
    kind: Kind, steps: list[tuple[float, float]], power_w: float | None, step_kwh: float, gain: float | None
) -> None:
    days = energy_kwh = 0.0
    snapshots = []
    for more_days, more_kwh in steps:
        days, energy_kwh = days + round(more_days, 4), energy_kwh + more_kwh
        snapshots.append(Snapshot(MORNING + timedelta(days=days), energy_kwh, power_w=power_w))
    run = RunSeries(tuple(snapshots), energy_step_kwh=step_kwh, gain_percent=gain)
    (answer,) = answers(("Any", Series(kind, (run,))))
    assert answer["days"] == pytest.approx(
        (snapshots[-1].taken_at - snapshots[0].taken_at) / timedelta(days=1)
    )


def test_from_file_to_json(tmp_path: Path) -> None:
    path = tmp_path / "readings.csv"
    lines = [f"Freezer,freezer,{MORNING + timedelta(days=day)},{energy}" for day, energy in enumerate(WEEK)]
    path.write_text(
        "\n".join(["appliance,kind,taken_at,energy_kwh", *lines, "007,lamp_timer,2026-11-23T07:30,1"])
    )
    freezer, lamp = answers(*read_estimate_csv(path))
    assert freezer == answers(("Freezer", mornings(*WEEK)))[0]
    assert (lamp["appliance"], lamp["readings"], lamp["daily_kwh"]) == ("007", 1, None)


def test_the_lines_stand_in_even_columns_under_a_heading() -> None:
    rows = [("A freezer with a long name", mornings(*WEEK)), ("B", mornings(5.0)), ("C", mornings(1.0, 2.0))]
    heading, *lines = estimate_lines(rows)[: len(rows) + 1]
    starts = [
        heading.index(word) for word in ("appliance", "readings", "time", "kWh", "duty cycle", "enough")
    ]
    for line, (name, _) in zip(lines, rows, strict=True):
        assert line.startswith(name)
        assert not line.endswith(" ")
        for start in starts[1:]:
            assert line[start - 2 : start] == "  "
            assert line[start] != " "
    time = starts[2]
    assert [line[time:].split("  ")[0] for line in lines] == ["7 days", "–", "1 day"]
    assert "preliminary" in lines[2]
    assert "preliminary" not in lines[0]


def test_the_lines_say_how_long_it_takes_yet() -> None:
    # A meter that is true to 20 % only never measures what is always on to ± 5 %.
    coarse = RunSeries(mornings(*WEEK).runs[0].snapshots, gain_percent=20.0)
    rows = [
        ("Early", mornings(*WEEK[:3])),
        ("Never", Series(Kind.ALWAYS_ON, (coarse,))),
        ("Done", mornings(*(0.9 * day for day in range(30)))),
    ]
    early, never, done = estimate_lines(rows)[1:4]
    assert "wants ± 10 %" in early
    assert "days to go" in early
    assert "no: " in early
    assert "cannot be foreseen" in never
    assert "to go" not in never
    assert "yes: " in done
    assert "to go" not in done


def test_lines_of_nothing_say_so() -> None:
    (line,) = estimate_lines([])
    assert "no readings" in line


def test_a_name_cannot_disturb_the_lines() -> None:
    lines = estimate_lines([("Lamp\n\x1b[31mhall\u202e", mornings(*WEEK))])
    assert all(line.isprintable() for line in lines)
    assert "Lamp�" in lines[1]


def test_what_the_lines_call_well_measured_is_what_the_json_does() -> None:
    for energies in (WEEK, WEEK[:3], tuple(0.9 * day for day in range(30))):
        series = mornings(*energies)
        (answer,) = answers(("Freezer", series))
        verdict = estimate_lines([("Freezer", series)])[1]
        assert ("yes" in verdict) is answer["well_measured"]
        assert math.isfinite(answer["daily_kwh"]["high"])
