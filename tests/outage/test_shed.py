"""What to leave off: by hand, and against every set there is."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hearthload.domain.appliance import Kind, Role
from hearthload.outage.answers import LimitCode, LoadInput, LoadLine
from hearthload.outage.choosing import values_of
from hearthload.outage.demand import totals
from hearthload.outage.shed import LeaveOff, Limits, breaches, what_to_leave_off
from tests.outage.appliances import USUAL, drawn_loads, line_of, plain

NINETY = 0.90
WANTED, ESSENTIAL = Role.WANTED, Role.ESSENTIAL


def choose(lines: Sequence[LoadLine], limits: Limits, days: float = 1.0) -> LeaveOff:
    return what_to_leave_off(lines, limits, days, NINETY)


def test_values_follow_the_rank() -> None:
    assert values_of([1, 2, 3]) == (3, 2, 1)
    assert values_of([3, 1, 0, 1]) == (2, 4, 1, 4)
    assert values_of([0, 0]) == (2, 2)


def test_all_that_fits_is_kept() -> None:
    lines = [
        plain("A", 1.0, 100.0),
        plain("B", 1.0, 100.0, role=WANTED),
        plain("C", 9.0, 90.0, role=Role.OFF),
    ]
    found = choose(lines, Limits(energy_kwh=2.0, running_w=200.0, running_va=200.0, start_va=200.0))
    assert found.kept == (0, 1)
    assert found.left_off == ()


def test_the_reason_is_the_limit_that_adding_it_would_pass() -> None:
    # 1.0 + 1.5 of 3.0 kWh are taken; the heater's 2.0 would make 4.5, by 1.5 over; its 900 W come to 1100.
    lines = [
        plain("Fridge", 1.0, 100.0),
        plain("Set", 1.5, 100.0, role=WANTED, rank=1),
        plain("Heater", 2.0, 900.0, role=WANTED, rank=2),
    ]
    found = choose(lines, Limits(energy_kwh=3.0, running_w=1150.0))
    assert found.kept == (0, 1)
    (left,) = found.left_off
    assert (left.index, left.name) == (2, "Heater")
    assert [breach.code for breach in left.breaches] == [LimitCode.ENERGY]
    assert left.breaches[0].needed == pytest.approx(4.5)
    assert left.breaches[0].over == pytest.approx(1.5)
    assert left.breaches[0].unit == "kWh"


def test_two_of_middle_rank_outweigh_the_first() -> None:
    # Values 3, 2, 1 of ranks 1, 2, 3. 2 kWh: either the first alone (3) or the other two (3): more loads win.
    lines = [
        plain(n, e, 50.0, role=WANTED, rank=r) for n, e, r in (("A", 2.0, 1), ("B", 1.0, 2), ("C", 1.0, 3))
    ]
    assert choose(lines, Limits(energy_kwh=2.0)).kept == (1, 2)
    # With a fourth, values 4, 3, 2, 1: A and D are 5, B and C are 5 too, B, C and D 6 if they fit.
    lines.append(plain("D", 0.1, 50.0, role=WANTED, rank=4))
    assert choose(lines, Limits(energy_kwh=2.1)).kept == (1, 2, 3)


def test_essentials_that_do_not_fit_say_which_limit() -> None:
    lines = [plain("Pump", 1.0, 800.0, start_multiple=4.0), plain("Lamp", 0.1, 10.0, role=WANTED)]
    found = choose(lines, Limits(energy_kwh=5.0, running_w=1000.0, start_va=2000.0))
    # The pump alone starts with 3200 VA.
    assert [(b.code, b.needed, b.over) for b in found.essentials_break] == [
        (LimitCode.START_VA, 3200.0, 1200.0)
    ]
    assert found.kept == ()
    assert [(left.name, [b.code for b in left.breaches]) for left in found.left_off] == [
        ("Pump", [LimitCode.START_VA]),
        ("Lamp", []),
    ]


def test_of_essentials_that_do_not_fit_most_are_kept_and_the_medical_first() -> None:
    # 400 W of 500: the medical 300 W before any number of others, then the 100 W beside it.
    lines = [
        plain("Cooler", 1.0, 300.0, medical=True),
        plain("A", 1.0, 100.0),
        plain("B", 1.0, 200.0),
        plain("C", 1.0, 200.0),
        plain("Lamp", 0.1, 10.0, role=WANTED),
    ]
    found = choose(lines, Limits(running_w=450.0))
    assert found.kept == (0, 1)
    assert [left.name for left in found.left_off] == ["B", "C", "Lamp"]
    assert found.shed_order == (1, 0)
    # Without the medical one the most of the others fit.
    assert choose(lines[1:], Limits(running_w=350.0)).kept in {(0, 1), (0, 2)}


def test_nothing_fits_where_there_is_nothing() -> None:
    found = choose([plain("A", 1.0, 100.0)], Limits(energy_kwh=0.0))
    assert found.kept == ()
    assert [b.code for b in found.left_off[0].breaches] == [LimitCode.ENERGY]


def test_the_start_limit_counts_the_worst_single_start() -> None:
    # A and B run 100 VA each, start 300 and 400. Together 200 + 300 = 500 VA: fits 500, not 499; then B has
    # the first rank.
    lines = [
        plain("A", 0.1, 100.0, start_multiple=3.0, role=WANTED, rank=2),
        plain("B", 0.1, 100.0, start_multiple=4.0, role=WANTED, rank=1),
    ]
    assert choose(lines, Limits(start_va=500.0)).kept == (0, 1)
    assert choose(lines, Limits(start_va=499.0)).kept == (1,)
    assert choose(lines, Limits(start_va=399.0)).kept == (0,)


def test_what_is_not_known_is_not_placed() -> None:
    lines = [line_of(LoadInput("Box", Kind.NOT_SURE, WANTED)), plain("A", 1.0, 50.0, role=WANTED)]
    found = choose(lines, Limits(energy_kwh=2.0, running_w=100.0))
    assert found.kept == (1,)
    assert found.not_known == ("Box",)
    assert found.left_off[0].not_known
    # Where there is no limit to what is not known it may stay.
    assert choose(lines, Limits()).kept == (0, 1)


def test_order_of_switching_off() -> None:
    lines = [
        plain("Concentrator", 7.0, 350.0, medical=True, rank=3),
        plain("Fridge", 1.0, 100.0, rank=1),
        plain("Freezer", 2.0, 100.0, rank=2),
        plain("Radio", 0.1, 5.0, role=WANTED, rank=1),
        plain("Set", 0.5, 90.0, role=WANTED),
        plain("Console", 0.8, 90.0, role=WANTED),
    ]
    order = choose(lines, Limits()).shed_order
    assert [lines[i].load.name for i in order] == [
        "Console",
        "Set",
        "Radio",
        "Freezer",
        "Fridge",
        "Concentrator",
    ]


def best_by_counting(lines: Sequence[LoadLine], limits: Limits, days: float) -> tuple[int, int] | None:
    """Give the best value and number of wanted loads over all sets that fit, by the totals themselves."""
    fixed = [line for line in lines if line.load.role is ESSENTIAL]
    wanted = [line for line in lines if line.load.role is WANTED]
    values = values_of([line.load.rank for line in wanted])
    best: tuple[int, int] | None = None
    for ons in itertools.product((False, True), repeat=len(wanted)):
        chosen = [line for line, on in zip(wanted, ons, strict=True) if on]
        found = totals([*fixed, *chosen], days, NINETY, USUAL)
        needs = (
            (found.plan_kwh.high, limits.energy_kwh),
            (found.running_w.value, limits.running_w),
            (found.running_va.value, limits.running_va),
            (found.start_va.value, limits.start_va),
        )
        if all(offer is None or (need or 0.0) <= offer + 1e-9 * max(offer, 1.0) for need, offer in needs):
            worth = (sum(v for v, on in zip(values, ons, strict=True) if on), sum(ons))
            best = worth if best is None else max(best, worth)
    return best


def compare(lines: Sequence[LoadLine], limits: Limits, days: float) -> None:
    best = best_by_counting(lines, limits, days)
    found = choose(lines, limits, days)
    assert (best is None) == bool(found.essentials_break)
    if best is None:
        return
    wanted = [i for i, line in enumerate(lines) if line.load.role is WANTED]
    values = values_of([lines[i].load.rank for i in wanted])
    kept = [value for i, value in zip(wanted, values, strict=True) if i in found.kept]
    assert (sum(kept), len(kept)) == best
    assert breaches([lines[i] for i in found.kept], limits, days, NINETY) == ()
    assert all(left.breaches for left in found.left_off)


SHARES = st.none() | st.floats(0.1, 1.1)


@st.composite
def questions(draw: st.DrawFn, most: int = 7) -> tuple[list[LoadLine], Limits, float]:
    """Draw loads whose figures are known, and limits that are a share of what all of them need."""
    loads = draw(st.lists(drawn_loads((ESSENTIAL, WANTED, WANTED, WANTED)), min_size=1, max_size=most))
    lines = [line_of(load) for load in loads]
    lines = [line for line in lines if line.daily is not None and line.running_w is not None]
    days = draw(st.floats(0.2, 7.0))
    all_on = totals(lines, days, NINETY, USUAL)
    whole = (all_on.plan_kwh.high, all_on.running_w.value, all_on.running_va.value, all_on.start_va.value)
    shares = [draw(SHARES) for _ in whole]
    limits = [None if share is None or not w else share * w for share, w in zip(shares, whole, strict=True)]
    return lines, Limits(*limits), days


@settings(max_examples=80, deadline=None)
@given(questions())
def test_no_other_set_is_better(question: tuple[list[LoadLine], Limits, float]) -> None:
    compare(*question)


@settings(max_examples=4, deadline=None)
@given(questions(most=10))
def test_no_other_set_of_ten_is_better(question: tuple[list[LoadLine], Limits, float]) -> None:
    compare(*question)


@settings(max_examples=40, deadline=None)
@given(questions(), st.floats(1.0, 2.0))
def test_more_energy_never_keeps_less_worth(
    question: tuple[list[LoadLine], Limits, float], more: float
) -> None:
    lines, limits, days = question
    if limits.energy_kwh is None:
        return
    wider = Limits(limits.energy_kwh * more, limits.running_w, limits.running_va, limits.start_va)
    wanted = [line for line in lines if line.load.role is WANTED]
    values = dict(
        zip(
            [i for i, line in enumerate(lines) if line.load.role is WANTED],
            values_of([line.load.rank for line in wanted]),
            strict=True,
        )
    )
    worths = [sum(values.get(i, 0) for i in choose(lines, limit, days).kept) for limit in (limits, wider)]
    assert worths[1] >= worths[0]


def test_forty_loads() -> None:
    """Forty equal loads of 1 kWh each, 17.5 kWh: the seventeen of highest rank."""
    lines = [plain(f"L{i}", 1.0, 50.0, role=WANTED, rank=i + 1) for i in range(40)]
    assert choose(lines, Limits(energy_kwh=17.5)).kept == tuple(range(17))
