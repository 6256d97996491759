"""A limit's figures in words: units scaled alike, digits enough to tell apart what differs, signs shown."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hearthload.outage.answers import Limit, LimitCode, Outcome, Verdict
from hearthload.outage.steps import Figure
from hearthload.service.outage_limit_words import (
    below_words,
    by_words,
    margin_words,
    needed_words,
    offered_words,
    outcome_words,
    quantity_pair,
    short_words,
    verdict_words,
)

START = Limit(
    LimitCode.START_VA, Figure(2700.0, None, None, "VA", ()), 1000.0, "VA", 1000.0 / 2700.0 - 1.0,
    Outcome.FALLS_SHORT, "", "Cold box", (),
)  # fmt: skip


@pytest.mark.parametrize(
    ("needed", "offered", "unit", "printed"),
    [
        (2700.0, 1000.0, "VA", ("2.70 kVA", "1.00 kVA")),
        (600.0, 999.4, "W", ("600 W", "999 W")),
        (600.0, 999.5, "W", ("0.60 kW", "1.00 kW")),
        (1003.0, 1000.0, "W", ("1.003 kW", "1.000 kW")),
        (90.0, 40.0, "W", ("90 W", "40 W")),
        (90.0, 90.2, "W", ("90.0 W", "90.2 W")),
        (0.774, 25.6, "kWh", ("0.77 kWh", "25.60 kWh")),
        (230.0, 120.0, "V", ("230 V", "120 V")),
        (50.0, 50.0, "Hz", ("50 Hz", "50 Hz")),
        (2.5, 2.0, "d", ("2.50 days", "2.00 days")),
        (math.inf, 8.0, "h/d", ("∞ h a day", "8.0 h a day")),
        (0.0, 100.0, "W", ("0 W", "100 W")),
        (-5.0, -5.0, "°C", ("−5 °C", "−5 °C")),
    ],
)
def test_two_values_are_printed_alike(
    needed: float, offered: float, unit: str, printed: tuple[str, str]
) -> None:
    assert quantity_pair(needed, offered, unit) == printed


@pytest.mark.parametrize(
    ("excess", "unit", "printed"),
    [(0.0668, "kWh", "67 Wh"), (11.4, "kWh", "11 kWh"), (74.7, "VA", "75 VA"), (2742.0, "VA", "2.7 kVA")],
)
def test_by_how_much_in_two_digits(excess: float, unit: str, printed: str) -> None:
    assert by_words(excess, unit) == printed


@pytest.mark.parametrize(
    ("margin", "printed"),
    [(-0.63, "−63 %"), (0.123, "+12 %"), (0.0, "0 %"), (None, "–"), (math.inf, "–"), (9.04, "+904 %")],
)
def test_a_margin_shows_its_sign(margin: float | None, printed: str) -> None:
    assert margin_words(replace(START, margin=margin)) == printed


def test_a_limit_that_falls_short_says_both_figures() -> None:
    assert short_words(START) == "starting power for Cold box, 2.70 kVA needed, 1.00 kVA offered"
    assert (needed_words(START), offered_words(START)) == ("2.70 kVA", "1.00 kVA")


def test_a_limit_without_figures_says_what_it_takes() -> None:
    wave = replace(START, code=LimitCode.WAVEFORM, needed=None, offered=None, margin=None)
    assert short_words(wave) == "waveform for Cold box, a pure sine is needed"
    assert (needed_words(wave), offered_words(wave)) == ("pure sine", "modified")


def test_a_waveform_that_carries_says_what_is_offered() -> None:
    wave = replace(START, code=LimitCode.WAVEFORM, needed=None, offered=None, margin=None)
    words = {outcome: offered_words(replace(wave, outcome=outcome)) for outcome in Outcome}
    assert words == {Outcome.CARRIES: "pure sine", Outcome.FALLS_SHORT: "modified", Outcome.NOT_KNOWN: "–"}


def test_panels_alone_do_nothing_and_offer_no_watts() -> None:
    sun = replace(START, code=LimitCode.SUN, needed=None, offered=0.0, unit="W", margin=None, about="Panels",
        missing="a battery")  # fmt: skip
    assert (needed_words(sun), offered_words(sun), outcome_words(sun)) == ("–", "–", "does nothing alone")
    assert outcome_words(replace(sun, counts=False)) == "gives nothing"
    alone = Verdict("Panels", Outcome.FALLS_SHORT, (sun,), None, LimitCode.SUN)
    assert verdict_words(alone) == "does nothing alone"
    assert verdict_words(replace(alone, fails_first=LimitCode.ENERGY)) == "falls short"


def test_where_a_load_is_not_known_the_need_is_a_least_and_there_is_no_margin() -> None:
    # As `judged` gives it where what is known would be carried: both figures stand, the outcome does not.
    needed = Figure(134.0, None, None, "W", ())
    unsure = replace(START, code=LimitCode.RUNNING_W, needed=needed, offered=1800.0, unit="W", margin=12.4,
        outcome=Outcome.NOT_KNOWN, missing="watts or energy of Pump")  # fmt: skip
    assert (needed_words(unsure), offered_words(unsure)) == ("at least 134 W", "1.80 kW")
    assert margin_words(unsure) == "–"
    assert margin_words(replace(unsure, outcome=Outcome.CARRIES)) == "+1240 %"


def test_charging_by_the_sun_says_the_days_wanted_and_the_days_it_takes() -> None:
    # Five days are wanted, which stand where a rating would; the sun takes 2.5 of them, or never is enough.
    sun = replace(START, code=LimitCode.RECHARGE, needed=Figure(2.5, None, None, "d", ()), offered=5.0,
        unit="d", margin=1.0, outcome=Outcome.CARRIES, about="by the sun")  # fmt: skip
    assert (needed_words(sun), offered_words(sun), margin_words(sun)) == ("within 5 d", "2.50 d", "+100 %")
    never = replace(sun, needed=None, margin=None, outcome=Outcome.FALLS_SHORT)
    assert (needed_words(never), offered_words(never)) == ("within 5 d", "never")


def test_under_a_limit_stands_what_to_look_up_or_what_it_is_about() -> None:
    assert below_words(START) == "Cold box"
    unsure = replace(START, outcome=Outcome.NOT_KNOWN, missing="its starting watts")
    assert below_words(unsure) == "Cold box; look up: its starting watts"
    assert below_words(replace(unsure, about="")) == "look up: its starting watts"
    many = replace(START, about="Pump, Cold box, Kettle, Fan")
    assert below_words(many) == "Pump, Cold box and 2 more"
    assert below_words(many, whole=True) == "Pump, Cold box, Kettle, Fan"
    cold = replace(START, code=LimitCode.RECHARGE, unit="°C", offered=None, about="")
    assert below_words(cold) == "too cold or too hot to charge"
    assert needed_words(replace(cold, needed=Figure(-5.0, None, None, "°C", ()))) == "at −5 °C"


def test_the_engines_band_is_a_range_of_percent() -> None:
    band = Limit(
        LimitCode.MEAN_LOAD, Figure(0.3, 0.3, 0.8, "", ()), 0.12, "", None, Outcome.FALLS_SHORT, "", "", (),
        counts=False,
    )  # fmt: skip
    assert (needed_words(band), offered_words(band)) == ("30 to 80 %", "12 %")
