"""Watts against what the way to the appliance carries, and against the highest watts seen."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hearthload.domain.appliance import Kind
from hearthload.domain.household import Household
from hearthload.estimate.answers import Interval
from hearthload.service.answers import Fix, FixAction, Weight
from tests.service.made_stays import Stay, appliance, assert_plain, codes, draft, meter, only, saved

# Mains of 230 V, no plug and no limit known: the largest household circuit, 32 A, carries 230·32 = 7360 W.
STAY = Stay(readings=(saved(1, 0.0, 0.0),), appliance=appliance(kind=Kind.NOT_SURE))
HALF_AMP = replace(STAY, meter=meter(current_a=0.5))  # carries 230·0.5 = 115 W


def at_average(stay: Stay, power_w: float, *, step_kwh: float = 0.01) -> list[str]:
    """Give the codes for a day at this average, the least that a display of this step allows."""
    found = stay.check(draft(24.0, power_w * 24.0 / 1000.0 + step_kwh))
    assert_plain(found)
    assert {complaint.field for complaint in found} <= {"energy_kwh"}
    return codes(found)


def boundaries(limit_w: float) -> list[tuple[float, list[str]]]:
    """Give averages around a limit and around 1.25 times it, where it is not believed any more."""
    return [
        (limit_w * (1.0 - 1e-6), []),
        (limit_w * (1.0 + 1e-6), ["above_rating"]),
        (1.25 * limit_w * (1.0 - 1e-6), ["above_rating"]),
        (1.25 * limit_w * (1.0 + 1e-6), ["impossible_power"]),
    ]


WAYS = [
    pytest.param(STAY, 7360.0, "circuit", id="the circuit"),
    # The meter's own 10 A at 230 V.
    pytest.param(replace(STAY, meter=meter(current_a=10.0)), 2300.0, "meter “Grey meter”", id="the meter"),
    # BS 1363 carries 13 A: 230·13 W.
    pytest.param(
        replace(STAY, appliance=appliance(kind=Kind.NOT_SURE, plug="bs_1363")),
        2990.0,
        "its plug",
        id="its plug",
    ),
    pytest.param(
        replace(STAY, meter=meter(plug="bs_1363")), 2990.0, "the meter's plug", id="the meter's plug"
    ),
    # The household's usual plug stands in where the appliance's own is not known: 230·10 W.
    pytest.param(
        replace(STAY, household=Household(default_plug="as_3112")), 2300.0, "its plug", id="the usual plug"
    ),
    # The appliance's own voltage goes before that of the mains: 120·15 W.
    pytest.param(
        replace(STAY, appliance=appliance(kind=Kind.NOT_SURE, plug="nema_5_15", voltage_v=120.0)),
        1800.0,
        "its plug",
        id="120 V",
    ),
    # Without one the mains decide: 100·32 W.
    pytest.param(replace(STAY, household=Household(mains_voltage_v=100.0)), 3200.0, "circuit", id="100 V"),
    # Of several limits the lowest: the meter's 4 A under its plug's 13 A under the circuit's 32 A.
    pytest.param(
        replace(STAY, meter=meter(current_a=4.0, plug="bs_1363")),
        920.0,
        "meter “Grey meter”",
        id="the lowest",
    ),
]


@pytest.mark.parametrize(("stay", "limit_w", "part"), WAYS)
def test_an_average_above_a_rating_warns_and_a_quarter_above_stops(
    stay: Stay, limit_w: float, part: str
) -> None:
    for power_w, said in boundaries(limit_w):
        assert at_average(stay, power_w) == said
    complaint = only(stay.check(draft(24.0, 2.0 * limit_w * 24.0 / 1000.0)))
    assert part in complaint.sentence


def test_an_impossible_average_stops_and_one_above_the_rating_warns() -> None:
    # 115 W over 24 h and a step: 2.76 + 0.01 kWh; 1.25 times as much: 3.45 + 0.01 kWh.
    assert codes(HALF_AMP.check(draft(24.0, 2.769))) == []
    assert only(HALF_AMP.check(draft(24.0, 2.771))).weight is Weight.WARNS
    assert only(HALF_AMP.check(draft(24.0, 3.459))).weight is Weight.WARNS
    assert only(HALF_AMP.check(draft(24.0, 3.461))).weight is Weight.STOPS


def test_a_coarse_display_is_given_its_step() -> None:
    coarse = replace(STAY, meter=meter(current_a=0.5, energy_step_kwh=1.0))
    for power_w, said in boundaries(115.0):
        assert at_average(coarse, power_w, step_kwh=1.0) == said


def test_an_unknown_meter_limits_nothing() -> None:
    assert at_average(replace(STAY, meter=None), 7000.0) == []


def test_the_longer_of_clock_and_meter_hours_counts() -> None:
    # Two days by the meter, one by the clock: a wrong time of reading, which is another complaint.
    stay = replace(HALF_AMP, readings=(saved(1, 0.0, 0.0, 0.0),))
    assert codes(stay.check(draft(24.0, 5.0, 48.0))) == ["hours_against_clock"]
    assert codes(stay.check(draft(24.0, 5.0, 24.0))) == ["impossible_power"]
    # Half a day by the meter does not make the day shorter: a power cut.
    assert codes(stay.check(draft(24.0, 2.7, 12.0))) == ["hours_against_clock"]


def test_what_would_flow_until_the_next_reading_counts_too() -> None:
    stay = replace(HALF_AMP, readings=(saved(1, 0.0, 0.0), saved(2, 48.0, 3.5)))
    # From 0 h: 0.02 kWh. To 48 h: (3.48 - 0.01)/24 h = 144.6 W, above 1.25·115 = 143.75 W.
    assert codes(stay.check(draft(24.0, 0.02))) == ["impossible_power", "goes_between"]
    assert codes(stay.check(draft(24.0, 1.75))) == ["goes_between"]


def test_the_first_reading_of_all_has_no_average() -> None:
    assert codes(replace(HALF_AMP, readings=()).check(draft(24.0, 900.0))) == []


def test_a_slip_is_offered_with_the_impossible_average_and_not_said_twice() -> None:
    expected = Interval(1.0, 0.9, 1.1)
    complaint = only(HALF_AMP.check(draft(24.0, 10.2), expected=expected))
    assert complaint.code == "impossible_power"
    assert complaint.fixes == (Fix("Make it 1.02 kWh", FixAction.SET_VALUE, 1.02),)
    assert codes(HALF_AMP.check(draft(24.0, 2.6), expected=expected)) == ["unexpected"]


@pytest.mark.parametrize(("energy", "said"), [(2.7699, []), (2.7701, ["above_highest"])])
def test_an_average_does_not_pass_the_highest_watts_seen(energy: float, said: list[str]) -> None:
    # 1.15·100 W over 24 h and a step: 2.76 + 0.01 kWh.
    before = replace(STAY, readings=(saved(1, 0.0, 0.0, highest_power_w=100.0),))
    for stay, typed in (
        (before, draft(24.0, energy)),
        (STAY, draft(24.0, energy, highest_power_w=100.0)),
        (before, draft(24.0, energy, highest_power_w=60.0)),
    ):
        found = stay.check(typed)
        assert codes(found) == said
        assert {complaint.weight for complaint in found} <= {Weight.WARNS}


def test_the_highest_of_all_highest_watts_counts() -> None:
    stay = replace(
        STAY,
        readings=(saved(1, 0.0, 0.0, highest_power_w=100.0), saved(2, 24.0, 1.0, highest_power_w=900.0)),
    )
    assert codes(stay.check(draft(48.0, 1.0 + 5.0))) == []
    assert "900 W" in only(stay.check(draft(48.0, 1.0 + 25.0))).sentence


def test_the_rating_goes_before_the_highest_watts() -> None:
    stay = replace(HALF_AMP, readings=(saved(1, 0.0, 0.0, highest_power_w=50.0),))
    assert codes(stay.check(draft(24.0, 3.0))) == ["above_rating"]


@pytest.mark.parametrize(("power_w", "said"), [(115.0, []), (115.1, ["watts_above_rating"])])
def test_watts_now_above_a_rating_are_a_warning_to_unplug(power_w: float, said: list[str]) -> None:
    found = HALF_AMP.check(draft(24.0, 0.1, power_w=power_w))
    assert_plain(found)
    assert codes(found) == said
    assert {(complaint.field, complaint.weight) for complaint in found} <= {("power_w", Weight.WARNS)}
    assert all("unplug" in complaint.sentence for complaint in found)


def test_watts_are_not_judged_while_the_counters_do_not_fit() -> None:
    stay = replace(HALF_AMP, readings=(saved(1, 0.0, 5.0),))
    assert codes(stay.check(draft(24.0, 4.0, power_w=500.0))) == ["energy_fell"]


BOILER = Stay(readings=(saved(1, 0.0, 6.05),), appliance=appliance(kind=Kind.CLIMATE, nameplate_w=130.0))


@pytest.mark.parametrize(("energy", "said"), [(9.80, []), (9.81, ["above_nameplate"])])
def test_an_average_does_not_pass_the_nameplate(energy: float, said: list[str]) -> None:
    # 1.2·130 W over 24 h and a step of 0.01: 3.744 + 0.01 kWh over 6.05.
    assert codes(BOILER.check(draft(24.0, energy))) == said


def test_a_tenfold_slip_of_a_boiler_is_asked_about_and_put_right() -> None:
    # All that could flow is expected, so that nothing is unexpected; 57.95 kWh in a day are 2414 W.
    complaint = only(BOILER.check(draft(24.0, 64.0), expected=Interval(20.0, 6.1, 70.0)))
    assert (complaint.code, complaint.weight) == ("above_nameplate", Weight.WARNS)
    assert complaint.fixes == (Fix("Make it 6.40 kWh", FixAction.SET_VALUE, 6.4),)


@pytest.mark.parametrize(("hours", "said"), [(11.9, []), (24.0, ["above_running"])])
def test_an_average_over_half_a_day_does_not_pass_the_running_watts(hours: float, said: list[str]) -> None:
    stay = replace(BOILER, appliance=appliance(kind=Kind.CLIMATE, running_w=100.0))
    assert codes(stay.check(draft(hours, 6.05 + 0.125 * hours))) == said


def test_the_highest_watts_come_with_the_slip() -> None:
    stay = replace(STAY, readings=(saved(1, 0.0, 0.0, highest_power_w=100.0),))
    complaint = only(stay.check(draft(24.0, 10.2), expected=Interval(1.0, 0.9, 1.1)))
    assert complaint.code == "above_highest"
    assert complaint.fixes == (Fix("Make it 1.02 kWh", FixAction.SET_VALUE, 1.02),)


@pytest.mark.parametrize(
    ("hours", "gained", "said"), [(24.0, 12.0, []), (24.0, 12.02, ["much_for_kind"]), (2.0, 11.0, [])]
)
def test_one_span_is_held_against_the_days_of_its_kind(hours: float, gained: float, said: list[str]) -> None:
    # Twice the 6 kWh of the most that work electronics take in a day; two hours may hold the whole day.
    stay = replace(STAY, appliance=appliance(kind=Kind.WORK_ELECTRONICS))
    assert codes(stay.check(draft(hours, gained))) == said
