"""What a meter, a plug and a circuit carry, and whether an appliance asks for more."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.household import Household
from hearthload.domain.plugs import PLUGS
from hearthload.service.answers import Complaint, Weight
from hearthload.service.ratings import Rating, lowest_rating, meter_complaints, voltage_of
from tests.service.made_stays import appliance, assert_plain, codes, meter, only

MAINS = Household()  # 230 V


def said(
    the_meter: dict[str, Any], load: dict[str, Any], household: Household = MAINS
) -> tuple[Complaint, ...]:
    """Give what speaks against a meter for a load, and see that it is said plainly beside the meter."""
    found = meter_complaints(meter(**the_meter), appliance(**load), household)
    assert_plain(found)
    assert {complaint.field for complaint in found} <= {"meter_id"}
    assert all(complaint.fixes == () for complaint in found)
    return found


@pytest.mark.parametrize(
    ("the_meter", "load", "household", "power_w", "part"),
    [
        # 32 A at the mains' 230 V, 120 V, or at the appliance's own 240 V.
        ({}, {}, MAINS, 7360.0, "a household circuit"),
        ({}, {}, Household(mains_voltage_v=120.0), 3840.0, "a household circuit"),
        ({}, {"voltage_v": 240.0}, Household(mains_voltage_v=120.0), 7680.0, "a household circuit"),
        ({"current_a": 16.0}, {}, MAINS, 3680.0, "the meter “Grey meter”"),
        ({"plug": "cee_7"}, {}, MAINS, 3680.0, "the meter's plug"),
        ({"plug": "nema_5_15"}, {}, Household(mains_voltage_v=120.0), 1800.0, "the meter's plug"),
        ({}, {"plug": "cee_7_16"}, MAINS, 575.0, "its plug"),
        ({}, {}, Household(default_plug="bs_1363"), 2990.0, "its plug"),
        # Its own plug goes before the usual one, and of two equal parts the meter's own mark is named.
        ({}, {"plug": "cee_7"}, Household(default_plug="bs_1363"), 3680.0, "its plug"),
        ({"current_a": 13.0, "plug": "bs_1363"}, {}, MAINS, 2990.0, "the meter “Grey meter”"),
        ({"current_a": 10.0, "plug": "bs_1363"}, {"plug": "cee_7"}, MAINS, 2300.0, "the meter “Grey meter”"),
        # A meter stated above what any circuit carries does not make the circuit carry more.
        ({"current_a": 63.0}, {}, MAINS, 7360.0, "a household circuit"),
    ],
)
def test_the_weakest_part_of_the_way(
    the_meter: dict[str, Any], load: dict[str, Any], household: Household, power_w: float, part: str
) -> None:
    assert lowest_rating(meter(**the_meter), appliance(**load), household) == Rating(power_w, part)


def test_without_a_meter_plug_and_circuit_are_left() -> None:
    assert lowest_rating(None, appliance(), MAINS) == Rating(7360.0, "a household circuit")
    assert lowest_rating(None, appliance(plug="as_3112"), MAINS) == Rating(2300.0, "its plug")


def test_the_appliance_s_own_voltage_goes_before_the_mains() -> None:
    assert voltage_of(appliance(), Household(mains_voltage_v=100.0)) == 100.0
    assert voltage_of(appliance(voltage_v=200.0), Household(mains_voltage_v=100.0)) == 200.0


# A meter of 10 A at 230 V carries 2300 W, of which 80 % are 1840 W.
@pytest.mark.parametrize(
    ("power_w", "expected"),
    [
        (0.0, []),
        (1839.0, []),
        (1840.0, []),
        (1841.0, ["near_rating"]),
        (2300.0, ["near_rating"]),
        (2301.0, ["over_rating"]),
    ],
)
def test_eighty_percent_is_a_caution_and_more_than_all_a_stop(power_w: float, expected: list[str]) -> None:
    for load in ({"nameplate_w": power_w}, {"running_w": power_w}):
        assert codes(said({"current_a": 10.0}, load)) == expected


def test_how_heavy_the_two_are_and_what_they_say() -> None:
    near = only(said({"current_a": 10.0}, {"nameplate_w": 2000.0}))
    over = only(said({"current_a": 10.0}, {"nameplate_w": 3000.0}))
    assert (near.weight, over.weight) == (Weight.WARNS, Weight.STOPS)
    for complaint, watts in ((near, "2000 W"), (over, "3000 W")):
        assert "Larder refrigerator" in complaint.sentence
        assert watts in complaint.sentence
        assert "2300 W" in complaint.sentence
    assert "80 %" in near.sentence
    assert "three hours" in near.sentence


def test_the_nameplate_goes_before_the_running_watts() -> None:
    assert codes(said({"current_a": 10.0}, {"nameplate_w": 1000.0, "running_w": 3000.0})) == []
    assert codes(said({"current_a": 10.0}, {"nameplate_w": 3000.0, "running_w": 1000.0})) == ["over_rating"]


def test_an_unknown_load_is_nothing_to_complain_about() -> None:
    assert said({"current_a": 0.1}, {}) == ()


# Mains stay within a tenth of their nominal value: a meter for 120 V serves up to 132 V.
@pytest.mark.parametrize(
    ("volts", "expected"),
    [(100.0, []), (120.0, []), (131.9, []), (132.1, ["over_voltage"]), (240.0, ["over_voltage"])],
)
def test_a_meter_is_not_used_above_its_voltage(volts: float, expected: list[str]) -> None:
    assert codes(said({"voltage_v": 120.0}, {"voltage_v": volts})) == expected
    assert codes(said({"voltage_v": 120.0}, {}, Household(mains_voltage_v=volts))) == expected


def test_the_voltage_stops_and_names_both() -> None:
    complaint = only(said({"voltage_v": 120.0}, {"voltage_v": 240.0}))
    assert complaint.weight is Weight.STOPS
    assert "240 V" in complaint.sentence
    assert "120 V" in complaint.sentence
    assert "Grey meter" in complaint.sentence


def test_a_meter_of_unknown_voltage_is_not_judged_by_it() -> None:
    assert said({"voltage_v": None}, {"voltage_v": 400.0}) == ()


@pytest.mark.parametrize(
    ("of_meter", "of_load", "expected"),
    [
        ("bs_1363", "bs_1363", []),
        ("bs_1363", "cee_7", ["other_plug"]),
        ("cee_7", "cee_7_16", ["other_plug"]),
        ("unknown", "cee_7", []),
        ("cee_7", "unknown", []),
        ("other", "cee_7", []),
        ("cee_7", "other", []),
        ("unknown", "other", []),
    ],
)
def test_two_known_plugs_that_differ_are_asked_about(
    of_meter: str, of_load: str, expected: list[str]
) -> None:
    found = said({"plug": of_meter}, {"plug": of_load})
    assert codes(found) == expected
    for complaint in found:
        assert complaint.weight is Weight.WARNS
        assert PLUGS[of_meter].name in complaint.sentence
        assert PLUGS[of_load].name in complaint.sentence


def test_all_three_at_once_the_stops_first() -> None:
    # 120·1.1 = 132 V are less than 230 V; of 10 A at 230 V, 2300 W, 2000 W are more than 80 %.
    the_meter = {"voltage_v": 120.0, "current_a": 10.0, "plug": "nema_5_15"}
    found = said(the_meter, {"nameplate_w": 2000.0, "plug": "cee_7"})
    assert codes(found) == ["over_voltage", "near_rating", "other_plug"]
    over = said(the_meter, {"nameplate_w": 5000.0, "plug": "cee_7"})
    assert codes(over) == ["over_rating", "over_voltage", "other_plug"]


@given(
    st.floats(0.1, 63.0),
    st.sampled_from(sorted(PLUGS)),
    st.sampled_from(sorted(PLUGS)),
    st.floats(90.0, 420.0),
)
def test_no_part_carries_more_than_the_weakest(
    amps: float, of_meter: str, of_load: str, volts: float
) -> None:
    the_meter, load = meter(current_a=amps, plug=of_meter), appliance(plug=of_load, voltage_v=volts)
    limits = [32.0, amps, *(PLUGS[key].current_a for key in (of_meter, of_load))]
    weakest = min(limit for limit in limits if limit is not None)
    assert lowest_rating(the_meter, load, MAINS).power_w == pytest.approx(volts * weakest)
