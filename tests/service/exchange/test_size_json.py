"""A size file read: what it says, how a measured figure comes in, and every refusal with its place."""

from __future__ import annotations

import json
import math
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from hearthload.domain.appliance import Cycling, Kind, Role
from hearthload.domain.plan import Use
from hearthload.domain.supply import Chemistry, SupplyKind
from hearthload.errors import KnownError
from hearthload.outage.answers import LoadInput, Measured
from hearthload.resources import asset
from hearthload.service.exchange import json_text
from hearthload.service.exchange.size_json import SizeFile, read_size_json
from hearthload.service.exchange.size_loads import KEYS
from tests.service.exchange.size_files import BATTERY, FRIDGE, LAMP, changed, measured, whole, written


def read(folder: Path, content: object) -> SizeFile:
    return read_size_json(written(folder, content))


def refusal(folder: Path, content: object) -> str:
    with pytest.raises(KnownError) as caught:
        read(folder, content)
    sentence = str(caught.value)
    assert "\n" not in sentence
    assert sentence.endswith(".")
    assert not sentence.endswith("..")
    return sentence


def load(folder: Path, entries: object) -> LoadInput:
    (found,) = read(folder, changed(("loads",), [entries])).loads
    return found


def found_of(folder: Path, entries: object) -> Measured:
    found = load(folder, entries).measured
    assert found is not None
    return found


def test_what_the_file_says_is_what_is_read(tmp_path: Path) -> None:
    file = read(tmp_path, whole())
    assert (file.plan.name, file.plan.days, file.plan.month, file.plan.room_c) == ("Two days", 2.0, 6, None)
    assert (file.mains_v, file.mains_hz) == (230.0, 50.0)
    fridge, lamp = file.loads
    assert (fridge.kind, fridge.role, fridge.use) == (Kind.REFRIGERATOR, Role.ESSENTIAL, Use.ASSUMED)
    assert (fridge.daily_kwh, fridge.daily_low_kwh, fridge.daily_high_kwh) == (1.0, 0.8, 1.25)
    assert (lamp.use, lamp.hours_a_day, lamp.rank, lamp.running_w) == (Use.HOURS_A_DAY, 5.0, 1, 10.0)
    (battery,) = file.supplies
    assert (battery.kind, battery.draft.chemistry) == (SupplyKind.BATTERY, Chemistry.LFP)
    assert battery.draft.stored_wh == 5000.0


def test_days_a_name_and_a_kind_are_enough(tmp_path: Path) -> None:
    content = {"plan": {"days": 0.5}, "loads": [{"name": "Router", "kind": "always_on"}]}
    file = read_size_json(written(tmp_path, content, "cabin.json"))
    assert file.plan.name == "cabin"
    assert file.loads == (LoadInput("Router", Kind.ALWAYS_ON, Role.WANTED, use=Use.ASSUMED),)
    assert file.supplies == ()


def test_null_is_not_known_and_a_mark_at_the_start_is_no_fault(tmp_path: Path) -> None:
    assert load(tmp_path, {**FRIDGE, "nameplate_w": None}).nameplate_w is None
    path = tmp_path / "marked.json"
    path.write_bytes(b"\xef\xbb\xbf" + json.dumps(whole()).encode())
    assert len(read_size_json(path).loads) == 2


def test_figures_and_mains_of_its_own(tmp_path: Path) -> None:
    content = {**whole(), "figures": {"inverter_margin": 1.5}, "mains_v": 120, "mains_hz": 60}
    file = read(tmp_path, content)
    assert file.facts["inverter_margin"] == 1.5
    assert file.facts.is_own("inverter_margin")
    assert (file.mains_v, file.mains_hz) == (120.0, 60.0)


def test_members_are_named_before_or_after(tmp_path: Path) -> None:
    both = {"name": "Both", "kind": "combination", "members": ["battery", "Panels"]}
    panels = {"name": "Panels", "kind": "array", "array_w": 400}
    file = read(tmp_path, changed(("supplies",), [both, BATTERY, panels]))
    by_number = {supply.id: supply.name for supply in file.supplies}
    assert [by_number[number] for number in file.supplies[0].draft.members] == ["Battery", "Panels"]


def test_measured_by_its_ends(tmp_path: Path) -> None:
    # u = e·(ln high − ln low)/(2·1.96): ends e·e^(±0.098) give u = 0.05.
    entries = measured(daily_low_kwh=math.exp(-0.098), daily_high_kwh=math.exp(0.098), running_w=90)
    found = found_of(tmp_path, entries)
    assert found.u_kwh == pytest.approx(0.05)
    assert (found.gain, found.meter, found.freedom) == (0.0, "", math.inf)
    assert found.day_sd == 0.07  # freezers: the kind's own scatter
    assert found.running_w == 90.0
    # ± 9.8 % is within the ± 10 % that a freezer wants, on the log scale: 0.098 ≤ ln 1.1 = 0.0953 is not.
    assert not found.well_measured
    assert load(tmp_path, entries).daily_kwh is None
    assert load(tmp_path, entries).running_w is None


def test_measured_by_days_and_meter(tmp_path: Path) -> None:
    # s 0.2 over 16 days: 0.2/4 = 0.05; ± 3 % of the meter: 0.03/√3 = 0.01732; together √(0.05² + 0.01732²).
    entries = measured(measured_days=16, day_scatter=0.2, meter="Grey meter", meter_gain_percent=3)
    found = found_of(tmp_path, {**entries, "daily_kwh": 2.0})
    # 16 days that are alike by 0.3 from one to the next say as much as 16·0.7/1.3 = 8.615.
    assert found.u_kwh == pytest.approx(2.0 * math.hypot(0.2 / math.sqrt(8.61538), 0.03 / math.sqrt(3.0)))
    assert found.gain == pytest.approx(0.03 / math.sqrt(3.0))
    assert (found.freedom, found.meter) == (15.0, "Grey meter")


def test_measured_by_its_uncertainty(tmp_path: Path) -> None:
    found = found_of(tmp_path, measured(daily_u_kwh=0.02, meter="Grey meter", measured_room_c=17))
    # A meter without an accuracy is taken as 0.75 %; 1.96·0.02 is within ± 10 %.
    assert (found.u_kwh, found.gain, found.room_c, found.well_measured) == (0.02, 0.0075, 17.0, True)


def test_uses_need_the_energy_of_one_use_only(tmp_path: Path) -> None:
    entries = {"name": "Kettle", "kind": "kitchen", "measured": True, "uses_a_day": 4, "use_kwh": 0.1}
    found = found_of(tmp_path, {**entries, "use_u_kwh": 0.01, "standby_kwh": 0.02})
    assert (found.use_kwh, found.use_u_kwh, found.standby_kwh) == (0.1, 0.01, 0.02)
    assert found.daily_kwh == pytest.approx(0.42)
    # Not said how sure it is: as sure as one use alone is.
    file = read(tmp_path, changed(("loads",), [entries]))
    (load_,) = file.loads
    assert load_.measured is not None
    assert load_.measured.use_u_kwh == pytest.approx(0.1 * file.facts["use_scatter"])
    assert load_.use is Use.USES_A_DAY


@pytest.mark.parametrize(
    ("way", "value", "says"),
    [
        (("loads", 1, "runing_w"), 5, "loads[1]: there is no entry \"runing_w\" here; near it: running_w"),
        (("lods",), [], "there is no entry \"lods\" here"),
        (("plan", "length"), 3, "plan: there is no entry \"length\""),
        (("supplies", 0, "watts"), 3, "supplies[0]: there is no entry \"watts\""),
        (("loads", 0, "running_w"), "100", "loads[0].running_w: \"100\" is not a number; write"),
        (("loads", 0, "running_w"), True, "loads[0].running_w: true is not a number"),
        (("loads", 0, "running_w"), [1], "loads[0].running_w: a list is not a number"),
        (("loads", 0, "running_w"), -5, "loads[0].running_w: The running watts must be more than 0 W"),
        (("loads", 0, "running_w"), 0, "loads[0].running_w: The running watts must be more than 0 W"),
        (("loads", 0, "running_w"), 2e5, "loads[0].running_w: The running watts must be at most 100000 W"),
        (("loads", 0, "running_w"), 10**400, "loads[0].running_w: that number is larger"),
        (("loads", 0, "idle_w"), 120, "loads[0].idle_w: The idle watts must not be above"),
        (("loads", 0, "power_factor"), 1.2, "loads[0].power_factor: The power factor must be at most 1"),
        (("loads", 0, "start_multiple"), 0.5, "loads[0].start_multiple: The starting demand must be between"),
        (("loads", 0, "daily_low_kwh"), 1.5, "loads[0].daily_low_kwh: The low end must not be above"),
        (("loads", 0, "daily_high_kwh"), None, "loads[0].daily_high_kwh: Give both ends"),
        (("loads", 0, "quantity"), 1.5, "loads[0].quantity: 1.5 is not a whole number"),
        (("loads", 0, "quantity"), 0, "loads[0].quantity: How many there are must be between"),
        (("loads", 0, "quantity"), None, "loads[0].quantity: null is not a number"),
        (("loads", 0, "kind"), "spaceship", "loads[0].kind: \"spaceship\" is none of refrigerator, freezer"),
        (("loads", 0, "kind"), None, "loads[0].kind: this is missing"),
        (("loads", 0, "kind"), 3, "loads[0].kind: 3 is none of"),
        (("loads", 0, "role"), "vital", "loads[0].role: \"vital\" is none of essential, wanted, off"),
        (("loads", 0, "cycling"), "fast", "loads[0].cycling: \"fast\" is none of"),
        (("loads", 0, "plug"), "round", "loads[0].plug: There is no plug type"),
        (("loads", 0, "voltage_v"), 9000, "loads[0].voltage_v: The voltage must be between"),
        (("loads", 0, "medical"), 1, "loads[0].medical: 1 is neither true nor false"),
        (("loads", 0, "name"), "", "loads[0].name: Give the appliance a name"),
        (("loads", 0, "name"), 7, "loads[0].name: 7 is not text"),
        (("loads", 0, "name"), "x" * 200, "loads[0].name: That is too long"),
        (("loads", 0, "name"), "bell\a", "loads[0].name: There is a character"),
        (("loads", 1, "name"), "FRIDGE", "loads[1].name: loads[0] is called \"Fridge\" too"),
        (("loads", 0, "season_factor"), 0, "loads[0].season_factor"),
        (("loads", 0, "room_c"), 900, "loads[0].room_c: The room's temperature"),
        (("loads", 0, "use"), "as_measured", "loads[0].use: nothing was measured"),
        (("loads", 0, "hours_a_day"), 5, "loads[0].daily_kwh: this does not count where use is hours_a_day"),
        (("loads", 1, "hours_a_day"), 30, "loads[1].hours_a_day: The use must be at most 24 hours a day"),
        (("loads", 1, "hours_a_day"), None, "loads[1].hours_a_day: Say how many hours"),
        (("loads", 1, "use"), "assumed", "loads[1].hours_a_day: this does not count where use is assumed"),
        (("loads", 0, "measured_days"), 5, "loads[0].measured_days: This counts for what was measured only"),
        (("loads", 0, "measured"), "yes", "loads[0].measured: \"yes\" is neither true nor false"),
        (("loads", 0), 5, "loads[0]: 5 is not an object in braces"),
        (("loads",), [], "loads: there is no load"),
        (("loads",), {}, "loads: an object in braces is not a list"),
        (("loads",), None, "loads: this is missing"),
        (("loads",), [LAMP] * 201, "loads: there are 201, and 200 are the most"),
        (("plan",), None, "plan: this is missing"),
        (("plan",), [], "plan: a list is not an object"),
        (("plan", "days"), None, "plan.days: this is missing"),
        (("plan", "days"), 0, "plan.days: The length of the outage must be more than 0 days"),
        (("plan", "days"), 1e6, "plan.days: The length of the outage must be at most 366 days"),
        (("plan", "month"), 13, "plan.month: The month must be between 1 and 12"),
        (("plan", "confidence"), 1, "plan.confidence: The confidence must be between"),
        (("plan", "battery_c"), None, "plan.battery_c: null is not a number"),
        (("mains_v",), 5, "mains_v: The mains voltage must be between 50 and 500 V"),
        (("mains_v",), "230", "mains_v: \"230\" is not a number"),
        (("mains_hz",), 400, "mains_hz: The mains frequency"),
        (("figures",), {"inverter_margn": 2}, "figures: there is no figure \"inverter_margn\""),
        (("figures",), {"inverter_margin": 500}, "figures.inverter_margin: “"),
        (("figures",), {"inverter_margin": "2"}, "figures.inverter_margin: \"2\" is not a number"),
        (("figures",), 5, "figures: 5 is not an object"),
        (("supplies", 0, "kind"), "flywheel", "supplies[0].kind: \"flywheel\" is none of battery"),
        (("supplies", 0, "name"), None, "supplies[0].name: this is missing"),
        (("supplies", 0, "stored_wh"), -1, "supplies[0].stored_wh: The stored energy must be more than 0 Wh"),
        (("supplies", 0, "start_w"), 50, "supplies[0].start_w: The starting power must not be below"),
        (("supplies", 0, "chemistry"), "air", "supplies[0].chemistry: \"air\" is none of"),
        (("supplies", 0, "members"), ["Battery"], "supplies[0].members: Only a combination"),
        (("supplies",), [BATTERY, BATTERY], "supplies[1].name: supplies[0] is called \"Battery\" too"),
        (("supplies",), {"name": "x"}, "supplies: an object in braces is not a list"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_with_its_place(
    tmp_path: Path, way: tuple[str | int, ...], value: object, says: str
) -> None:
    assert f"“loads.json”, {says}" in refusal(tmp_path, changed(way, value))


@pytest.mark.parametrize(
    ("entries", "says"),
    [
        (measured(), "daily_low_kwh: say how sure the measured figure is"),
        (measured(daily_u_kwh=-1), "daily_u_kwh: The uncertainty must be between"),
        (measured(daily_u_kwh=0.1, daily_low_kwh=0.9, daily_high_kwh=1.1), "daily_u_kwh: give either"),
        (measured(daily_kwh=None, measured_days=3), "daily_kwh: this is missing"),
        (measured(daily_u_kwh=0.1, use="assumed"), "use: it was measured"),
        (measured(daily_u_kwh=0.1, uses_a_day=2), "use_kwh: the energy of one use is needed"),
        (measured(daily_u_kwh=0.1, uses_a_day=2, hours_a_day=3), "use: say which counts"),
        (measured(daily_u_kwh=0.1, meter_gain_percent=90), "meter_gain_percent: The meter's accuracy"),
        (measured(daily_u_kwh=0.1, measured_days=0), "measured_days: The days must be more than 0"),
        (measured(daily_u_kwh=0.1, day_scatter=-0.1), "day_scatter: The scatter must be between"),
        ({"name": "Kettle", "kind": "kitchen", "uses_a_day": 2, "use_kwh": 0.1}, "use_kwh: This counts for"),
    ],
)
def test_what_was_measured_must_be_told_whole(tmp_path: Path, entries: object, says: str) -> None:
    assert f"loads[0].{says}" in refusal(tmp_path, changed(("loads",), [entries]))


@pytest.mark.parametrize(
    ("members", "says"),
    [
        (["Battery", "Nothing"], "supplies[1].members[1]: there is no supply \"Nothing\" in this file"),
        (["Battery", 3], "supplies[1].members[1]: a member is the name"),
        (["Battery"], "supplies[1].members: Choose at least two"),
        (["Battery", "battery"], "supplies[1].members: Choose each supply"),
        (["Battery", "Both"], "supplies[1].members: “Both” is a combination itself"),
        ("Battery", "supplies[1].members: \"Battery\" is not a list"),
    ],
)  # fmt: skip
def test_members_must_be_there(tmp_path: Path, members: object, says: str) -> None:
    both = {"name": "Both", "kind": "combination", "members": members}
    assert says in refusal(tmp_path, changed(("supplies",), [BATTERY, both]))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "is empty"),
        ("  \n", "is empty"),
        ("{", "line 1, column 2: this is not JSON"),
        ("not json at all", "line 1, column 1: this is not JSON"),
        ('{"plan": {"days": NaN}}', "NaN is no number in JSON"),
        ('{"plan": {"days": -Infinity}}', "-Infinity is no number in JSON"),
        ('{"plan": {"days": 1e999}, "loads": [{}]}', "plan.days: that number is larger"),
        ('{"plan": {"days": ' + "9" * 5000 + "}}", "too many digits"),
        ('{"plan": {"days": 1, "days": 2}, "loads": [{}]}', 'plan: the entry "days" is there twice'),
        ('{"plan": {}, "plan": {}}', 'the entry "plan" is there twice'),
        ("[1, 2]", "a list is not an object"),
        ("3", "3 is not an object"),
        ("null", "null is not an object"),
        ('{"plan": ' + "[" * 100_000, "nested too deeply"),
    ],
)
def test_a_file_that_is_no_such_json(tmp_path: Path, text: str, says: str) -> None:
    assert says in refusal(tmp_path, text)


def test_what_is_quoted_is_tame_and_short(tmp_path: Path) -> None:
    assert "“round��[31m”" in refusal(tmp_path, changed(("loads", 0, "plug"), "round\n\x1b[31m"))
    assert len(refusal(tmp_path, changed(("loads", 0, "plug"), "x" * 9000))) < 700
    assert len(refusal(tmp_path, changed(("x" * 9000,), 1))) < 700


def test_a_file_that_is_no_text(tmp_path: Path) -> None:
    path = tmp_path / "bytes.json"
    path.write_bytes(b'{"plan": "\xff\xfe"}')
    with pytest.raises(KnownError, match="not UTF-8 text; save it as JSON"):
        read_size_json(path)
    path.write_bytes(b'{"plan"\0: 1}')
    with pytest.raises(KnownError, match="NUL byte"):
        read_size_json(path)


def test_no_file_a_folder_and_a_huge_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with pytest.raises(KnownError, match=r"There is no file .*none\.json"):
        read_size_json(tmp_path / "none.json")
    with pytest.raises(KnownError, match="is a folder, not a file of loads"):
        read_size_json(tmp_path)
    monkeypatch.setattr(json_text, "LARGEST_FILE_BYTES", 2**20)
    path = written(tmp_path, " " * (2**20 + 1))
    with pytest.raises(KnownError, match="larger than 1 MB: not a file of loads"):
        read_size_json(path)


ANYTHING = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False) | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.sampled_from(KEYS), inner, max_size=4),
    max_leaves=12,
)


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(entries=st.dictionaries(st.sampled_from(KEYS), ANYTHING, max_size=6), other=ANYTHING)
def test_whatever_stands_there_is_read_or_refused(
    tmp_path: Path, entries: dict[str, object], other: object
) -> None:
    for content in (changed(("loads", 0), {**FRIDGE, **entries}), changed(("supplies",), other)):
        said = "“loads.json”"
        try:
            read(tmp_path, content)
        except KnownError as error:
            said = str(error)
        assert said.startswith("“loads.json”")


def test_the_help_page_names_every_entry_and_no_other() -> None:
    page = asset("help/size.md").read_text(encoding="utf-8")
    for key in (*KEYS, "members", "stored_wh", "azimuth_deg", "latitude_deg", "figures", "mains_hz"):
        assert f"`{key}`" in page or f'"{key}"' in page, key
    for kind in (*Kind, *Cycling, *SupplyKind):
        assert f"`{kind.value}`" in page
