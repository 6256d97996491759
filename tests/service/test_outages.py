"""Plans and supplies of the demo, worked through by hand; refusals; what an empty plan says."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from hearthload.domain.appliance import Role, UsePattern
from hearthload.domain.plan import PlanDraft, PlanLoadDraft, Use
from hearthload.domain.supply import SupplyDraft, SupplyKind
from hearthload.errors import RefusedError
from hearthload.outage.answers import Limit, LimitCode, LoadLine, Outcome, Verdict
from hearthload.outage.catalogue import facts_in_force
from hearthload.service import outages, queries
from hearthload.service.demo import build_demo
from hearthload.service.demo.world import local_moment
from hearthload.service.edits.plans import add_plan, set_plan_figure, set_plan_load
from hearthload.service.edits.supplies import add_supply
from hearthload.service.logbook import Logbook, create_logbook
from hearthload.service.outage_answers import PlanAnswer, SupplyAnswer

TODAY = date(2025, 11, 26)


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Logbook]:
    path: Path = tmp_path_factory.mktemp("outages") / "demo.hearthload"
    with build_demo(path, TODAY, local_moment(TODAY, 9.0)) as logbook:
        yield logbook


@pytest.fixture(scope="module")
def winter(demo: Logbook) -> PlanAnswer:
    return outages.plan_answer(demo, number_of(demo, "Winter storm"))


@pytest.fixture(scope="module")
def supplies(demo: Logbook) -> dict[str, SupplyAnswer]:
    found = outages.supply_answers(demo, number_of(demo, "Winter storm"))
    return {answer.supply.name: answer for answer in found}


def number_of(logbook: Logbook, name: str) -> int:
    (found,) = (plan.id for plan in queries.plans(logbook) if plan.name == name)
    return found


def kept(answer: PlanAnswer) -> list[LoadLine]:
    return [row.line for row in answer.rows if row.load.role is not Role.OFF]


def limit(found: Verdict, code: LimitCode) -> Limit:
    return next(each for each in found.limits if each.code is code and each.counts)


def falls_short(found: Verdict) -> set[LimitCode]:
    return {each.code for each in found.limits if each.counts and each.outcome is Outcome.FALLS_SHORT}


def needed(found: Limit) -> float:
    assert found.needed is not None
    return found.needed.value


def watts(line: LoadLine) -> float:
    assert line.running_w is not None
    return line.running_w.value


def mean_and_square(lines: list[LoadLine], waking: float = 16.0 / 24.0) -> tuple[float, float]:
    """Give mean demand [W] and mean of its square [W²] of independent loads that run or idle.

    Mean Σ (P_i + D_i ΔP_i); variance Σ D_i (1 − D_i) ΔP_i²; the square's mean is variance and mean². By day
    and by night apart, for what is used by the use runs by day: D/w there, as all its time fits in.
    """
    parts = []
    for share, by_day in ((waking, 1.0 / waking), (1.0 - waking, 0.0)):
        mean = variance = 0.0
        for line in lines:
            assert line.duty is not None
            used = line.load.kind.use_pattern in {UsePattern.BY_THE_USE, UsePattern.SCHEDULED}
            duty = line.duty * (by_day if used else 1.0)
            assert duty <= 1.0
            more = watts(line) - line.idle_w
            mean += line.idle_w + duty * more
            variance += duty * (1.0 - duty) * more * more
        parts.append((share * mean, share * (variance + mean * mean)))
    return sum(mean for mean, _ in parts), sum(square for _, square in parts)


def test_the_energy_of_the_storm_by_hand(winter: PlanAnswer) -> None:
    lines = kept(winter)
    daily = sum(line.daily.value for line in lines if line.daily is not None)
    assert winter.totals.daily.value == pytest.approx(daily)
    assert winter.totals.plan_kwh.value == pytest.approx(3.0 * daily)
    # One-sided 90 %: 1.28155 standard uncertainties, of the mean's and the days' scatter, at least.
    by_meter: dict[str, float] = {}
    own = 0.0
    for line in lines:
        own += (3.0 * line.own_u_kwh) ** 2 + 3.0 * line.day_sd_kwh**2
        by_meter[line.meter] = by_meter.get(line.meter, 0.0) + 3.0 * line.gain_u_kwh
    u = math.sqrt(own + sum(gain**2 for gain in by_meter.values()))
    assert winter.totals.plan_kwh.high is not None
    margin = winter.totals.plan_kwh.high - 3.0 * daily
    assert 1.28155 * u <= margin * (1.0 + 1e-6)
    assert margin < 2.0 * u
    assert winter.medical
    assert winter.cautions[0].startswith("A load here keeps somebody alive")


def test_the_battery_that_carries_by_hand(winter: PlanAnswer, supplies: dict[str, SupplyAnswer]) -> None:
    answer = supplies["Hall cupboard battery"]
    assert answer.verdict.outcome is Outcome.CARRIES
    assert answer.leave_off is None
    lines = kept(winter)
    # Stated idle 18 W of 3000 W: a good inverter, k1 0.02 and k2 0.04; over 72 h it idles 1.296 kWh away.
    mean, square = mean_and_square(lines)
    slope = 1.02 + 0.04 * square / (mean * 3000.0)
    energy = limit(answer.verdict, LimitCode.ENERGY)
    assert winter.totals.plan_kwh.high is not None
    assert needed(energy) == pytest.approx(1.296 + slope * winter.totals.plan_kwh.high, rel=2e-3)
    # 25.6 kWh, nine tenths usable, at 12 °C 0.875 + 12/25·0.125 = 0.935, aged by 1/1.1.
    assert energy.offered == pytest.approx(25.6 * 0.9 * 0.935 / 1.1)
    assert answer.verdict.hours is not None
    draw_kw = (18.0 + slope * mean) / 1000.0
    assert answer.verdict.hours.value == pytest.approx(25.6 * 0.9 * 0.935 / 1.1 / draw_kw, rel=2e-3)
    running = limit(answer.verdict, LimitCode.RUNNING_W)
    assert needed(running) == pytest.approx(1.25 * sum(watts(line) for line in lines))
    assert running.offered == 3000.0


def test_the_generator_that_cannot_start_the_pump_by_hand(
    winter: PlanAnswer, supplies: dict[str, SupplyAnswer]
) -> None:
    answer = supplies["Neighbour's petrol generator"]
    assert (answer.verdict.outcome, answer.verdict.fails_first) == (
        Outcome.FALLS_SHORT,
        LimitCode.START_VA,
    )
    short = {
        each.code for each in answer.verdict.limits if each.counts and each.outcome is Outcome.FALLS_SHORT
    }
    assert short == {LimitCode.START_VA}
    # The pump: 480 W at power factor 0.7 are 685.7 VA running and four times that at its start.
    others = sum(line.running_va.value for line in kept(winter) if line.running_va is not None)
    start = limit(answer.verdict, LimitCode.START_VA)
    assert needed(start) == pytest.approx(others + 3.0 * 480.0 / 0.7)
    # 3300 VA less 3 % for each 305 m above 152 m, at 480 m.
    assert start.offered == pytest.approx(3300.0 * (1.0 - 0.03 * (480.0 - 152.0) / 305.0))
    assert start.offered is not None
    assert start.margin == pytest.approx(start.offered / needed(start) - 1.0)


def test_the_battery_that_is_soon_empty_by_hand(
    winter: PlanAnswer, supplies: dict[str, SupplyAnswer]
) -> None:
    answer = supplies["Workshop battery"]
    assert (answer.verdict.outcome, answer.verdict.fails_first) == (Outcome.FALLS_SHORT, LimitCode.ENERGY)
    short = {
        each.code for each in answer.verdict.limits if each.counts and each.outcome is Outcome.FALLS_SHORT
    }
    assert short == {LimitCode.ENERGY}
    # Lead-acid: half usable, at 12 °C 1/(1.19 − 2/5.6·0.08), 80 % at the end of life, 97 % of nominal volts;
    # Peukert 1.1 from about 16 h against the 20 h of its rating, and an uneven draw takes some more of it.
    energy = limit(answer.verdict, LimitCode.ENERGY)
    cold = 1.0 / (1.19 - 2.0 / 5.6 * 0.08)
    mean, square = mean_and_square(kept(winter))
    draw_kw = (15.0 + 1.02 * mean + 0.04 * square / 2500.0) / 1000.0
    hours = 20.0
    for _ in range(60):
        rate = min((hours / 20.0) ** (0.1 / 1.1), 1.0)
        hours = 4.8 * cold * 0.8 * rate * 0.97 / draw_kw
    even = 4.8 * 0.5 * cold * 0.8 * rate * 0.97
    assert energy.offered is not None
    assert 0.95 * even < energy.offered < even
    leave = answer.leave_off
    assert leave is not None
    assert [breach.code for breach in leave.essentials_break] == [LimitCode.ENERGY]
    assert all(winter.rows[i].load.role is Role.ESSENTIAL for i in leave.kept)
    assert answer.kept_verdict is not None
    assert not leave.kept or answer.kept_verdict.outcome is Outcome.CARRIES


def test_left_off_so_that_the_rest_is_carried(demo: Logbook) -> None:
    number = number_of(demo, "Summer afternoon")
    plan = outages.plan_answer(demo, number)
    found = next(
        each
        for each in outages.supply_answers(demo, number)
        if each.supply.name == "Borrowed camping battery"
    )
    assert found.verdict.outcome is Outcome.FALLS_SHORT
    assert found.leave_off is not None
    assert found.kept_verdict is not None
    assert found.kept_verdict.outcome is Outcome.CARRIES
    left = {plan.rows[each.index].appliance.name for each in found.leave_off.left_off}
    assert left == {"Work laptop and screen"}
    assert all(each.breaches for each in found.leave_off.left_off)


def test_one_supply_is_judged_as_among_all(demo: Logbook, supplies: dict[str, SupplyAnswer]) -> None:
    answer = supplies["Camping battery with panels"]
    number = number_of(demo, "Winter storm")
    assert outages.supply_answer(demo, number, answer.supply.id) == answer
    assert {member.kind for member in answer.members} == {SupplyKind.BATTERY, SupplyKind.ARRAY}


def test_her_own_figures_count(tmp_path: Path) -> None:
    with build_demo(tmp_path / "own.hearthload", TODAY, local_moment(TODAY, 9.0)) as logbook:
        number = number_of(logbook, "Winter storm")
        before = outages.plan_answer(logbook, number)
        set_plan_figure(logbook, number, "inverter_margin", 1.5)
        after = outages.plan_answer(logbook, number)
        assert before.sizing is not None
        assert after.sizing is not None
        assert after.sizing.inverter_w.value == pytest.approx(before.sizing.inverter_w.value * 1.5 / 1.25)
        (own,) = (row for row in after.facts if row.is_own)
        assert (own.fact.key, own.value, own.fact.value) == ("inverter_margin", 1.5, 1.25)


def test_a_warmer_room_raises_the_refrigerator(tmp_path: Path) -> None:
    with build_demo(tmp_path / "warm.hearthload", TODAY, local_moment(TODAY, 9.0)) as logbook:
        number = number_of(logbook, "Winter storm")
        before = outages.plan_answer(logbook, number)
        row = next(row for row in before.rows if row.appliance.name == "Larder refrigerator")
        measured_c = row.line.load.measured.room_c if row.line.load.measured is not None else None
        warmer = (16.0 if measured_c is None else measured_c) + 5.0
        set_plan_load(logbook, number, PlanLoadDraft(row.appliance.id, row.load.role, room_c=warmer))
        after = outages.plan_answer(logbook, number)
        again = next(each for each in after.rows if each.appliance.id == row.appliance.id)
        assert row.line.daily is not None
        assert again.line.daily is not None
        assert again.line.daily.value > 1.1 * row.line.daily.value


def test_an_empty_plan_sizes_nothing_and_judges_nothing(tmp_path: Path) -> None:
    with create_logbook(tmp_path / "empty.hearthload", lasting=False) as logbook:
        add_plan(logbook, PlanDraft("Storm"))
        add_supply(logbook, SupplyDraft("Box", SupplyKind.BATTERY, stored_wh=1000.0))
        answer = outages.plan_answer(logbook, 1)
        assert (answer.rows, answer.sizing, answer.medical) == ((), None, False)
        assert answer.totals.demand is None
        (found,) = outages.supply_answers(logbook, 1)
        assert found.verdict.outcome is Outcome.NOT_KNOWN
        assert found.verdict.hours is None
        with pytest.raises(RefusedError, match="no plan number 7"):
            outages.plan_answer(logbook, 7)
        with pytest.raises(RefusedError, match="no supply number 7"):
            outages.supply_answer(logbook, 1, 7)


def test_a_figure_of_another_version_is_left_out() -> None:
    facts = facts_in_force({"inverter_margin": 1e6, "of_another_version": 1.0, "battery_margin": 0.2})
    assert (facts["inverter_margin"], facts["battery_margin"]) == (1.25, 0.2)
    assert not facts.is_own("inverter_margin")


def test_a_cord_by_hand() -> None:
    # 500 W at 230 V and power factor 1 are 2.174 A; 1.5 mm² has 13.3 Ω/km at 20 °C and 16 % more warm.
    found = outages.cord_answer("mm2_1.5", watts=500.0, volts=230.0, length_m=20.0)
    drop = 2.0 * 20.0 * (500.0 / 230.0) * 0.0133 * (1.0 + 0.00393 * 40.0)
    assert found.running_drop.value == pytest.approx(drop / 230.0, rel=1e-6)
    assert found.outcome is Outcome.CARRIES
    assert ("mm2_1.5", found.gauge.name) in outages.cord_gauges()


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"watts": 0.0}, "watts"),
        ({"watts": math.nan}, "watts"),
        ({"volts": -1.0}, "volts"),
        ({"length_m": 0.0}, "length_m"),
        ({"length_m": math.inf}, "length_m"),
        ({"power_factor": 0.0}, "power_factor"),
        ({"power_factor": 1.1}, "power_factor"),
        ({"start_multiple": 0.5}, "start_multiple"),
    ],
)
def test_a_cord_that_cannot_be(wrong: dict[str, float], field: str) -> None:
    asked: dict[str, float] = {"watts": 500.0, "volts": 230.0, "length_m": 20.0, **wrong}
    with pytest.raises(RefusedError) as refused:
        outages.cord_answer("mm2_1.5", **asked)  # type: ignore[arg-type]
    assert refused.value.field == field


def test_more_of_a_load_never_needs_less(tmp_path: Path) -> None:
    with build_demo(tmp_path / "more.hearthload", TODAY, local_moment(TODAY, 9.0)) as logbook:
        number = number_of(logbook, "Winter storm")
        rows = outages.plan_answer(logbook, number).rows
        before = outages.plan_answer(logbook, number).totals
        for row in rows[:3]:
            draft = PlanLoadDraft(row.appliance.id, Role.ESSENTIAL, use=Use.ASSUMED, daily_kwh=9.0)
            set_plan_load(logbook, number, replace(draft, quantity=2))
            after = outages.plan_answer(logbook, number).totals
            assert after.plan_kwh.value > before.plan_kwh.value
            assert after.running_w.value >= before.running_w.value
            before = after
