"""What is allowed for a meter whose accuracy nobody states."""

from __future__ import annotations

import math
from typing import Final

from hearthload.estimate.spans import DEFAULT_GAIN

UNSTATED_PERCENT: Final = 100.0 * math.sqrt(3.0) * DEFAULT_GAIN
"""Half-width g = √3·u of the rectangular distribution that the estimates reckon with [%].

The same kind of figure as a leaflet's "± g %" (JCGM 100 4.3.7), which is what a person types.
"""
