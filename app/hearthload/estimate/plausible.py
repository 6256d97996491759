"""What an average and a day of an appliance can be: bounds for reading and doubting alike."""

from __future__ import annotations

import math

from hearthload.domain.appliance import Kind

ABOVE_HIGHEST = 1.15
"""An average does not pass the highest watts seen by more than the meter's errors of both [1]."""

ABOVE_NAMEPLATE = 1.2
"""An average does not pass a nameplate by more than its widest tolerance, + 20 % (IEC 60335-1, 10.1) [1]."""

ABOVE_RUNNING = 1.2
"""Nor the watts while running, which are stated as roughly [1]."""

LEAST_H_FOR_RUNNING = 12.0
"""A defrost or a start draws more than the running watts; over half a day it does not count [h]."""

BEYOND_KIND = 2.0
"""One span may be so many times the most plausible day of its kind [1]."""

# Lowest and highest plausible day [kWh/d]: half the low and twice the high end of the bands of ordinary
# household appliances of each kind (the project's table of appliance figures, rows E1 to E54).
PLAUSIBLE_KWH = {
    Kind.REFRIGERATOR: (0.125, 15.0),
    Kind.FREEZER: (0.25, 7.8),
    Kind.CLIMATE: (0.1, 48.0),
    Kind.ALWAYS_ON: (0.0025, 24.0),
    Kind.BY_THE_LOAD: (0.01, 30.0),
    Kind.LAMP_TIMER: (0.002, 6.0),
    Kind.EVENING_ELECTRONICS: (0.01, 5.0),
    Kind.WORK_ELECTRONICS: (0.01, 6.0),
    Kind.KITCHEN: (0.005, 16.0),
    Kind.PUMP: (0.0, 28.0),
    Kind.NOT_SURE: (0.0, 60.0),
}


def most_of_kind_kwh(kind: Kind, days: float) -> float:
    """Give the energy beyond which one span is too much for its kind [kWh]: 2·(highest day)·max(T, 1 d).

    A span shorter than a day may hold all that the day takes. Where the kind is not known nothing is.
    """
    if kind is Kind.NOT_SURE:
        return math.inf
    return BEYOND_KIND * PLAUSIBLE_KWH[kind][1] * max(days, 1.0)
