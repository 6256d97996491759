"""What the demo's meters show against what its appliances truly drew."""

from __future__ import annotations

import math
import time
from collections import defaultdict
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from itertools import pairwise

import pytest

from hearthload.domain.meter import PowerLoss
from hearthload.service.demo.household import APPLIANCES, METERS
from hearthload.service.demo.meter_face import Counters, MeterFace, truncated
from hearthload.service.demo.mornings import Act, Deed, Simulation, simulate
from hearthload.service.demo.stays import PLANNED, SEED, STAYS
from hearthload.service.demo.trace import JOULES_PER_KWH, Cut, Pulse, Trace, trace_of_pulses
from hearthload.service.demo.world import local_moment

NOON = 12.0
TODAY = date(2025, 11, 26)
SEEDS = (SEED, 1, 2, 3, 4, 5)


def lived(seed: int, today: date = TODAY) -> Simulation:
    return simulate(today, local_moment(today, NOON), seed)


def drawn_kwh(trace: Trace, from_s: float, to_s: float) -> float:
    """Add up power over time step by step, the long way round."""
    steps = zip(pairwise(trace.at_s), trace.power_w, strict=True)
    return (
        math.fsum(watts * max(min(end, to_s) - max(start, from_s), 0.0) for (start, end), watts in steps)
        / JOULES_PER_KWH
    )


def runs_of(simulation: Simulation) -> list[list[Deed]]:
    runs: dict[tuple[str, float], list[Deed]] = defaultdict(list)
    for deed in simulation.deeds:
        runs[deed.stay.appliance, deed.counters.since_s].append(deed)
    return list(runs.values())


@pytest.mark.parametrize("seed", SEEDS)
def test_displayed_energy_is_the_truth_within_one_step(seed: int) -> None:
    simulation = lived(seed)
    for deed in simulation.deeds:
        face = simulation.faces[deed.stay.meter]
        at_s = deed.draft.taken_at.timestamp()
        drawn = drawn_kwh(simulation.traces[deed.stay.appliance], deed.counters.since_s, at_s)
        truth = deed.counters.energy_kwh + (1.0 + face.gain) * drawn
        step = face.draft.energy_step_kwh
        assert -1e-6 <= truth - deed.draft.energy_kwh < step + 1e-6
        steps = deed.draft.energy_kwh / step
        assert steps == pytest.approx(round(steps), abs=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_displayed_hours_are_the_hours_with_mains_within_one_step(seed: int) -> None:
    simulation = lived(seed)
    cut = simulation.world.cuts[0]
    for deed in simulation.deeds:
        if deed.draft.elapsed_h is None:
            continue
        from_s, to_s = deed.counters.since_s, deed.draft.taken_at.timestamp()
        dark_s = cut.to_s - cut.from_s if from_s < cut.from_s < to_s else 0.0
        truth = deed.counters.elapsed_h + (to_s - from_s - dark_s) / 3600.0
        step = simulation.faces[deed.stay.meter].draft.elapsed_step_h
        assert -1e-6 <= truth - deed.draft.elapsed_h < step + 1e-6


@pytest.mark.parametrize("seed", SEEDS)
def test_counters_never_go_back_within_a_run(seed: int) -> None:
    for run in runs_of(lived(seed)):
        assert run[0].act in {Act.START, Act.RESET}
        for earlier, later in pairwise(run):
            assert later.act in {Act.READ, Act.FINISH}
            assert later.draft.taken_at > earlier.draft.taken_at
            assert later.draft.energy_kwh >= earlier.draft.energy_kwh


@pytest.mark.parametrize("seed", SEEDS)
def test_each_meter_is_on_one_appliance_at_a_time(seed: int) -> None:
    for meter in METERS:
        holder = None
        for deed in (deed for deed in lived(seed).deeds if deed.stay.meter == meter.name):
            if deed.act is Act.START:
                assert holder is None
                holder = deed.stay.appliance
            assert holder == deed.stay.appliance
            if deed.act is Act.FINISH:
                holder = None


def test_the_story_has_all_that_it_promises() -> None:
    deeds = lived(SEED).deeds
    days = {deed.draft.taken_at.date() for deed in deeds}
    assert min(days) == TODAY - timedelta(days=35)
    assert max(days) == TODAY
    assert 24 <= len(days) <= 34, "some mornings are skipped"
    resets = [deed for deed in deeds if deed.act is Act.RESET]
    assert [deed.exact_zero for deed in resets] == [True, False]
    drafts = [deed.draft for deed in deeds]
    assert all(
        any(getattr(draft, name) is not None for draft in drafts)
        for name in (
            "power_w",
            "uses",
            "room_temperature_c",
            "highest_power_w",
            "power_factor",
            "voltage_v",
            "state",
        )
    )
    assert any(draft.elapsed_h is None for draft in drafts)
    assert any(draft.note for draft in drafts)


def test_the_two_meters_differ_in_steps_and_in_what_a_power_cut_does() -> None:
    kept, began = (meter for meter in METERS)
    assert kept.energy_step_kwh != began.energy_step_kwh
    assert kept.elapsed_step_h != began.elapsed_step_h
    trace = trace_of_pulses([Pulse(0.0, 7200.0, 1000.0)], (), (0.0, 10_800.0), [Cut(3600.0, 5400.0)])
    cuts, start = [Cut(3600.0, 5400.0)], Counters(0.0, 5.0, 10.0)
    face = MeterFace(kept, 0.0)
    # An hour on, half an hour dark, half an hour on: 1.5 kWh and 1.5 h on top of what was there.
    assert face.after_cuts(start, cuts, 7200.0) == start
    assert face.shown(trace, start, cuts, 7200.0) == (6.5, 11.5)
    face = MeterFace(began, 0.0)
    assert face.draft.power_loss is PowerLoss.RESETS
    assert face.after_cuts(start, cuts, 3000.0) == start
    assert face.after_cuts(start, cuts, 7200.0) == Counters(5400.0)
    assert face.shown(trace, Counters(5400.0), cuts, 7200.0) == (0.5, 0.5)


def test_steps_are_cut_off_and_spelt_as_typed() -> None:
    assert truncated(0.29999, 0.01) == 0.29
    assert truncated(0.3, 0.1) == 0.3
    assert truncated(37 + 20.9 / 60, 1 / 60) == 37 + 20 / 60


def test_same_day_and_seed_give_the_same_demo_and_other_seeds_another() -> None:
    assert lived(SEED) == lived(SEED)
    assert lived(SEED).deeds != lived(1).deeds


def test_nothing_is_read_after_the_present_moment() -> None:
    early = local_moment(TODAY, 3.0)
    deeds = simulate(TODAY, early, SEED).deeds
    assert max(deed.draft.taken_at for deed in deeds) < early
    assert {deed.stay.appliance for deed in lived(SEED).deeds if deed.draft.taken_at.date() == TODAY} == {
        stay.appliance for stay in STAYS if stay.read_today
    }


def test_names_in_the_story_are_names_of_the_household() -> None:
    names = {appliance.name for appliance in APPLIANCES}
    meters = {meter.name for meter in METERS}
    assert {stay.appliance for stay in STAYS} | {name for name, _ in PLANNED} <= names
    assert {stay.meter for stay in STAYS} | {name for _, name in PLANNED if name is not None} <= meters
    assert not {appliance.name for appliance in APPLIANCES if appliance.hard_wired} & {
        stay.appliance for stay in STAYS
    }


@pytest.fixture
def central_europe(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    if not hasattr(time, "tzset"):
        pytest.skip("this system cannot change its time zone while running")
    monkeypatch.setenv("TZ", "CET-1CEST,M3.5.0,M10.5.0/3")
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()


@pytest.mark.usefixtures("central_europe")
@pytest.mark.parametrize("change", [date(2025, 3, 30), date(2025, 10, 26)])
@pytest.mark.parametrize("days_after", [0, 1, 12, 20, 34])
def test_mornings_stay_mornings_across_a_clock_change(change: date, days_after: int) -> None:
    today = change + timedelta(days=days_after)
    simulation = lived(SEED, today)
    offsets = {deed.draft.taken_at.utcoffset() for deed in simulation.deeds}
    if 0 < days_after < 34:
        assert offsets == {timedelta(hours=1), timedelta(hours=2)}
    for deed in simulation.deeds:
        taken_at = deed.draft.taken_at
        assert 6 <= taken_at.hour < 10
        assert taken_at == datetime.fromtimestamp(taken_at.timestamp()).astimezone()
    for run in runs_of(simulation):
        first, last = run[0].draft, run[-1].draft
        clock_h = (last.taken_at.timestamp() - first.taken_at.timestamp()) / 3600.0
        if first.elapsed_h is not None and last.elapsed_h is not None:
            assert last.elapsed_h - first.elapsed_h <= clock_h + 0.1
