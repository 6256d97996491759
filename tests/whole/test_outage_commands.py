"""`plan`, `verdict`, `cord` and `size` as processes: figures worked by hand, JSON for machines, refusals."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from hearthload.domain.appliance import ApplianceDraft, Kind, Role
from hearthload.domain.plan import PlanDraft, PlanLoadDraft, Use
from hearthload.domain.supply import Chemistry, SupplyDraft, SupplyKind, Waveform
from hearthload.resources import asset
from hearthload.service.edits.appliances import add_appliance
from hearthload.service.edits.plans import add_plan, set_plan_load
from hearthload.service.edits.supplies import add_supply
from hearthload.service.logbook import create_logbook, open_logbook
from tests.service.exchange.size_files import changed, whole, written

if TYPE_CHECKING:
    from tests.whole.conftest import Child, Hearthload


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Give a logbook that holds what the size file of the tests says: two loads, a plan, a battery."""
    path = tmp_path / "home.hearthload"
    with create_logbook(path) as logbook:
        add_appliance(logbook, ApplianceDraft("Fridge", Kind.REFRIGERATOR, role=Role.ESSENTIAL))
        add_appliance(logbook, ApplianceDraft("Lamp", Kind.LAMP_TIMER))
        add_plan(logbook, PlanDraft("Two days", days=2.0, month=6))
        fridge = PlanLoadDraft(
            1, Role.ESSENTIAL, use=Use.ASSUMED, daily_kwh=1.0, daily_low_kwh=0.8, daily_high_kwh=1.25,
            running_w=100.0, idle_w=0.0, power_factor=0.8, start_multiple=4.0, start_s=0.5,
        )  # fmt: skip
        lamp = PlanLoadDraft(
            2, Role.WANTED, use=Use.HOURS_A_DAY, hours_a_day=5.0, running_w=10.0, idle_w=0.0,
            power_factor=1.0, start_multiple=1.0, rank=1,
        )  # fmt: skip
        set_plan_load(logbook, 1, fridge)
        set_plan_load(logbook, 1, lamp)
        battery = SupplyDraft(
            "Battery", SupplyKind.BATTERY, voltage_v=230.0, frequency_hz=50.0, plug="cee_7", outlet_a=16.0,
            continuous_w=120.0, continuous_va=200.0, start_w=600.0, start_va=600.0, start_s=5.0,
            stored_wh=5000.0, chemistry=Chemistry.LFP, battery_v=48.0, battery_limit_a=50.0, idle_w=5.0,
            waveform=Waveform.SINE,
        )  # fmt: skip
        add_supply(logbook, battery)
    return path


def words(text: str) -> str:
    return " ".join(text.split())


def test_the_plan_by_hand(hearthload: Hearthload, path: Path) -> None:
    # 1.0 + 10 W · 5 h = 1.05 kWh/d, 2.1 in two days; 110 W, 135 VA; the start 135 + 3·125 = 510 VA.
    answer = hearthload("plan", path)
    assert (answer.code, answer.err) == (0, "")
    said = words(answer.out)
    for part in (
        "Two days: 2 days, month 6, enough in 90 % of outages",
        "essential Fridge assumed 1 1.00 (0.80 to 1.25) 100 500",
        "wanted Lamp 5 h a day 1 0.050 ± 0.010 10 10",
        "Fridge: energy assumed.",
        "Energy for the outage, expected 2.10 kWh",
        "110 ± 20 W, 135 VA",
        "Worst start, Fridge 510 VA, for 0.50 s",
        "Inverter, continuous 138 W and 169 VA or more",
        "A plan is an estimate, not a guarantee",
    ):
        assert part in said, part
    assert "S = P / PF" not in said
    assert "running watts P = 100 W" in words(hearthload("plan", path, "--steps").out)


def test_plan_json_is_the_same_for_machines(hearthload: Hearthload, path: Path) -> None:
    told = hearthload("plan", path, "--plan", "TWO", "--json").json()
    assert list(told) == ["plan", "loads", "totals", "sizing", "verdicts", "steps", "cautions"]
    assert (told["plan"]["name"], told["plan"]["days"]) == ("Two days", 2.0)
    fridge, lamp = told["loads"]
    assert (fridge["name"], fridge["role"], fridge["start_va"]) == ("Fridge", "essential", 500.0)
    assert fridge["daily_kwh"] == {"value": 1.0, "low": 0.8, "high": 1.25}
    assert lamp["daily_kwh"]["value"] == pytest.approx(0.05)
    assert told["totals"]["start_va"] == pytest.approx(510.0)
    assert told["sizing"]["inverter_w"] == pytest.approx(137.5)
    assert told["verdicts"] == []
    assert told["steps"]["totals"]


def test_the_verdict_by_hand(hearthload: Hearthload, path: Path) -> None:
    # 1.25·110 = 137.5 W of 120 W: − 12.7 %; 1.25·135 = 169 VA of 200 VA; 510 VA of 600 VA: + 17.6 %.
    answer = hearthload("verdict", path)
    assert (answer.code, answer.err) == (0, "")
    said = words(answer.out)
    for part in (
        "Battery: falls short, most of all in running watts: cannot run it Its energy would last",
        "Rooms as measured, battery 20 °C, outdoors 15 °C, 0 m above sea level",
        "running watts 138 W 120 W −13 % falls short",
        "running VA 169 VA 200 VA +19 % carries",
        "starting power 510 VA 600 VA +18 % carries",
        "It cannot carry all the essentials: running watts, 100 W needed, 96 W can be carried.",
        "before inverter losses and margins",
        "It could carry none of them.",
        "Leave off Fridge, essential; too much: running watts by 4.0 W.",
        "Leave off Lamp, wanted.",
        "Keep a lithium battery out of bedrooms",
    ):
        assert part in said, part
    assert "Keep on" not in said
    assert "Stays on" not in said
    assert "P_c = m·P_max" in words(hearthload("verdict", path, "--supply", "batt", "--steps").out)


def test_a_file_says_what_a_logbook_of_the_same_says(
    hearthload: Hearthload, path: Path, tmp_path: Path
) -> None:
    from_file: dict[str, Any] = hearthload("size", written(tmp_path, whole()), "--json").json()
    from_logbook: dict[str, Any] = hearthload("verdict", path, "--json").json()
    for part in ("plan", "totals", "sizing", "verdicts", "steps", "cautions"):
        assert from_file[part] == from_logbook[part], part
    assert from_file["loads"] == from_logbook["loads"]


def test_which_plan_and_which_supply(hearthload: Hearthload, path: Path, tmp_path: Path) -> None:
    hearthload("plan", path, "--plan", "storm").refused("no plan “storm”", "There is Two days")
    hearthload("verdict", path, "--supply", "wheel").refused("no supply “wheel”", "There is Battery")
    hearthload("plan", path, "--plan", "").refused("A plan's name is needed")
    with open_logbook(path) as logbook:
        add_plan(logbook, PlanDraft("Two nights", days=1.0))
    for command in ("plan", "verdict"):
        hearthload(command, path).refused("2 outage plans", "Two days and Two nights", "--plan NAME")
        hearthload(command, path, "--plan", "two", "--json").refused("may be any of Two days and Two nights")
    assert hearthload("plan", path, "--plan", "two nights").out.startswith("Two nights: 1 day")
    empty = tmp_path / "empty.hearthload"
    create_logbook(empty).close()
    hearthload("plan", empty).refused("There is no outage plan in this logbook yet")
    with open_logbook(empty) as logbook:
        add_plan(logbook, PlanDraft("Bare"))
    hearthload("verdict", empty).refused("There is no supply in this logbook yet")
    bare = hearthload("plan", empty)
    assert (bare.code, bare.err) == (0, "")
    assert "There is no appliance in this plan yet." in bare.out
    assert hearthload("plan", empty, "--json").json()["sizing"] is None


@pytest.mark.parametrize("command", ["plan", "verdict"])
def test_a_logbook_that_cannot_be_read(hearthload: Hearthload, tmp_path: Path, command: str) -> None:
    hearthload(command, tmp_path / "none.hearthload").refused("none.hearthload")
    hearthload(command, tmp_path).refused("folder")
    (tmp_path / "thing.hearthload").write_bytes(b"not a logbook\n" * 50)
    hearthload(command, tmp_path / "thing.hearthload").refused("thing.hearthload")
    hearthload(command).refused("LOGBOOK is missing")


CORD = ("cord", "--watts", "1500", "--volts", "120")


def test_a_cord_by_hand(hearthload: Hearthload) -> None:
    # 12.5 A over 15.24 m of AWG 14: 8.28·(1 + 0.00393·40) = 9.5816 Ω/km, so 2·15.24·12.5·0.0095816/120 =
    # 3.042 % running, three times that starting; 3 % are reached at 0.03·120/(2·12.5·0.0095816) = 15.03 m.
    told = hearthload(
        *CORD, "--length", "50 ft", "--gauge", "14 AWG", "--start-multiple", "3", "--json"
    ).json()
    assert told["running_drop"] == pytest.approx(0.030422, abs=1e-6)
    assert told["starting_drop"] == pytest.approx(0.091265, abs=1e-6)
    assert (told["current_a"], told["starting_current_a"]) == (12.5, 37.5)
    assert told["most_a"] == 18.0
    assert told["longest_m"] == pytest.approx(15.029, abs=1e-3)
    assert (told["outcome"], told["smallest"]) == ("falls_short", "awg_12")
    said = words(hearthload(*CORD, "--length", "50ft", "--gauge", "awg14").out)
    for part in ("AWG 14: falls short", "3.04 %, at most 3 %", "Longest one way 15.0 m", "does AWG 12"):
        assert part in said, part


def test_a_cord_in_the_long_run_and_with_a_power_factor(hearthload: Hearthload) -> None:
    # 80 % of 16 A; 1840 W at 230 V and PF 0.8 are 10 A, more than 80 % of the 10 A of 1 mm².
    words_ = ("--length", "10 m", "--gauge", "1,5 mm²", "--power-factor", "0,8", "--long-run", "--json")
    told = hearthload("cord", "--watts", "1840 W", "--volts", "230 V", *words_).json()
    assert (told["most_a"], told["current_a"]) == (pytest.approx(12.8), pytest.approx(10.0))
    assert (told["outcome"], told["smallest"], told["starting_drop"]) == ("carries", "mm2_1.5", None)


@pytest.mark.parametrize(
    ("changed_", "says"),
    [
        (("--gauge", "thick"), ["no wire size “thick”", "AWG 14", "1.5 mm²"]),
        (("--gauge", ""), ["no wire size"]),
        (("--watts", "many"), ["--watts", "many"]),
        (("--watts", "-5"), ["--watts", "negative"]),
        (("--watts", "0"), ["The load", "more than 0"]),
        (("--volts", "nan"), ["--volts"]),
        (("--volts", "0"), ["The voltage", "more than 0"]),
        (("--length", "far"), ["--length", "far"]),
        (("--length", "-3 m"), ["--length", "negative"]),
        (("--length", "0"), ["The length", "more than 0"]),
        (("--power-factor", "1.5"), ["The power factor"]),
        (("--power-factor", "inf"), ["--power-factor"]),
        (("--start-multiple", "0.5"), ["The start multiple"]),
        (("--start-multiple", "50"), ["The start multiple"]),
    ],
)
def test_a_cord_that_cannot_be(hearthload: Hearthload, changed_: tuple[str, str], says: list[str]) -> None:
    options = {"--watts": "100", "--volts": "230", "--length": "10", "--gauge": "awg_14"}
    options[changed_[0]] = changed_[1]
    hearthload("cord", *[word for pair in options.items() for word in pair]).refused(*says)


def test_a_cord_wants_all_four(hearthload: Hearthload) -> None:
    hearthload(*CORD, "--length", "10").refused("--gauge", "missing")
    hearthload("cord", "14").refused("missing")


def test_size_prints_all_of_it(hearthload: Hearthload, home: Path) -> None:
    answer = hearthload("size", asset("examples/mill-cottage.json"), "--steps")
    assert (answer.code, answer.err) == (0, "")
    said = words(answer.out)
    for part in (
        "Mill cottage, two winter days",
        "What to look for",
        "Stair battery: falls short",
        "Keep on: Kitchen refrigerator, Insulin cooler, Heating circulator",
        "The arithmetic",
        "[measured]",
        "typical, not checked",
        "Run a generator outdoors only",
    ):
        assert part in said, part
    assert list(home.iterdir()) == []


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (changed(("loads", 1, "running_w"), -10), ["loads.json", "loads[1].running_w", "more than 0 W"]),
        (changed(("loads", 1, "power"), 10), ["loads[1]", "no entry", "power"]),
        (changed(("supplies", 0, "kind"), "x"), ["supplies[0].kind"]),
        (changed(("plan", "days"), None), ["plan.days", "needed"]),
        ('{"plan": {"days": NaN}}', ["NaN"]),
        ("[" * 50_000, ["nested too deeply"]),
        ("kWh", ["not JSON"]),
        ("", ["is empty"]),
    ],
)
def test_size_refuses_in_a_sentence(
    hearthload: Hearthload, tmp_path: Path, content: object, says: list[str]
) -> None:
    for more in ([], ["--json", "--steps"]):
        hearthload("size", written(tmp_path, content), *more).refused(*says)


def test_size_refuses_what_is_no_file_of_text(hearthload: Hearthload, tmp_path: Path) -> None:
    hearthload("size", tmp_path / "none.json").refused("no file", "none.json")
    hearthload("size", tmp_path).refused("folder")
    (tmp_path / "bytes.json").write_bytes(bytes(range(128, 256)))
    hearthload("size", tmp_path / "bytes.json").refused("bytes.json", "UTF-8")
    (tmp_path / "huge.json").write_bytes(b" " * (5 * 2**20))
    hearthload("size", tmp_path / "huge.json").refused("huge.json", "larger than 4 MB")
    hearthload("size").refused("FILE.json is missing")


def test_help_says_where_a_whole_file_lies(hearthload: Hearthload) -> None:
    answer = hearthload("size", "--help")
    assert answer.code == 0
    assert "The size file" in answer.out
    assert str(asset("examples/mill-cottage.json")) in answer.out
    for command in ("plan", "verdict", "cord"):
        assert hearthload(command, "--help").out.startswith(f"usage: hearthload {command}")


LOADED = """
import sys
from hearthload.cli import main
code = main({words!r})
loaded = sorted({{name.split(".")[0] for name in sys.modules}} & {{"PySide6", "pyqtgraph", "sqlalchemy"}})
print(code, loaded, file=sys.stderr)
"""


def test_size_loads_neither_the_window_nor_the_store(child: Child, tmp_path: Path) -> None:
    answer = child(LOADED.format(words=["size", str(written(tmp_path, whole()))]))
    assert answer.err.strip() == "0 []", answer.err
