"""Watts of one load by hand: running, idle, apparent power, start, defrost heater, share of time running."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hearthload.domain.appliance import Cycling, Kind, Role
from hearthload.domain.plan import Use
from hearthload.outage.answers import LoadInput, LoadLine, Note
from hearthload.outage.loads import duty_in_plan
from tests.outage.appliances import line_of, measured

FREEZER = LoadInput(
    "Barn freezer", Kind.FREEZER, Role.ESSENTIAL, measured=measured(1.2, running_w=120.0, idle_w=2.0)
)


def running(line: LoadLine) -> float:
    assert line.running_w is not None
    return line.running_w.value


def test_her_own_watts_come_before_measured_before_nameplate() -> None:
    load = replace(FREEZER, nameplate_w=300.0)
    assert running(line_of(replace(load, running_w=150.0))) == 150.0
    assert running(line_of(load)) == 120.0
    line = line_of(replace(load, measured=measured(1.2)))
    assert running(line) == 300.0
    assert Note.ASSUMED_WATTS in line.notes
    assert line.assumed


def test_a_nameplate_is_a_maximum() -> None:
    # 20 % one-sided: 300 · (1 − 1.96 · 0.2) = 182.4 to 300 W.
    figure = line_of(LoadInput("Mixer", Kind.KITCHEN, Role.WANTED, nameplate_w=300.0)).running_w
    assert figure is not None
    assert (figure.low, figure.high) == pytest.approx((182.4, 300.0))


def test_what_is_always_on_runs_at_its_average() -> None:
    # 0.36 kWh/d = 15 W; PF 0.6 by kind: 25 VA.
    load = LoadInput("Router", Kind.ALWAYS_ON, Role.ESSENTIAL, measured=measured(0.36, idle_w=None))
    line = line_of(load)
    assert running(line) == pytest.approx(15.0)
    assert line.each_running_va == pytest.approx(25.0)
    assert line.duty == 1.0
    assert line.run_h == 24.0


def test_what_is_always_on_and_not_measured_runs_at_its_assumed_average() -> None:
    # Plausible 0.1 to 0.7 kWh/d: 4.17 to 29.2 W, middle √(0.07) kWh/d = 11.02 W, mean 13.1 % above: s 0.4964.
    line = line_of(LoadInput("Router", Kind.ALWAYS_ON, Role.ESSENTIAL))
    assert line.running_w is not None
    assert line.running_w.value == pytest.approx(11.024 * 1.1311, rel=1e-3)
    assert (line.running_w.low, line.running_w.high) == pytest.approx((100.0 / 24.0, 700.0 / 24.0))
    assert {Note.ASSUMED_WATTS, Note.ASSUMED_ENERGY} == set(line.notes)
    assert line.duty == pytest.approx(1.0)


def test_share_of_time_running() -> None:
    # 1.2 kWh/d = 50 W: (50 − 2)/(120 − 2).
    assert line_of(FREEZER).duty == pytest.approx(48.0 / 118.0)


@pytest.mark.parametrize(
    ("daily_kwh", "running_w", "idle_w", "duty"),
    [
        (2.4, 80.0, 0.0, 1.0),
        (2.4, 100.0, 0.0, 1.0),
        (0.024, 100.0, 2.0, 0.0),
        (1.0, 0.0, 0.0, 0.0),
        (0.1, 5.0, 5.0, 1.0),
    ],
)
def test_share_is_clipped(daily_kwh: float, running_w: float, idle_w: float, duty: float) -> None:
    assert duty_in_plan(daily_kwh, running_w, idle_w) == pytest.approx(duty)


def test_measured_power_factor_comes_before_the_kinds() -> None:
    load = replace(FREEZER, measured=replace(measured(1.2, running_w=120.0), power_factor=0.8))
    assert line_of(load).each_running_va == pytest.approx(150.0)
    assert line_of(replace(load, power_factor=0.6)).each_running_va == pytest.approx(200.0)


def test_one_of_three_starts_while_two_run() -> None:
    # 126 W / 0.7 = 180 VA each, start 4 · 180 = 720: 2 · 180 + 720 = 1080 VA.
    line = line_of(replace(FREEZER, quantity=3, running_w=126.0))
    assert running(line) == pytest.approx(378.0)
    assert line.running_va is not None
    assert line.running_va.value == pytest.approx(540.0)
    assert line.each_start_va == pytest.approx(720.0)
    assert line.start_va is not None
    assert line.start_va.value == pytest.approx(1080.0)
    assert line.start_s == 0.5


def test_idle_watts_are_never_above_running_ones() -> None:
    line = line_of(LoadInput("Clock", Kind.LAMP_TIMER, Role.WANTED, running_w=0.4, quantity=2))
    assert line.idle_w == pytest.approx(0.8)


def test_a_defrost_heater_is_the_highest_demand_but_does_not_start() -> None:
    line = line_of(replace(FREEZER, cycling=Cycling.FROST_FREE, quantity=2))
    assert line.heater_w == 2 * 475.0
    assert Note.DEFROST_HEATER in line.notes
    assert line.each_start_va == pytest.approx(4.0 * 120.0 / 0.7)
    assert line.duty == line_of(FREEZER).duty


def test_a_heater_that_was_seen_on_the_meter() -> None:
    seen = replace(measured(1.2, running_w=120.0), highest_w=420.0)
    load = replace(FREEZER, cycling=Cycling.FROST_FREE, measured=seen)
    assert line_of(load).heater_w == 420.0
    # 900 W is the compressor's start, no heater.
    assert line_of(replace(load, measured=replace(seen, highest_w=900.0))).heater_w == 475.0


def test_no_heater_where_the_compressor_takes_more() -> None:
    assert line_of(replace(FREEZER, cycling=Cycling.FROST_FREE, running_w=700.0)).heater_w == 0.0
    assert line_of(FREEZER).heater_w == 0.0


def test_a_run_is_as_long_as_the_hours_planned() -> None:
    load = LoadInput(
        "Heater", Kind.KITCHEN, Role.WANTED, use=Use.HOURS_A_DAY, hours_a_day=6.0, running_w=900.0
    )
    assert line_of(load).run_h == 6.0
    assert line_of(replace(load, hours_a_day=0.2)).run_h == 0.5


def test_notes_for_what_must_be_said() -> None:
    load = LoadInput(
        "Heater",
        Kind.CLIMATE,
        Role.WANTED,
        medical=True,
        hard_wired=True,
        measured=replace(measured(9.0, running_w=1500.0), well_measured=False),
    )
    told = {Note.MEDICAL, Note.HARD_WIRED, Note.POOR_LOAD, Note.NOT_WELL_MEASURED}
    assert set(line_of(load).notes) == told
    assert Note.POOR_LOAD not in line_of(replace(load, kind=Kind.PUMP)).notes
