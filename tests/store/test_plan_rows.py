"""Every plan, load and supply into a real file and back."""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hearthload.domain.appliance import Role
from hearthload.domain.plan import PlanDraft, PlanFigure, PlanLoadDraft, Use
from hearthload.domain.plugs import PLUGS
from hearthload.domain.supply import (
    Chemistry,
    EngineControl,
    Fuel,
    Supply,
    SupplyDraft,
    SupplyKind,
    Waveform,
)
from hearthload.store import plan_rows
from hearthload.store.database import Database
from hearthload.store.loading import Contents
from hearthload.store.plan_rows import Membership
from tests.store.files import NOW
from tests.store.good_rows import GOOD
from tests.store.test_rows import EXAMPLES, kept, lines, names, numbers, optional, same


def positive(high: float) -> st.SearchStrategy[float | None]:
    return optional(1e-6, high)


plans = st.builds(
    PlanDraft,
    name=names,
    days=numbers(0.01, 366),
    month=st.integers(1, 12),
    room_c=optional(-40, 60),
    battery_c=numbers(-40, 60),
    outdoor_c=numbers(-40, 60),
    altitude_m=numbers(-450, 6000),
    confidence=numbers(0.5, 0.999),
    waking_from_h=numbers(0, 11),
    waking_to_h=numbers(12, 24),
    latitude_deg=optional(-90, 90),
    peak_sun_hours=optional(0, 12),
    note=lines,
)


@st.composite
def loads(draw: st.DrawFn) -> PlanLoadDraft:
    """Draw loads with the figures that their use needs."""
    use = draw(st.sampled_from(Use))
    ends = draw(st.booleans())
    daily = draw(numbers(0.01, 1000)) if ends else draw(positive(1000))
    return PlanLoadDraft(
        appliance_id=1,
        role=draw(st.sampled_from(Role)),
        quantity=draw(st.integers(1, 1000)),
        use=use,
        hours_a_day=draw(numbers(0.01, 24) if use is Use.HOURS_A_DAY else positive(24)),
        uses_a_day=draw(numbers(0.01, 1000) if use is Use.USES_A_DAY else positive(1000)),
        daily_kwh=daily,
        daily_low_kwh=daily / 2 if ends and daily is not None else None,
        daily_high_kwh=daily * 2 if ends and daily is not None else None,
        room_c=draw(optional(-40, 60)),
        season_factor=draw(positive(100)),
        season_factor_u=draw(optional(0, 1)),
        running_w=draw(positive(1e5)),
        idle_w=draw(optional(0, 1e5)),
        power_factor=draw(positive(1)),
        start_multiple=draw(optional(1, 30)),
        start_s=draw(positive(60)),
        rank=draw(st.integers(0, 1000)),
    )


supplies = st.builds(
    SupplyDraft,
    name=names,
    kind=st.sampled_from(SupplyKind),
    owned=st.booleans(),
    voltage_v=optional(50, 500),
    frequency_hz=optional(40, 70),
    plug=st.sampled_from(sorted(PLUGS)),
    outlet_a=positive(200),
    outlets=st.none() | st.integers(1, 100),
    continuous_w=positive(1e5),
    continuous_va=positive(1e5),
    start_w=positive(1e5),
    start_va=positive(1e5),
    start_s=positive(3600),
    stored_wh=positive(500_000),
    chemistry=st.sampled_from(Chemistry),
    battery_v=positive(1000),
    battery_limit_a=positive(5000),
    idle_w=optional(0, 1000),
    charge_w=optional(0, 1e5),
    solar_w=optional(0, 1e5),
    waveform=st.sampled_from(Waveform),
    fuel=st.sampled_from(Fuel),
    control=st.sampled_from(EngineControl),
    tank_l=positive(2000),
    half_load_l_h=positive(100),
    full_load_l_h=positive(100),
    array_w=positive(1e5),
    tilt_deg=optional(0, 90),
    azimuth_deg=optional(0, 360),
    grid_tied=st.booleans(),
    note=lines,
)


@pytest.fixture
def planned(database: Database) -> Database:
    """Give a file with an appliance, a plan and two supplies, all number 1, the second supply number 2."""
    with database.unit("fill", NOW) as unit:
        unit.insert("appliances", GOOD["appliances"])
        unit.insert("plans", GOOD["plans"])
        unit.insert("supplies", GOOD["supplies"])
        unit.insert("supplies", {**GOOD["supplies"], "name": "Barn panels"})
    return database


def test_plans(database: Database) -> None:
    @EXAMPLES
    @given(plans)
    def comes_back(draft: PlanDraft) -> None:
        with kept(database, "plans", plan_rows.plan_row(draft)) as key:
            (plan,) = Contents(database).plans()
            assert plan.id == key
            same(plan, draft)
            assert plan_rows.plan_row(plan) == plan_rows.plan_row(draft)

    comes_back()


def test_loads(planned: Database) -> None:
    @EXAMPLES
    @given(loads())
    def comes_back(draft: PlanLoadDraft) -> None:
        row = {"plan_id": 1, **plan_rows.plan_load_row(draft)}
        with kept(planned, "plan_loads", row) as key:
            (load,) = Contents(planned).plan_loads()
            assert (load.id, load.plan_id) == (key, 1)
            same(load, draft)
            assert {"plan_id": 1, **plan_rows.plan_load_row(load)} == row

    comes_back()


def test_figures(planned: Database) -> None:
    @EXAMPLES
    @given(names, numbers(-1e9, 1e9))
    def comes_back(key: str, value: float) -> None:
        with kept(planned, "plan_figures", {"plan_id": 1, "key": key, "value": value}) as number:
            assert Contents(planned).plan_figures() == [PlanFigure(number, 1, key, value)]

    comes_back()


def test_supplies(database: Database) -> None:
    @EXAMPLES
    @given(supplies)
    def comes_back(draft: SupplyDraft) -> None:
        with kept(database, "supplies", plan_rows.supply_row(draft)) as key:
            (supply,) = Contents(database).supplies()
            assert (supply.id, supply.name, supply.kind) == (key, draft.name, draft.kind)
            same(supply.draft, draft)

    comes_back()


def test_memberships(planned: Database) -> None:
    with kept(planned, "supply_members", {"supply_id": 1, "member_id": 2}) as key:
        assert Contents(planned).memberships() == [Membership(key, 1, 2)]
    assert Contents(planned).memberships() == []


def test_members_are_in_the_order_of_their_numbers() -> None:
    both = Supply(9, SupplyDraft("Both", SupplyKind.COMBINATION))
    places = [Membership(5, 9, 1), Membership(3, 9, 4), Membership(4, 8, 2)]
    given_ = plan_rows.with_members(both, places)
    assert given_ == Supply(9, dataclasses.replace(both.draft, members=(4, 1)))
    assert plan_rows.with_members(given_, reversed(places)) is given_
    assert plan_rows.with_members(given_, []) == both


@pytest.mark.parametrize(
    ("row_of", "draft"),
    [
        (plan_rows.plan_row, PlanDraft("Storm")),
        (plan_rows.plan_load_row, PlanLoadDraft(1, Role.OFF)),
        (plan_rows.supply_row, SupplyDraft("Shed", SupplyKind.BATTERY)),
    ],
)
def test_every_field_has_a_column(row_of: Any, draft: Any) -> None:  # noqa: ANN401
    """A field that came without a column would be lost without a word."""
    fields = {field.name for field in dataclasses.fields(draft)} - {"members"}
    assert set(row_of(draft)) == fields
