"""Figures of the trade for sun, generators and cords, with range, source and what may be typed."""

from __future__ import annotations

from hearthload.outage.fact_rows import in_room
from hearthload.outage.facts import Fact

_PRACTICE = "common practice"
_NREL = "NREL/TP-6A20-62641, default losses"
_WILLANS = "straight fuel line; typical small sets"
_SOLD = "usual offer of the trade"
_CLOUD = "chosen to meet the usual worst-month sun hours by latitude"

# One fact in two lines, like the rows of a printed table.
# fmt: off
SUN: tuple[Fact, ...] = in_room("sun", "sun", (
    ("soiling", "loss by dirt on the panels", 0.02, 0.01, 0.06, "", _NREL, 0.0, 0.9, False),
    ("shading", "loss by shade", 0.03, 0.0, 0.20, "", _NREL, 0.0, 0.95, False),
    ("snow", "loss by snow on the panels", 0.0, 0.0, 0.50, "", _NREL, 0.0, 0.99, False),
    ("mismatch", "loss by unequal panels", 0.02, 0.0, 0.03, "", _NREL, 0.0, 0.5, False),
    ("wiring", "loss in the panels' wiring", 0.02, 0.01, 0.05, "", _NREL, 0.0, 0.5, False),
    ("connections", "loss in connectors", 0.005, 0.0, 0.01, "", _NREL, 0.0, 0.5, False),
    ("first_light", "loss of new panels in their first light",
     0.015, 0.0, 0.03, "", _NREL, 0.0, 0.5, False),
    ("nameplate", "loss by panels short of their nameplate",
     0.01, 0.0, 0.05, "", _NREL, 0.0, 0.5, False),
    ("ageing", "loss by the panels' age", 0.0, 0.0, 0.20, "", _NREL, 0.0, 0.9, False),
    ("availability", "loss by times out of order", 0.03, 0.0, 0.05, "", _NREL, 0.0, 0.9, False),
    ("per_kelvin", "loss of panel power for each degree of cell above 25 °C",
     0.004, 0.003, 0.005, "/K", _PRACTICE, 0.0, 0.02, True),
    ("cell_above_air_k", "cells in full sun above the air",
     27.0, 25.0, 30.0, "K", _PRACTICE, 0.0, 60.0, True),
    ("controller", "efficiency of the charge controller",
     0.95, 0.80, 0.98, "", "common practice; 0.80 without power-point tracking", 0.3, 1.0, True),
    ("array_to_load", "array's yield over the load",
     1.3, 1.1, 1.4, "×", "array-to-load ratio of IEEE 1562, recalled", 1.0, 5.0, True),
    ("recharge_days", "days in which the battery is to be full again",
     5.0, 3.0, 7.0, "d", _PRACTICE, 0.5, 60.0, True),
    ("cloudy_share", "sun of a cloudy day over a mean day", 0.15, 0.10, 0.25, "", _PRACTICE, 0.0, 1.0, True),
    ("cloudy_days", "cloudy days in a row", 3.0, 2.0, 5.0, "d", _PRACTICE, 0.0, 30.0, True),
    ("controller_factor", "controller current over array watts by battery volts",
     1.25, 1.25, 1.56, "×", "after NEC 690.8", 1.0, 3.0, True),
    ("turbidity", "Linke turbidity of a clear sky", 3.0, 2.0, 5.0, "", "clear-sky practice", 1.0, 10.0, True),
    ("tilt_above_latitude", "tilt of a fixed array above the latitude",
     12.0, 10.0, 15.0, "°", "IEEE 1562 Annex B, number recalled", -30.0, 45.0, True),
    ("cloud_base", "mean day over clear day with the noon sun on the horizon",
     0.27, 0.15, 0.40, "", _CLOUD, 0.01, 1.0, True),
    ("cloud_slope", "gain of that share up to a noon sun overhead",
     0.52, 0.3, 0.7, "", _CLOUD, 0.0, 1.0, True),
    ("estimate_spread", "how far estimated sun hours may be off",
     0.5, 0.33, 0.6, "", _CLOUD, 0.0, 0.95, True),
))

GENERATOR: tuple[Fact, ...] = in_room("generator", "generator", (
    ("margin", "generator rating over highest running power",
     1.25, 1.0, 1.5, "×", "after the 125 % rule of NEC 210.20(A)", 1.0, 3.0, True),
    ("smallest_petrol_inverter_w", "smallest set sold, petrol of inverter type",
     1000.0, 700.0, 2000.0, "W", _SOLD, 1.0, 20000.0, True),
    ("smallest_petrol_w", "smallest set sold, petrol of fixed speed",
     2000.0, 1000.0, 3000.0, "W", _SOLD, 1.0, 20000.0, True),
    ("smallest_diesel_w", "smallest set sold, diesel",
     4000.0, 2000.0, 6000.0, "W", _SOLD, 1.0, 50000.0, True),
    ("smallest_propane_w", "smallest set sold, propane",
     2000.0, 1000.0, 4000.0, "W", _SOLD, 1.0, 20000.0, True),
    ("f0_petrol", "petrol set of fixed speed: litres an hour unloaded, for each kW of rating",
     0.20, 0.15, 0.25, "L/h/kW", _WILLANS, 0.0, 2.0, True),
    ("f1_petrol", "petrol set of fixed speed: further litres for each kWh",
     0.40, 0.35, 0.50, "L/kWh", _WILLANS, 0.01, 3.0, True),
    ("f0_petrol_inverter", "petrol set of inverter type: litres an hour unloaded, for each kW",
     0.10, 0.08, 0.15, "L/h/kW", _WILLANS, 0.0, 2.0, True),
    ("f1_petrol_inverter", "petrol set of inverter type: further litres for each kWh",
     0.45, 0.40, 0.55, "L/kWh", _WILLANS, 0.01, 3.0, True),
    ("f0_diesel", "diesel set: litres an hour unloaded, for each kW of rating",
     0.10, 0.05, 0.12, "L/h/kW", _WILLANS, 0.0, 2.0, True),
    ("f1_diesel", "diesel set: further litres for each kWh",
     0.30, 0.25, 0.35, "L/kWh", _WILLANS, 0.01, 3.0, True),
    ("propane_litres", "litres of propane for one litre of petrol",
     1.38, 1.33, 1.45, "×", "ratio of lower heating values, US alternative-fuels tables", 1.0, 3.0, False),
    ("propane_power", "power on propane over the stated rating (1 where it is stated for propane)",
     0.90, 0.85, 0.95, "", _PRACTICE, 0.3, 1.0, True),
    ("altitude_from_m", "altitude from which an engine gives less",
     152.0, 0.0, 1000.0, "m", "agricultural engineering text", 0.0, 3000.0, False),
    ("altitude_per_305_m", "loss of power for each 305 m above that",
     0.03, 0.02, 0.035, "", "agricultural engineering text", 0.0, 0.1, False),
    ("heat_from_c", "air temperature from which an engine gives less",
     25.0, 15.0, 25.0, "°C", "reference of ISO 3046-1, recalled", 0.0, 50.0, True),
    ("heat_per_k", "loss of power for each degree above that",
     0.01 / 5.6, 0.0017, 0.0036, "/K", _PRACTICE, 0.0, 0.05, True),
    ("load_low", "least mean load over rating", 0.50, 0.30, 0.50, "", _PRACTICE, 0.0, 1.0, True),
    ("load_high", "highest mean load over rating", 0.80, 0.70, 0.80, "", _PRACTICE, 0.1, 1.0, True),
    ("diesel_load_low", "least mean load of a diesel over rating",
     0.30, 0.25, 0.40, "", _PRACTICE, 0.0, 1.0, True),
    ("most_hours", "most hours a day of charging by a generator",
     12.0, 4.0, 24.0, "h", "neighbours and refuelling; a choice", 0.5, 24.0, True),
    ("runs_a_day", "charging runs a day",
     2.0, 1.0, 6.0, "/d", "morning and evening; a choice", 1.0, 24.0, True),
    ("container_l", "one container of petrol or diesel",
     20.0, 5.0, 20.0, "L", "common can; local rules cap it", 1.0, 1000.0, True),
    ("cylinder_l", "one cylinder of propane",
     17.8, 10.0, 90.0, "L", "9.07 kg (20 lb) of liquid at 0.51 kg/L", 1.0, 5000.0, False),
    ("first_oil_h", "hours to the first oil change",
     20.0, 5.0, 30.0, "h", "usual engine handbooks", 1.0, 500.0, False),
    ("oil_h", "hours between oil changes",
     75.0, 50.0, 100.0, "h", "usual engine handbooks", 5.0, 1000.0, False),
))

CORDS: tuple[Fact, ...] = in_room("cords", "cord", (
    ("running_drop", "most voltage drop while running",
     0.03, 0.03, 0.05, "", "NEC 210.19(A), informational note", 0.001, 0.5, False),
    ("starting_drop", "most voltage drop while a motor starts",
     0.15, 0.10, 0.15, "", "after NEC 695.7", 0.005, 0.5, False),
    ("copper_c", "temperature of the copper in a loaded cord",
     60.0, 20.0, 75.0, "°C", _PRACTICE, -40.0, 105.0, True),
))
# fmt: on
