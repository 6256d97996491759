"""The tables as they are now, typed for queries; the steps make them, a test compares both."""

from __future__ import annotations

from sqlalchemy import REAL, Column, ForeignKey, Integer, MetaData, Table, Text

metadata = MetaData()


def _text(name: str, *, optional: bool = False) -> Column[str]:
    return Column(name, Text, nullable=optional)


def _real(name: str, *, optional: bool = True) -> Column[float]:
    return Column(name, REAL, nullable=optional)


def _whole(name: str, *, optional: bool = False) -> Column[int]:
    return Column(name, Integer, nullable=optional)


def _key() -> Column[int]:
    return Column("id", Integer, primary_key=True)


def _points_to(name: str, table: str, *, optional: bool = False) -> Column[int]:
    return Column(name, Integer, ForeignKey(f"{table}.id"), nullable=optional)


household = Table(
    "household",
    metadata,
    _key(),
    _text("name"),
    _real("mains_voltage_v", optional=False),
    _real("mains_frequency_hz", optional=False),
    _text("default_plug"),
    _real("price_per_kwh"),
    _text("currency"),
    _text("note"),
)

appliances = Table(
    "appliances",
    metadata,
    _key(),
    _text("name"),
    _text("kind"),
    _text("room"),
    _text("role"),
    _text("plug"),
    _real("voltage_v"),
    _real("nameplate_w"),
    _real("running_w"),
    _real("target"),
    _whole("hard_wired"),
    _whole("medical"),
    _text("note"),
    _text("cycling"),
)

meters = Table(
    "meters",
    metadata,
    _key(),
    _text("name"),
    _text("plug"),
    _real("voltage_v"),
    _real("current_a"),
    _real("energy_step_kwh", optional=False),
    _real("elapsed_step_h", optional=False),
    _real("gain_percent"),
    _text("power_loss"),
    _text("rounding"),
    _text("note"),
)

measurements = Table(
    "measurements",
    metadata,
    _key(),
    _points_to("appliance_id", "appliances"),
    _points_to("meter_id", "meters", optional=True),
    _text("state"),
    _text("started_at", optional=True),
    _whole("started_offset_min", optional=True),
    _text("finished_at", optional=True),
    _whole("finished_offset_min", optional=True),
    _real("room_temperature_c"),
    _text("note"),
    _whole("joined"),
)

runs = Table(
    "runs",
    metadata,
    _key(),
    _points_to("measurement_id", "measurements"),
    _whole("number"),
    _points_to("meter_id", "meters"),
    _text("cause"),
    _text("began_at"),
    _whole("began_offset_min"),
    _whole("exact_start"),
)

readings = Table(
    "readings",
    metadata,
    _key(),
    _points_to("run_id", "runs"),
    _text("taken_at"),
    _whole("taken_offset_min"),
    _real("energy_kwh", optional=False),
    _real("elapsed_h"),
    _real("power_w"),
    _real("voltage_v"),
    _real("current_a"),
    _real("power_factor"),
    _real("highest_power_w"),
    _real("frequency_hz"),
    _text("state", optional=True),
    _whole("uses", optional=True),
    _real("room_temperature_c"),
    _text("note"),
)

answers = Table(
    "answers",
    metadata,
    _key(),
    _points_to("measurement_id", "measurements"),
    _points_to("reading_id", "readings", optional=True),
    _text("code"),
    _text("about"),
    _text("answered_at"),
    _whole("answered_offset_min"),
)

plans = Table(
    "plans",
    metadata,
    _key(),
    _text("name"),
    _real("days", optional=False),
    _whole("month"),
    _real("room_c"),
    _real("battery_c", optional=False),
    _real("outdoor_c", optional=False),
    _real("altitude_m", optional=False),
    _real("confidence", optional=False),
    _real("waking_from_h", optional=False),
    _real("waking_to_h", optional=False),
    _real("latitude_deg"),
    _real("peak_sun_hours"),
    _text("note"),
)

plan_loads = Table(
    "plan_loads",
    metadata,
    _key(),
    _points_to("plan_id", "plans"),
    _points_to("appliance_id", "appliances"),
    _text("role"),
    _whole("quantity"),
    _text("use"),
    _real("hours_a_day"),
    _real("uses_a_day"),
    _real("daily_kwh"),
    _real("daily_low_kwh"),
    _real("daily_high_kwh"),
    _real("room_c"),
    _real("season_factor"),
    _real("season_factor_u"),
    _real("running_w"),
    _real("idle_w"),
    _real("power_factor"),
    _real("start_multiple"),
    _real("start_s"),
    _whole("rank"),
)

plan_figures = Table(
    "plan_figures",
    metadata,
    _key(),
    _points_to("plan_id", "plans"),
    _text("key"),
    _real("value", optional=False),
)

supplies = Table(
    "supplies",
    metadata,
    _key(),
    _text("name"),
    _text("kind"),
    _whole("owned"),
    _real("voltage_v"),
    _real("frequency_hz"),
    _text("plug"),
    _real("outlet_a"),
    _whole("outlets", optional=True),
    _real("continuous_w"),
    _real("continuous_va"),
    _real("start_w"),
    _real("start_va"),
    _real("start_s"),
    _real("stored_wh"),
    _text("chemistry"),
    _real("battery_v"),
    _real("battery_limit_a"),
    _real("idle_w"),
    _real("charge_w"),
    _real("solar_w"),
    _text("waveform"),
    _text("fuel"),
    _text("control"),
    _real("tank_l"),
    _real("half_load_l_h"),
    _real("full_load_l_h"),
    _real("array_w"),
    _real("tilt_deg"),
    _real("azimuth_deg"),
    _whole("grid_tied"),
    _text("note"),
)

supply_members = Table(
    "supply_members",
    metadata,
    _key(),
    _points_to("supply_id", "supplies"),
    _points_to("member_id", "supplies"),
)

journal = Table(
    "journal",
    metadata,
    _key(),
    _text("edit"),
    _text("edited_at"),
    _whole("edited_offset_min"),
    _text("table_name"),
    _whole("row_key"),
    _text("before", optional=True),
    _text("after", optional=True),
)

KEPT = (
    household,
    appliances,
    meters,
    measurements,
    runs,
    readings,
    answers,
    plans,
    plan_loads,
    plan_figures,
    supplies,
    supply_members,
)
"""The tables whose rows have images, parents before children; the journal itself has none."""
