"""How the demand of independent loads is spread over time, convolved on a grid of watts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from hearthload.domain.appliance import UsePattern
from hearthload.domain.units import HOURS_PER_DAY, WATTS_PER_KILOWATT
from hearthload.outage.answers import Demand, LoadLine
from hearthload.outage.facts import Facts

_CELLS = 4096
"""Cells of the grid from all idle to all running: each load is off by less than one cell."""

_DUST = 1e-15
"""Shares of time below this are left out; a thousand of them are less than rounding."""

_BY_DAY = frozenset({UsePattern.BY_THE_USE, UsePattern.SCHEDULED})

Floats = NDArray[np.float64]


class State(NamedTuple):
    """Watts above idle [W] and the share of time at them [1]."""

    watts: float
    share: float


def states_of(line: LoadLine, facts: Facts) -> tuple[float, tuple[State, ...]]:
    """Give one appliance's base watts and its states above them; base + Σ watts·share = 1000·e/24 exactly.

    Two states, idle and running with D = (mean − idle)/(on − idle); of a frost-free machine the heater is
    a third one, with its share of the energy. Where mean watts lie outside idle to running, and where
    running watts are not known, it draws the mean all the time: energy is what must be right.
    """
    if line.one_daily is None or line.load.quantity == 0:
        return 0.0, ()
    q = line.load.quantity
    mean = line.one_daily.value * WATTS_PER_KILOWATT / HOURS_PER_DAY
    idle = line.idle_w / q
    over = mean - idle
    above = 0.0 if line.running_w is None else line.running_w.value / q - idle
    if over <= 0.0 or above <= over:
        return mean, ()
    if line.heater_w <= 0.0:
        return idle, (State(above, over / above),)
    return idle, _with_heater(over, above, line.heater_w / q - idle, facts["defrost_share"])


def _with_heater(over_w: float, compressor_w: float, heater_w: float, part: float) -> tuple[State, ...]:
    """Share energy out between compressor and heater, which never run together; watts above idle."""
    hot = part * over_w / heater_w
    share = (1.0 - part) * over_w / compressor_w
    if share + hot > 1.0:
        share = 1.0 - hot
        compressor_w = (1.0 - part) * over_w / share
    return State(compressor_w, share), State(heater_w, hot)


def demand_of(lines: Sequence[LoadLine], facts: Facts, waking: float = 1.0) -> Demand | None:
    """Give the distribution of running demand over time, None without loads of known energy.

    Appliances run independently, each of q identical ones too. What is used by the use or by schedule runs
    while somebody is up, a share `waking` of the day, and at night only as far as the day does not hold it:
    the distribution is that of the day and that of the night by their shares. Watts between two points of
    the grid are shared out to both so that the mean stays exact: 24·Σ watts·share/1000 = E [kWh/d]. A share
    of time is thereby shifted by less than one cell for each load, 1/4096 of the way from all idle to all
    running.
    """
    base = 0.0
    steady, waking_only = list[tuple[State, ...]](), list[tuple[State, ...]]()
    for line in lines:
        one_base, states = states_of(line, facts)
        base += line.load.quantity * one_base
        if states:
            by_day = waking < 1.0 and line.load.kind.use_pattern in _BY_DAY
            (waking_only if by_day else steady).extend([states] * line.load.quantity)
    if not any(line.one_daily is not None for line in lines):
        return None
    span = sum(max(state.watts for state in states) for states in (*steady, *waking_only))
    if span <= 0.0:
        return Demand((base,), (1.0,))
    cell = span / _CELLS
    shares = _convolved(np.ones(1), steady, cell)
    if waking_only:
        parts = [_day_and_night(states, waking) for states in waking_only]
        day = _convolved(shares, [each[0] for each in parts], cell)
        night = _convolved(shares, [each[1] for each in parts], cell)
        shares = waking * day + (1.0 - waking) * night
    kept = shares > _DUST
    watts = base + cell * np.flatnonzero(kept)
    return Demand(tuple(watts.tolist()), tuple((shares[kept] / shares[kept].sum()).tolist()))


def _convolved(shares: Floats, loads: Sequence[tuple[State, ...]], cell: float) -> Floats:
    """Add independent loads to a distribution."""
    for states in loads:
        shares = np.convolve(shares, _on_grid(states, cell))
    return shares


def _day_and_night(states: tuple[State, ...], waking: float) -> tuple[tuple[State, ...], tuple[State, ...]]:
    """Share a load's running time out to day and night: w·day + (1 − w)·night is the share it runs in all."""
    running = sum(state.share for state in states)
    by_day = min(running / waking, 1.0) / running
    by_night = max(1.0 - waking * by_day, 0.0) / (1.0 - waking)
    return (
        tuple(State(state.watts, state.share * by_day) for state in states),
        tuple(State(state.watts, state.share * by_night) for state in states),
    )


def _on_grid(states: tuple[State, ...], cell: float) -> Floats:
    """Lay one load's states on the grid, each shared between its two neighbours."""
    highest = max(state.watts for state in states)
    grid: Floats = np.zeros(int(highest / cell) + 2)
    grid[0] = 1.0 - sum(state.share for state in states)
    for watts, share in states:
        place = int(watts / cell)
        beyond = watts / cell - place
        grid[place] += share * (1.0 - beyond)
        grid[place + 1] += share * beyond
    return grid


def quantile_w(demand: Demand, share: float) -> float:
    """Give the least watts [W] that the demand does not exceed for this share of the time [1]."""
    reached = np.cumsum(demand.share)
    place = int(np.searchsorted(reached, share - 1e-9))
    return demand.watts[min(place, len(demand.watts) - 1)]
