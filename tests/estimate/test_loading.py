"""What an estimate must not load: the first paint would wait for it."""

from __future__ import annotations

import subprocess
import sys

PROGRAM = """
import sys
from datetime import UTC, datetime, timedelta
from hearthload.domain.appliance import Kind
from hearthload.estimate.api import estimate, expected_energy_kwh
from hearthload.estimate.series import RunSeries, Series, Snapshot

start = datetime(2026, 3, 2, 7, tzinfo=UTC)
mornings = [start + timedelta(days=day) for day in range(4)]
readings = tuple(Snapshot(at, 1.1 * day, None, 120.0 - 118.0 * (day % 2)) for day, at in enumerate(mornings))
series = Series(Kind.REFRIGERATOR, (RunSeries(readings),))
answer = estimate(series)
assert answer.daily_kwh is not None and answer.duty_cycle is not None and not answer.enough.well_measured
assert expected_energy_kwh(series, start + timedelta(days=5)) is not None
print(sorted(name for name in ("scipy.stats", "pandas", "PySide6", "sqlalchemy") if name in sys.modules))
"""


def test_an_estimate_leaves_slow_packages_unloaded() -> None:
    done = subprocess.run(
        [sys.executable, "-P", "-W", "error", "-c", PROGRAM],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        timeout=120,
        check=False,
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "[]\n", "")
