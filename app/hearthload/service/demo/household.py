"""The demo household, all invented: a hillside cottage with winter storms, its appliances and two meters."""

from __future__ import annotations

from hearthload.domain.appliance import ApplianceDraft, Kind, Role
from hearthload.domain.household import Household
from hearthload.domain.meter import DisplayRounding, MeterDraft, PowerLoss

HOUSEHOLD = Household(
    name="Hillside cottage (demo)",
    mains_voltage_v=230.0,
    mains_frequency_hz=50.0,
    default_plug="cee_7",
    price_per_kwh=0.29,
    currency="EUR",
    note="An invented household: try anything, nothing here is precious.",
)

METERS = (
    MeterDraft(
        "White meter", "cee_7", 230.0, 16.0, 0.01, 1 / 60, 1.5, PowerLoss.KEEPS, DisplayRounding.TRUNCATES,
        "Keeps its counters when the power goes; its clock stands still meanwhile.",
    ),
    MeterDraft(
        "Old meter", "cee_7", 230.0, 16.0, 0.1, 0.1, None, PowerLoss.RESETS, DisplayRounding.UNKNOWN,
        "Begins again at nought after a power cut.",
    ),
)  # fmt: skip

UNSTATED_GAIN = 0.013
"""Half-width of the error drawn for a meter without stated accuracy: 0.75 % standard, √3 times as wide."""

APPLIANCES = (
    ApplianceDraft("Larder refrigerator", Kind.REFRIGERATOR, "Larder", Role.ESSENTIAL, "cee_7", 230.0, 90.0),
    ApplianceDraft("Barn freezer", Kind.FREEZER, "Barn", Role.ESSENTIAL, "cee_7", 230.0, 160.0),
    ApplianceDraft(
        "Medicine refrigerator", Kind.REFRIGERATOR, "Landing", Role.ESSENTIAL, "cee_7", 230.0, 140.0,
        medical=True, note="Keep between 2 and 8 °C; the pharmacist's leaflet hangs on the door.",
    ),
    ApplianceDraft(
        "Boiler with circulator", Kind.CLIMATE, "Scullery", Role.ESSENTIAL, "cee_7", 230.0, 130.0,
        note="Has a plug of its own behind the panel.",
    ),
    ApplianceDraft("Router", Kind.ALWAYS_ON, "Hall", Role.ESSENTIAL, "cee_7_16", 230.0, 18.0),
    ApplianceDraft("Cellar pump", Kind.PUMP, "Cellar", Role.ESSENTIAL, "cee_7", 230.0, 550.0, 480.0),
    ApplianceDraft("Dehumidifier", Kind.CLIMATE, "Cellar", Role.WANTED, "cee_7", 230.0, 320.0),
    ApplianceDraft("Dishwasher", Kind.BY_THE_LOAD, "Kitchen", Role.OFF, "cee_7", 230.0, 2000.0),
    ApplianceDraft("Kettle", Kind.KITCHEN, "Kitchen", Role.WANTED, "cee_7", 230.0, 2200.0, 2180.0),
    ApplianceDraft(
        "Evening corner with television", Kind.EVENING_ELECTRONICS, "Parlour", Role.WANTED, "cee_7", 230.0,
        note="Television, its box, the reading lamp and the radio on one strip.",
    ),
    ApplianceDraft(
        "Work laptop and screen", Kind.WORK_ELECTRONICS, "Study", Role.WANTED, "cee_7", 230.0, 110.0,
    ),
    ApplianceDraft(
        "Mobility-scooter charger", Kind.LAMP_TIMER, "Porch", Role.ESSENTIAL, "cee_7", 230.0, 240.0,
        note="Charges from nine in the evening.",
    ),
    ApplianceDraft(
        "Well pump", Kind.PUMP, "Well house", Role.ESSENTIAL, "unknown", 230.0, 1100.0, hard_wired=True,
        note="On a circuit of its own: ask the electrician for a measurement.",
    ),
    ApplianceDraft("Cooker", Kind.KITCHEN, "Kitchen", Role.OFF, "unknown", 230.0, 7200.0, hard_wired=True),
)  # fmt: skip
