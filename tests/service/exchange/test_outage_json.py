"""The whole chain out of a size file, against figures worked by hand; its JSON and its lines say the same."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hearthload.outage.answers import LimitCode, Note, Outcome
from hearthload.outage.steps import Input, Step
from hearthload.resources import asset
from hearthload.service.exchange.outage_json import outage_json
from hearthload.service.exchange.outage_lines import (
    heading_lines,
    load_lines,
    step_lines,
    verdict_lines,
)
from hearthload.service.exchange.outage_report import OutageReport, report_of_size, working_of
from hearthload.service.exchange.size_json import read_size_json
from hearthload.service.exchange.sizing_lines import sizing_lines
from hearthload.service.outage_words import LIMIT_WORDS, NOTE_WORDS, OUTCOME_WORDS, step_words
from tests.service.exchange.size_files import BATTERY, FRIDGE, changed, measured, whole, written

EXAMPLE = asset("examples/mill-cottage.json")


def report(folder: Path, content: object) -> OutageReport:
    return report_of_size(read_size_json(written(folder, content)))


def answer(folder: Path, content: object) -> dict[str, Any]:
    """Give the answer as a program that reads the JSON gets it."""
    told = json.loads(json.dumps(outage_json(report(folder, content)), allow_nan=False))
    assert isinstance(told, dict)
    return told


def limits(verdict: dict[str, Any]) -> dict[str, dict[str, Any]]:
    return {each["code"]: each for each in reversed(verdict["limits"])}


def text(found: OutageReport) -> str:
    lines = [*heading_lines(found), *load_lines(found), *sizing_lines(found.sizing)]
    for each in found.supplies:
        lines += verdict_lines(found, each)
    return "\n".join([*lines, *step_lines(working_of(found))])


def test_totals_by_hand(tmp_path: Path) -> None:
    # 1.0 + 10 W · 5 h = 1.05 kWh/d; 100 + 10 W; 125 + 10 VA; the refrigerator starts: 135 + 3·125 VA.
    totals = answer(tmp_path, whole())["totals"]
    assert totals["daily_kwh"]["value"] == pytest.approx(1.05)
    assert totals["plan_kwh"]["value"] == pytest.approx(2.1)
    assert totals["average_w"] == pytest.approx(1050.0 / 24.0)
    assert (totals["running_w"], totals["running_va"]) == (pytest.approx(110.0), pytest.approx(135.0))
    assert (totals["start_va"], totals["start_s"]) == (pytest.approx(510.0), 0.5)
    assert totals["restart_va"] == pytest.approx(510.0)
    assert totals["largest_start"] == "Fridge"
    assert totals["not_known"] == []
    assert totals["assumed"] == ["Fridge", "Lamp"]


def test_energy_to_hold_by_hand(tmp_path: Path) -> None:
    # One freezer measured, 1.0 ± 0.05 and s 0.1, no meter named, 14 days: for three days
    # √((3·0.05)² + 3·0.1²) = 0.229129, t(0.90, 13) = 1.350171: 3 + 0.309363.
    entries = measured(daily_u_kwh=0.05, day_scatter=0.1, measured_days=14, running_w=100)
    content = {"plan": {"days": 3, "confidence": 0.9}, "loads": [entries]}
    totals = answer(tmp_path, content)["totals"]
    assert totals["plan_kwh"]["value"] == pytest.approx(3.0)
    assert totals["plan_kwh"]["high"] == pytest.approx(3.309363, abs=1e-5)
    ends = totals["daily_kwh"]
    assert (ends["low"], ends["high"]) == pytest.approx((math.exp(-0.098), math.exp(0.098)))
    assert totals["assumed"] == []


def test_one_meter_errs_alike_and_two_do_not(tmp_path: Path) -> None:
    # All of u is the meter's: ± √3 % is 1 %. Of 1 and 2 kWh: one meter 0.03, two √(0.01² + 0.02²).
    def half_width(meters: tuple[str, str]) -> float:
        loads = [
            {**measured(meter=meter, meter_gain_percent=math.sqrt(3.0)), "name": name, "daily_kwh": kwh}
            | {"daily_u_kwh": 0.01 * kwh}
            for name, kwh, meter in zip("AB", (1.0, 2.0), meters, strict=True)
        ]
        ends = answer(tmp_path, changed(("loads",), loads))["totals"]["daily_kwh"]
        return math.log(ends["high"] / ends["value"]) / 1.96 * float(ends["value"])

    assert half_width(("grey", "grey")) == pytest.approx(0.03)
    assert half_width(("grey", "white")) == pytest.approx(math.hypot(0.01, 0.02))


def test_the_verdict_by_hand(tmp_path: Path) -> None:
    # The margin on continuous power is 1.25: 137.5 W of 120 W falls short, 168.75 VA of 200 VA carries.
    (verdict,) = answer(tmp_path, {**whole(), "figures": {"inverter_margin": 1.25}})["verdicts"]
    found = limits(verdict)
    assert found["running_w"]["needed"] == pytest.approx(137.5)
    assert found["running_w"]["offered"] == pytest.approx(120.0)
    assert found["running_w"]["margin"] == pytest.approx(120.0 / 137.5 - 1.0)
    assert (found["running_w"]["outcome"], found["running_w"]["unit"]) == ("falls_short", "W")
    assert found["running_va"]["needed"] == pytest.approx(168.75)
    assert found["running_va"]["outcome"] == "carries"
    assert found["start_va"]["needed"] == pytest.approx(510.0)
    assert found["start_va"]["offered"] == pytest.approx(600.0)
    assert (verdict["outcome"], verdict["fails_first"]) == ("falls_short", "running_w")
    # Without the lamp it is 125 W, still too much: all wanted is off, and the essential alone do not fit.
    assert [each["name"] for each in verdict["leave_off"]["left_off"]] == ["Fridge", "Lamp"]
    assert verdict["leave_off"]["kept"] == []
    assert [each["code"] for each in verdict["leave_off"]["essentials_break"]] == ["running_w"]


def test_what_is_left_off_and_the_order_of_switching_off(tmp_path: Path) -> None:
    # 130 W carry 104 W with the margin of 1.25: the refrigerator fits, the lamp's 10 W beside it do not.
    supply = {**BATTERY, "continuous_w": 130}
    (verdict,) = answer(tmp_path, changed(("supplies",), [supply]))["verdicts"]
    off = verdict["leave_off"]
    assert (off["kept"], off["essentials_break"]) == (["Fridge"], [])
    (lamp,) = off["left_off"]
    assert (lamp["name"], lamp["not_known"]) == ("Lamp", False)
    (broken,) = lamp["breaks"]
    assert broken["code"] == "running_w"
    assert (broken["needed"], broken["offered"]) == (pytest.approx(110.0), pytest.approx(104.0))
    assert off["switch_off_order"] == ["Fridge"]
    assert off["then_outcome"] == "carries"


def test_what_is_not_known_says_what_to_look_up(tmp_path: Path) -> None:
    supply = {"name": "Bare", "kind": "battery"}
    found = report(tmp_path, changed(("supplies",), [supply]))
    (verdict,) = outage_json(found)["verdicts"]
    assert verdict["outcome"] == "not_known"
    assert limits(verdict)["running_w"]["offered"] is None
    assert limits(verdict)["running_w"]["missing"] == "its continuous watts"
    assert "not known; look up: its continuous watts" in text(found)


def test_every_line_of_arithmetic_is_there_once(tmp_path: Path) -> None:
    found = report(tmp_path, whole())
    steps = outage_json(found)["steps"]
    every = [*steps["totals"], *steps["sizing"]]
    every += [step for part in (steps["loads"], steps["verdicts"]) for each in part.values() for step in each]
    lines = [json.dumps(step, sort_keys=True) for step in every]
    assert len(lines) == len(set(lines))
    quantities = {step["quantity"]: step for step in every}
    assert quantities["Apparent power running, Fridge"]["value"] == pytest.approx(125.0)
    assert quantities["Energy a day, all loads"]["value"] == pytest.approx(1.05)
    assert quantities["Worst single start"]["value"] == pytest.approx(510.0)
    # Every figure of a limit is the value of one of them.
    (verdict,) = outage_json(found)["verdicts"]
    values = [step["value"] for step in every]
    for limit in verdict["limits"]:
        if limit["needed"] is not None and limit["code"] in {"energy", "running_w", "start_va"}:
            assert limit["needed"] in values


def test_a_step_is_written_whole() -> None:
    inputs = (Input("running watts", "P", 100.0, "W"), Input("power factor", "PF", 0.8, ""))
    step = Step("Apparent power", "S = P / PF", inputs, 125.0, "VA", "definition", typical=True)
    assert step_words(step) == (
        "Apparent power = S = P / PF: running watts P = 100 W, power factor PF = 0.8 → 125 VA "
        "[definition; typical, not checked]"
    )


def test_lines_say_what_the_json_says(tmp_path: Path) -> None:
    said = text(report(tmp_path, whole()))
    assert "Two days: 2 days, month 6, enough in 90 % of outages" in said
    for part in ("2.10 kWh", "110 ± ", "135 VA", "510 VA, for 0.50 s", "Worst start, Fridge", "137.5 W"):
        assert part in said, part
    assert "Assumed, not measured: Fridge, Lamp." in said
    assert "typical, not checked" in said


def test_a_supply_that_trips_shows_its_hours_as_a_would_be(tmp_path: Path) -> None:
    found = report(tmp_path, whole())
    lines = verdict_lines(found, found.supplies[0])
    assert lines[0] == "Battery: falls short, most of all in running watts: cannot run it"
    assert lines[1].startswith("Its energy would last ")


def test_where_the_essentials_do_not_fit_what_it_could_carry_comes_before_what_it_cannot(
    tmp_path: Path,
) -> None:
    # 40 W with the margin of 1.25 carry 32 W: the cooler's 20 W, not the refrigerator's 100 W.
    cooler = {**FRIDGE, "name": "Cooler", "running_w": 20, "medical": True, "start_multiple": 1}
    cooler |= {"daily_kwh": 0.2, "daily_low_kwh": 0.15, "daily_high_kwh": 0.25}
    loads = [*whole()["loads"], cooler]
    battery = {**BATTERY, "continuous_w": 40}
    found = report(tmp_path, {**whole(), "loads": loads, "supplies": [battery]})
    said = " ".join(verdict_lines(found, found.supplies[0]))
    places = [
        said.index(words)
        for words in (
            "It cannot carry all the essentials: running watts, 120 W needed, 32 W can be carried",
            "before inverter losses and margins",
            "It could carry; as energy runs down, switch off in this order: Cooler.",
            "Leave off Fridge, essential; too much: running watts by 88 W",
            "Leave off Lamp, wanted.",
        )
    ]
    assert places == sorted(places)
    assert "Keep on" not in said


def test_limits_that_are_only_told_stand_under_their_heading(tmp_path: Path) -> None:
    found = report(tmp_path, whole())
    lines = verdict_lines(found, found.supplies[0])
    heading = lines.index("Also worth knowing")
    assert not any("all that starts by itself, together" in line for line in lines[:heading])
    assert lines[heading + 1].startswith("starting power, all that starts by itself, together")


def test_where_it_stands_is_said_and_what_the_file_does_not_give_is_marked(tmp_path: Path) -> None:
    # The file gives month, confidence and the battery's temperature; the others are the program's own.
    lines = heading_lines(report(tmp_path, whole()))
    assert lines == [
        "Two days: 2 days, month 6, enough in 90 % of outages",
        "Rooms as measured (assumed), battery 20 °C, outdoors 15 °C (assumed), 0 m above sea level (assumed)",
    ]
    given = {"days": 2, "room_c": 18, "battery_c": -5, "outdoor_c": -10.5, "altitude_m": 350}
    lines = heading_lines(report(tmp_path, changed(("plan",), given)))
    assert lines == [
        "loads: 2 days, month 1 (assumed), enough in 90 % of outages (assumed)",
        "Rooms 18 °C, battery −5 °C, outdoors −10.5 °C, 350 m above sea level",
    ]


def test_panels_alone_do_nothing(tmp_path: Path) -> None:
    panels = {"name": "Porch", "kind": "array", "array_w": 400}
    found = report(tmp_path, changed(("supplies",), [panels]))
    lines = verdict_lines(found, found.supplies[0])
    assert lines[0] == "Porch: does nothing alone"
    assert "0 W" not in "\n".join(lines)


def test_a_load_that_is_not_known_makes_the_need_a_least(tmp_path: Path) -> None:
    # The pump's 0.1 kWh/d are 4.2 W on average at least: 1.25 · 114.2 W = 142.7 W or more, of 2000 W.
    loads = [*whole()["loads"], {"name": "Pump", "kind": "not_sure", "role": "wanted", "daily_kwh": 0.1}]
    battery = {**BATTERY, "continuous_w": 2000, "continuous_va": 2000, "start_w": 4000, "start_va": 4000}
    found = report(tmp_path, {**whole(), "loads": loads, "supplies": [battery]})
    (row,) = (line for line in verdict_lines(found, found.supplies[0]) if line.startswith("running watts"))
    cells = " ".join(row.split())
    assert cells.startswith("running watts at least 143 W 2.00 kW – not known; look up: watts or energy of")


@pytest.mark.parametrize(
    ("mains_v", "says"), [(100, True), (120, True), (127, True), (230, False), (240, False)]
)
def test_a_generator_on_mains_of_two_legs_is_cautioned(tmp_path: Path, mains_v: float, says: bool) -> None:
    engine = {"name": "Shed", "kind": "generator", "continuous_w": 4000}
    content = {**whole(), "supplies": [engine, BATTERY], "mains_v": mains_v}
    of_engine, of_battery = report(tmp_path, content).supplies
    legs = "A 120/240 V set gives only half its power on each 120 V leg: spread the loads over both."
    assert (legs in of_engine.cautions) is says
    assert legs not in of_battery.cautions


def test_a_plug_that_carries_too_little_is_said(tmp_path: Path) -> None:
    # 3000 W at 120 V are 25 A, on a plug of 15 A.
    heater = {"name": "Heater", "kind": "kitchen", "running_w": 3000, "power_factor": 1, "plug": "nema_5_15"}
    found = report(tmp_path, {**changed(("loads",), [heater]), "mains_v": 120})
    assert "takes 25.0 A, and NEMA 5-15 may carry 15.0 A" in text(found)
    (load,) = outage_json(found)["loads"]
    assert (load["circuit"]["needed_a"], load["circuit"]["fits"]) == (pytest.approx(25.0), False)


def test_figures_of_its_own_change_the_answer_and_say_so(tmp_path: Path) -> None:
    usual, own = (answer(tmp_path, {**whole(), "figures": {"inverter_margin": m}}) for m in (1.25, 2.0))
    assert usual["sizing"]["inverter_w"] == pytest.approx(137.5)
    assert own["sizing"]["inverter_w"] == pytest.approx(220.0)
    assert any(step["source"] == "set in this plan" for step in own["steps"]["sizing"])


def test_every_code_has_its_words() -> None:
    assert set(NOTE_WORDS) == set(Note)
    assert set(LIMIT_WORDS) == set(LimitCode)
    assert set(OUTCOME_WORDS) == set(Outcome)


def test_the_example_goes_all_the_way() -> None:
    found = report_of_size(read_size_json(EXAMPLE))
    told = json.loads(json.dumps(outage_json(found), allow_nan=False))
    assert [each["supply"] for each in told["verdicts"]] == [
        "Stair battery",
        "Meadow panels",
        "Battery with panels",
        "Shed generator",
    ]
    assert told["verdicts"][2]["members"] == ["Stair battery", "Meadow panels"]
    assert told["plan"]["figures"] == {"inverter_margin": 1.3}
    outcomes = {each["supply"]: each["outcome"] for each in told["verdicts"]}
    assert set(outcomes.values()) == {"falls_short"}
    # What to leave off is worth knowing: the battery then carries what matters, the insulin above all.
    off = told["verdicts"][0]["leave_off"]
    assert off["then_outcome"] == "carries"
    assert "Insulin cooler" in off["kept"]
    assert off["switch_off_order"][-1] == "Insulin cooler"
    assert told["cautions"][0].startswith("A load here keeps somebody alive")
    assert told["loads"][0]["circuit"]["fits"] is True


WATTS = st.floats(0.5, 5e4)
DRAWN = st.fixed_dictionaries(
    {"kind": st.sampled_from(["refrigerator", "pump", "always_on", "kitchen", "not_sure", "climate"])},
    optional={
        "role": st.sampled_from(["essential", "wanted", "off"]),
        "quantity": st.integers(1, 20),
        "running_w": WATTS,
        "nameplate_w": WATTS,
        "daily_kwh": st.floats(1e-3, 500.0),
        "room_c": st.floats(-30.0, 50.0),
        "power_factor": st.floats(0.05, 1.0),
        "start_multiple": st.floats(1.0, 10.0),
        "medical": st.booleans(),
        "cycling": st.sampled_from(["frost_free", "variable_speed"]),
    },
)
SUPPLIED = st.fixed_dictionaries(
    {"kind": st.sampled_from(["battery", "generator", "array"])},
    optional={
        "continuous_w": st.floats(10.0, 2e4),
        "stored_wh": st.floats(1.0, 4e5),
        "chemistry": st.sampled_from(["lfp", "agm", "nickel"]),
        "array_w": st.floats(1.0, 2e4),
        "battery_v": st.floats(6.0, 400.0),
        "tank_l": st.floats(0.5, 100.0),
        "charge_w": st.floats(0.0, 5e3),
    },
)


@settings(max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    loads=st.lists(DRAWN, min_size=1, max_size=4),
    supply=SUPPLIED,
    days=st.floats(0.05, 60.0),
    sun=st.none() | st.floats(0.0, 8.0),
)
def test_whatever_is_read_is_answered_with_figures(
    tmp_path: Path, loads: list[dict[str, Any]], supply: dict[str, Any], days: float, sun: float | None
) -> None:
    content = {
        "plan": {"days": days, "peak_sun_hours": sun},
        "loads": [{"name": f"Load {number}", **load} for number, load in enumerate(loads)],
        "supplies": [{"name": "Supply", **supply}],
    }
    found = report(tmp_path, content)
    told = json.dumps(outage_json(found), allow_nan=False)
    assert "NaN" not in told
    daily = json.loads(told)["totals"]["daily_kwh"]
    assert 0.0 <= daily["low"] <= daily["value"] <= daily["high"]
    said = text(found)
    assert "nan" not in said.split()
    assert "inf" not in said.split()


def test_a_combination_is_more_than_its_battery_alone(tmp_path: Path) -> None:
    panels = {"name": "Panels", "kind": "array", "array_w": 500}
    both = {"name": "Both", "kind": "combination", "members": ["Battery", "Panels"]}
    battery = {**BATTERY, "solar_w": 500, "stored_wh": 2000, "continuous_w": 200}
    content = {**whole(), "supplies": [battery, panels, both]}
    content["plan"] = {**content["plan"], "days": 20, "peak_sun_hours": 6}
    alone, _, together = answer(tmp_path, content)["verdicts"]
    assert limits(alone)["energy"]["outcome"] == "falls_short"
    assert limits(together)["energy"]["needed"] < limits(alone)["energy"]["needed"]
    assert together["members"] == ["Battery", "Panels"]
