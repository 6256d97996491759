"""Appliances made up for the outage's tests: plain ones with round figures, and possible ones drawn."""

from __future__ import annotations

from hypothesis import strategies as st

from hearthload.domain.appliance import Cycling, Kind, Role
from hearthload.domain.plan import Use
from hearthload.outage.answers import LoadInput, LoadLine, Measured
from hearthload.outage.facts import Facts, by_key
from hearthload.outage.facts_loads import FACTS
from hearthload.outage.loads import load_line

KNOWN = by_key(FACTS)
USUAL = Facts(KNOWN)


def measured(
    daily_kwh: float,
    u_kwh: float = 0.05,
    gain: float = 0.0,
    meter: str = "red",
    *,
    day_sd: float = 0.1,
    freedom: float = 13.0,
    room_c: float | None = None,
    running_w: float | None = None,
    idle_w: float | None = 0.0,
) -> Measured:
    """Give what measuring says, with round figures."""
    return Measured(
        daily_kwh,
        u_kwh,
        gain,
        meter,
        day_sd,
        freedom,
        well_measured=True,
        room_c=room_c,
        running_w=running_w,
        idle_w=idle_w,
    )


def line_of(load: LoadInput, room_c: float | None = None, facts: Facts = USUAL) -> LoadLine:
    """Give a load's line with the trade's usual figures."""
    return load_line(load, room_c, facts)


def plain(
    name: str,
    daily_kwh: float,
    running_w: float,
    *,
    role: Role = Role.ESSENTIAL,
    kind: Kind = Kind.NOT_SURE,
    power_factor: float = 1.0,
    start_multiple: float = 1.0,
    quantity: int = 1,
    rank: int = 0,
    medical: bool = False,
    found: Measured | None = None,
) -> LoadLine:
    """Give a measured load's line with all that matters set and no uncertainty; idle watts are 0."""
    return line_of(
        LoadInput(
            name,
            kind,
            role,
            quantity=quantity,
            rank=rank,
            medical=medical,
            running_w=running_w,
            idle_w=0.0,
            power_factor=power_factor,
            start_multiple=start_multiple,
            measured=found or measured(daily_kwh, 0.0, day_sd=0.0),
        )
    )


@st.composite
def drawn_measured(draw: st.DrawFn) -> Measured:
    """Draw what measuring may say."""
    daily = draw(st.floats(0.05, 8.0))
    u = daily * draw(st.floats(0.01, 0.4))
    return Measured(
        daily,
        u,
        draw(st.floats(0.0, 0.03)),
        draw(st.sampled_from(["red", "blue"])),
        draw(st.floats(0.0, 1.5)),
        draw(st.floats(1.0, 30.0)),
        well_measured=draw(st.booleans()),
        room_c=draw(st.none() | st.floats(2.0, 32.0)),
        running_w=draw(st.none() | st.floats(5.0, 1500.0)),
        idle_w=draw(st.none() | st.floats(0.0, 5.0)),
        use_kwh=draw(st.none() | st.floats(0.05, 2.0)),
        use_u_kwh=draw(st.none() | st.floats(0.01, 0.3)),
    )


@st.composite
def drawn_loads(draw: st.DrawFn, roles: tuple[Role, ...] = tuple(Role)) -> LoadInput:
    """Draw a possible load: any kind, any use, measured or not."""
    return LoadInput(
        draw(st.sampled_from(["Barn freezer", "Lamp", "Pump", "Radio"])),
        draw(st.sampled_from(list(Kind))),
        draw(st.sampled_from(roles)),
        quantity=draw(st.integers(1, 3)),
        rank=draw(st.integers(0, 5)),
        medical=draw(st.booleans()),
        nameplate_w=draw(st.none() | st.floats(5.0, 2000.0)),
        cycling=draw(st.sampled_from(list(Cycling))),
        use=draw(st.sampled_from(list(Use))),
        hours_a_day=draw(st.none() | st.floats(0.0, 24.0)),
        uses_a_day=draw(st.none() | st.floats(0.0, 6.0)),
        daily_kwh=draw(st.none() | st.floats(0.01, 10.0)),
        season_factor=draw(st.none() | st.floats(0.3, 3.0)),
        running_w=draw(st.none() | st.floats(1.0, 2000.0)),
        power_factor=draw(st.none() | st.floats(0.3, 1.0)),
        start_multiple=draw(st.none() | st.floats(1.0, 7.0)),
        measured=draw(st.none() | drawn_measured()),
    )
