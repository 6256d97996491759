"""What goes into the outage's arithmetic and what comes out of it: frozen values that all its rooms share."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from hearthload.domain.appliance import Cycling, Kind, Role
from hearthload.domain.plan import Use
from hearthload.outage.steps import Figure, Step


@dataclass(frozen=True, slots=True)
class Measured:
    """What measuring says of one appliance.

    `daily_kwh` with its whole standard uncertainty `u_kwh` [kWh/d], of which the share `gain` (relative, 1)
    comes from the meter named `meter` and is shared by all that it measured; `day_sd` is the relative
    standard deviation of one day [1]; `freedom` degrees of freedom (measured days less one, at least 1).
    `room_c` is the room's temperature then. `running_w`, `idle_w`, `duty`, `power_factor`, `highest_w`
    where known; `use_kwh` with `use_u_kwh` energy of one use, `standby_kwh` a day beside the uses.
    """

    daily_kwh: float
    u_kwh: float
    gain: float
    meter: str
    day_sd: float
    freedom: float
    well_measured: bool
    room_c: float | None = None
    running_w: float | None = None
    idle_w: float | None = None
    duty: float | None = None
    power_factor: float | None = None
    highest_w: float | None = None
    use_kwh: float | None = None
    use_u_kwh: float | None = None
    standby_kwh: float | None = None


@dataclass(frozen=True, slots=True)
class LoadInput:
    """One appliance of a plan, before the arithmetic; her own figures as in `domain.plan.PlanLoadDraft`."""

    name: str
    kind: Kind
    role: Role
    quantity: int = 1
    rank: int = 0
    medical: bool = False
    hard_wired: bool = False
    plug: str = "unknown"
    voltage_v: float | None = None
    nameplate_w: float | None = None
    cycling: Cycling = Cycling.NOT_KNOWN
    use: Use = Use.AS_MEASURED
    hours_a_day: float | None = None
    uses_a_day: float | None = None
    daily_kwh: float | None = None
    daily_low_kwh: float | None = None
    daily_high_kwh: float | None = None
    room_c: float | None = None
    season_factor: float | None = None
    season_factor_u: float | None = None
    running_w: float | None = None
    idle_w: float | None = None
    power_factor: float | None = None
    start_multiple: float | None = None
    start_s: float | None = None
    measured: Measured | None = None


class Note(StrEnum):
    """What must be said beside a load's figures."""

    ASSUMED_ENERGY = "assumed_energy"
    ASSUMED_WATTS = "assumed_watts"
    NO_WATTS = "no_watts"
    NO_ENERGY = "no_energy"
    NOT_WELL_MEASURED = "not_well_measured"
    TOO_COLD = "too_cold"
    MEASURED_COLD = "measured_cold"
    ANOTHER_SEASON = "another_season"
    MEDICAL = "medical"
    HARD_WIRED = "hard_wired"
    DEFROST_HEATER = "defrost_heater"
    POOR_LOAD = "poor_load"


@dataclass(frozen=True, slots=True)
class LoadLine:
    """One line of the load list; all figures are for `quantity` appliances but `one_daily`.

    `daily` kWh/d with 95 % ends, None when neither measured nor assumed; `own_u_kwh` its independent and
    `gain_u_kwh` its shared standard uncertainty [kWh/d], `day_sd_kwh` the scatter from day to day [kWh].
    `running_w`, `running_va`, `idle_w`, and `start_va` (all its appliances running but one, that one
    starting) for `start_s` seconds; None where watts are not known. `each_running_va`, `each_start_va` of
    one appliance. `duty` the share of time running in the plan; `run_h` the usual length of one run [h].
    `heater_w` is what the defrost heaters of frost-free machines draw where that is more than `running_w`,
    else 0: then it is the highest running demand, in W and in VA, while starts and duty are the compressor's.
    `use_h` are the hours of the day into which its use falls, 24 where it is spread over all of it.
    `freedom` are the degrees of freedom of the independent uncertainties, None for without end (assumed
    figures); `meter` is the one whose gain `gain_u_kwh` comes from, or empty.
    """

    load: LoadInput
    one_daily: Figure | None
    daily: Figure | None
    own_u_kwh: float
    gain_u_kwh: float
    day_sd_kwh: float
    running_w: Figure | None
    running_va: Figure | None
    idle_w: float
    duty: float | None
    start_va: Figure | None
    each_running_va: float | None
    each_start_va: float | None
    start_s: float
    thermostatic: bool
    run_h: float
    assumed: bool
    notes: tuple[Note, ...]
    heater_w: float = 0.0
    use_h: float = 24.0
    freedom: float | None = None
    meter: str = ""


@dataclass(frozen=True, slots=True)
class Demand:
    """How the running demand is spread over time: `watts` [W] rising, `share` of time at each [1], sum 1.

    Its mean is the daily energy of the load list: 24·Σ watts·share / 1000 = E [kWh/d].
    """

    watts: tuple[float, ...]
    share: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Totals:
    """What the loads that are kept on take together.

    `daily` kWh/d (mean, 95 %); `plan_kwh` energy for the whole outage: value is what is expected, `high` what
    it must hold at the plan's confidence (low: the same on the other side). `running_w`, `running_va` all
    running together; `likely_w` passed in a hundredth of the time only, at least the largest load's.
    `start_va` the worst single start while all others run, for `start_s` seconds; `restart_va` when power
    returns and all that starts by itself does so together. `not_known` names loads without watts or energy;
    `assumed` those that rest on assumptions. `demand` is None when nothing is kept on.
    """

    daily: Figure
    plan_kwh: Figure
    average_w: float
    running_w: Figure
    running_va: Figure
    likely_w: Figure
    start_va: Figure
    start_s: float
    restart_va: Figure
    largest_start: str
    demand: Demand | None
    not_known: tuple[str, ...]
    assumed: tuple[str, ...]


class Outcome(StrEnum):
    """What a limit, or a whole supply, comes to."""

    CARRIES = "carries"
    FALLS_SHORT = "falls_short"
    NOT_KNOWN = "not_known"


class LimitCode(StrEnum):
    """The limits that a supply is checked against."""

    ENERGY = "energy"
    RUNNING_W = "running_w"
    RUNNING_VA = "running_va"
    START_VA = "start_va"
    BATTERY_CURRENT = "battery_current"
    OUTLET_CURRENT = "outlet_current"
    VOLTAGE = "voltage"
    FREQUENCY = "frequency"
    WAVEFORM = "waveform"
    RECHARGE = "recharge"
    FUEL = "fuel"
    MEAN_LOAD = "mean_load"
    SUN = "sun"


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit of a verdict.

    `needed` with its steps; `offered` in the same unit, None when not known; `margin` = offered/needed − 1
    [1], of days to recharge needed/offered − 1, None when either is missing. `missing` says what to look up
    on the data plate. `about` names the load concerned, or is empty. `counts`: it decides the verdict; else
    it is only told.
    """

    code: LimitCode
    needed: Figure | None
    offered: float | None
    unit: str
    margin: float | None
    outcome: Outcome
    missing: str
    about: str
    steps: tuple[Step, ...]
    counts: bool = True


@dataclass(frozen=True, slots=True)
class Verdict:
    """A supply against a plan, limit by limit; the whole is the worst of them.

    `hours` is how long it carries the loads [h] with 95 % ends, None where energy does not limit it or is
    not known; `fails_first` the limit with the least margin among those that fall short, or the energy.
    """

    supply: str
    outcome: Outcome
    limits: tuple[Limit, ...]
    hours: Figure | None
    fails_first: LimitCode | None
