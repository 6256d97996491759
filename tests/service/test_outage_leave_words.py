"""What to leave off, in words, where the essential loads alone do not fit: what fits and why the rest not."""

from __future__ import annotations

from dataclasses import replace

from hearthload.domain.appliance import Role
from hearthload.domain.plan import Plan
from hearthload.domain.supply import Supply, SupplyDraft, SupplyKind
from hearthload.outage.answers import Limit, LimitCode, Outcome, Verdict
from hearthload.outage.shed import Breach, LeaveOff, LeftOff
from hearthload.outage.steps import Figure
from hearthload.service.outage_answers import SupplyAnswer
from hearthload.service.outage_leave_words import BASIS, COULD, NEAREST, STAYS, LoadName, leave_off_words

PLAN = Plan(1, "Storm", 3.0, 1, None, 20.0, 15.0, 0.0, 0.9, 7.0, 23.0, None, None, "")
BATTERY = Supply(1, SupplyDraft("Battery", SupplyKind.BATTERY))
LOADS = (
    LoadName("Insulin cooler", Role.ESSENTIAL),
    LoadName("Pump", Role.ESSENTIAL),
    LoadName("Lamp × 3", Role.WANTED),
)
WATTS = Breach(LimitCode.RUNNING_W, 900.0, 400.0, "W")
TOO_MUCH = Breach(LimitCode.RUNNING_W, 900.0, 400.0, "W")
SHORT = Limit(
    LimitCode.ENERGY, Figure(2.0, None, None, "kWh", ()), 1.0, "kWh", -0.5, Outcome.FALLS_SHORT, "", "", ()
)


def verdict(outcome: Outcome, *limits: Limit) -> Verdict:
    return Verdict("Battery", outcome, limits, None, None)


def answered(found: LeaveOff, kept: Verdict | None) -> SupplyAnswer:
    return SupplyAnswer(BATTERY, (BATTERY,), verdict(Outcome.FALLS_SHORT, SHORT), found, kept, ())


COOLER_FITS = LeaveOff(
    kept=(0,),
    left_off=(
        LeftOff(1, "Pump", (TOO_MUCH,), not_known=False),
        LeftOff(2, "Lamp", (TOO_MUCH,), not_known=False),
    ),
    essentials_break=(WATTS,),
    shed_order=(0,),
    not_known=(),
)


def test_the_essentials_that_fit_are_what_it_could_carry() -> None:
    said = leave_off_words(answered(COOLER_FITS, verdict(Outcome.CARRIES)), PLAN, LOADS)
    assert said.sentences == (
        "It cannot carry all the essentials: running watts, 900 W needed, 400 W can be carried.",
        BASIS,
        "What it could carry lasts all 72 h.",
    )
    assert (said.heading, said.shed_order) == (COULD, (("Insulin cooler", "essential"),))
    # Why an essential load goes is said; a wanted one could only come after all the essentials.
    assert said.left_off == (
        ("Pump", "essential; too much: running watts by 500 W"),
        ("Lamp × 3", "wanted"),
    )


def test_none_that_fits_is_said() -> None:
    none = replace(COOLER_FITS, kept=(), shed_order=())
    said = leave_off_words(answered(none, verdict(Outcome.NOT_KNOWN)), PLAN, LOADS)
    assert said.sentences[-1] == "It could carry none of them."
    assert said.shed_order == ()


def test_nothing_is_said_to_be_carried_against_the_verdict() -> None:
    said = leave_off_words(answered(COOLER_FITS, verdict(Outcome.FALLS_SHORT, SHORT)), PLAN, LOADS)
    assert said.heading == NEAREST
    assert said.sentences[-1] == "Even the nearest to it falls short: energy."
    fits = replace(COOLER_FITS, kept=(0, 1), shed_order=(1, 0), essentials_break=())
    assert leave_off_words(answered(fits, verdict(Outcome.CARRIES)), PLAN, LOADS).heading == STAYS
    short = leave_off_words(answered(fits, verdict(Outcome.FALLS_SHORT, SHORT)), PLAN, LOADS)
    assert short.heading == NEAREST


def test_figures_say_what_they_are_of_only_where_there_are_any() -> None:
    fits = replace(COOLER_FITS, kept=(0, 1), shed_order=(1, 0), essentials_break=())
    assert BASIS in leave_off_words(answered(fits, verdict(Outcome.CARRIES)), PLAN, LOADS).sentences
    unknown = replace(fits, left_off=(LeftOff(2, "Lamp", (), not_known=True),))
    assert BASIS not in leave_off_words(answered(unknown, verdict(Outcome.CARRIES)), PLAN, LOADS).sentences
