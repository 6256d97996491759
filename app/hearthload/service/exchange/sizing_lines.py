"""What to look for when buying, as lines for people."""

from __future__ import annotations

from hearthload.domain.figures import format_days, format_number, format_watts
from hearthload.outage.fuel import Running
from hearthload.outage.sizing import Sizing, StoredSize, SunSize
from hearthload.outage.sizing_generator import GeneratorSize
from hearthload.service.exchange.outage_lines import pairs
from hearthload.service.outage_words import (
    CHEMISTRY_WORDS,
    ENGINE_WORDS,
    FUEL_WORDS,
    MOST_POWER,
    amount_words,
    figure_words,
)


def sizing_lines(sizing: Sizing | None) -> list[str]:
    """Print what a plan asks of each sort of supply."""
    if sizing is None:
        return ["Nothing is kept on in this plan, so there is nothing to look for."]
    length = f" for {format_number(sizing.start_s, 2)} s" if sizing.start_s else ""
    rows = [
        ("From the battery, a day", figure_words(sizing.drawn.daily_kwh, "kWh")),
        ("From the battery, the outage", figure_words(sizing.drawn.plan_kwh)),
        *(_battery(each) for each in sizing.stored),
        (
            "Inverter, continuous",
            f"{format_watts(sizing.inverter_w.value)} and {figure_words(sizing.inverter_va)} or more",
        ),
        ("Inverter, at a start", f"{figure_words(sizing.start_va)} or more{length}"),
        (
            "When power returns",
            f"{figure_words(sizing.restart_va)}, if all that starts by itself does so together",
        ),
        *_direct(sizing),
        *([] if sizing.sun is None else _sun(sizing.sun)),
        *(row for each in sizing.generators for row in _generator(each)),
    ]
    return pairs(rows)


def _battery(found: StoredSize) -> tuple[str, str]:
    charged = f"at most {format_watts(found.charge_w.value)} to charge"
    said = f"{figure_words(found.stored_kwh)} stored or more; {charged}"
    if found.recharge_h is not None:
        said += f", full again in {amount_words(found.recharge_h.value, 'h')}"
    if found.not_known:
        said += f"; not known: ask {found.not_known}"
    if found.may_freeze:
        said += "; discharged, it freezes at the plan's temperature"
    if not found.may_charge:
        said += "; it must not be charged at the plan's temperature"
    if not found.may_discharge:
        said += "; it must not be used at the plan's temperature"
    return f"Battery, {CHEMISTRY_WORDS[found.chemistry]}", said


def _direct(sizing: Sizing) -> list[tuple[str, str]]:
    rows = []
    for each in sizing.direct:
        usual = " (suggested)" if each.battery_v == sizing.suggested_v else ""
        current, fuse = figure_words(each.current_a), figure_words(each.fuse_a)
        rows.append((f"Battery of {each.battery_v:g} V{usual}", f"{current}, fuse {fuse}"))
    return rows


def _sun(sun: SunSize) -> list[tuple[str, str]]:
    rows = [("Sun in that month", figure_words(sun.sun_hours))]
    if sun.array_w is not None:
        said = f"{format_watts(sun.array_w.value)} or more"
        if sun.recharge_days is not None:
            said += f"; the battery is full again after {format_days(sun.recharge_days.value)}"
        rows.append(("Panels, with lithium", said))
    if sun.lead_array_w is not None:
        rows.append(("Panels, with lead-acid", f"{format_watts(sun.lead_array_w.value)} or more"))
    if sun.recharging_w is not None:
        rows.append(
            ("Panels, to fill it in the days wanted", f"{format_watts(sun.recharging_w.value)} or more")
        )
    if sun.controller_a is not None:
        rows.append(("Charge controller", figure_words(sun.controller_a)))
    return rows


def _generator(found: GeneratorSize) -> list[tuple[str, str]]:
    name = f"Generator, {FUEL_WORDS[found.fuel]}, {ENGINE_WORDS[found.control]}"
    most = f"{MOST_POWER} {figure_words(found.start_va)}"
    power = f"{format_watts(found.rating_w.value)} rated, {most}, or more"
    rows = [(name, power), ("  round the clock", _fuel(found.steady))]
    if found.charging is not None:
        rows.append(("  charging a battery", _fuel(found.charging)))
    return rows


def _fuel(way: Running) -> str:
    hours = f"{amount_words(way.hours_a_day.value, 'h')} a day"
    litres = f"{amount_words(way.litres.value, 'L')} of fuel"
    return f"{hours}, {litres}" if way.possible else f"not possible: {way.why_not}"
