"""What the demo's appliances are made of: rooms, and the figures of each load's physics.

The figures are invented; each load's lie in the plausible band of its row (E...) in the project's table
of appliance figures, which is named beside it.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from typing import Protocol

from hearthload.service.demo.cold import ColdBox, Defrost
from hearthload.service.demo.habits import AlwaysOn, Desk, Kettle, KettleHour
from hearthload.service.demo.trace import Trace
from hearthload.service.demo.weather_loads import Boiler, CellarPump, Dehumidifier
from hearthload.service.demo.world import Room, World

LARDER = Room(base_c=15.5, follows=0.35, swing_c=0.8)
BARN = Room(base_c=9.0, follows=0.75, swing_c=1.2)
LANDING = Room(base_c=17.5, follows=0.15, swing_c=0.9)
CELLAR = Room(base_c=12.0, follows=0.25, swing_c=0.2)


class Load(Protocol):
    """Anything that can say what it draws over a stretch of days."""

    def trace(self, world: World, rng: random.Random) -> Trace:
        """Simulate the load over the world's days."""
        ...


LOADS: Mapping[str, Load] = {
    # E3, larder fridge: 50 to 100 W, 20 to 40 %, 0.25 to 0.8 kWh a day; B4.4: 3 to 6 % a kelvin.
    "Larder refrigerator": ColdBox(
        run_w=68.0, idle_w=0.6, cop=1.6, loss_w_per_k=1.35, steady_heat_w=5.0, capacity_j_per_k=45_000.0,
        set_c=4.5, band_k=3.0, doors_per_day=18.0, door_j=16_000.0, defrost=None, room=LARDER,
    ),
    # E5, chest freezer: 70 to 150 W, 25 to 50 %, 0.5 to 1.9 kWh a day.
    "Barn freezer": ColdBox(
        run_w=92.0, idle_w=0.0, cop=1.15, loss_w_per_k=1.2, steady_heat_w=3.0, capacity_j_per_k=110_000.0,
        set_c=-19.0, band_k=1.6, doors_per_day=1.5, door_j=30_000.0, defrost=None, room=BARN,
    ),
    # E7, small medicine fridge: 40 to 100 W, 20 to 50 %, 0.3 to 1.2 kWh a day; B4.6: a defrost each 6 to
    # 24 h of compressor run, here with a small heater.
    "Medicine refrigerator": ColdBox(
        run_w=55.0, idle_w=2.2, cop=1.3, loss_w_per_k=1.05, steady_heat_w=2.5, capacity_j_per_k=30_000.0,
        set_c=5.0, band_k=1.6, doors_per_day=5.0, door_j=9_000.0,
        defrost=Defrost(heater_w=110.0, minutes=14.0, every_run_h=8.0, into_box=0.5), room=LANDING,
    ),
    # E14, gas boiler and circulator: 40 to 130 W, 20 to 80 %, 0.2 to 2.5 kWh a day.
    "Boiler with circulator": Boiler(
        burner_w=58.0, circulator_w=46.0, standby_w=4.5, overrun_s=240.0, hot_water_min=24.0,
        loss_w_per_k=190.0, set_c=18.5, free_w=600.0, output_w=11_000.0, from_h=6.0, to_h=22.0,
    ),
    # E41, router: 5 to 20 W, 0.1 to 0.5 kWh a day.
    "Router": AlwaysOn(base_w=8.6, drift=0.008, evening_w=0.7),
    # E19, sump pump of a third of a horsepower: 500 to 800 W (ours is a little smaller), 0 to 10 kWh a day.
    "Cellar pump": CellarPump(
        run_w=480.0, stroke_l=55.0, flow_l_per_min=40.0, seep_l_per_h=1.2, catch_l_per_mm=190.0,
    ),
    # E9, dehumidifier: 200 to 700 W, 30 to 100 %, 2 to 16 kWh a day.
    "Dehumidifier": Dehumidifier(run_w=262.0, standby_w=1.8, dry_share=0.32, per_mm=0.45),
    # E31, kettle: 1800 to 3000 W, 0.10 to 0.13 kWh a litre.
    "Kettle": Kettle(
        power_w=2180.0, efficiency=0.88, tap_c=11.0, least_l=0.4, most_l=1.2,
        hours=(
            KettleHour(6.8, 9.2, 1.7, 2.1), KettleHour(10.5, 13.5, 1.0, 1.6),
            KettleHour(15.5, 17.2, 1.0, 1.2), KettleHour(19.0, 21.8, 1.4, 1.5),
        ),
    ),
    # E43 and the screen of E42: a laptop 15 to 65 W, with its screen 0.05 to 2 kWh a day.
    "Work laptop and screen": Desk(standby_w=1.6, work_w=56.0, lunch_w=13.0, weekday=0.85, weekend=0.3),
}  # fmt: skip
