"""The roster as it stood when a logbook was last closed, so that it can be read before the logbook is open.

It is kept in the person's cache folder and holds good only while the logbook's file is the very same:
its size and its time of change to the nanosecond.
"""

from __future__ import annotations

import json
import zlib
from collections.abc import Sequence
from dataclasses import asdict, replace
from datetime import datetime
from pathlib import Path
from typing import Any

import platformdirs

import hearthload
from hearthload.domain.appliance import Appliance, Cycling, Kind, Role
from hearthload.domain.measurement import MeasurementState
from hearthload.domain.meter import DisplayRounding, Meter, PowerLoss
from hearthload.estimate.answers import (
    DutyBasis,
    DutyCycle,
    DutyNature,
    Enough,
    Estimate,
    Interval,
    Lack,
    OneDay,
    PerUse,
)
from hearthload.service.preferences import APPLICATION
from hearthload.service.roster_answers import RosterRow

Plain = dict[str, Any]


def keep_glance(path: Path, rows: Sequence[RosterRow]) -> None:
    """Note a logbook's roster; a folder that cannot be written costs the glance, never the work."""
    try:
        kept = {"path": str(path.absolute()), "stamp": _stamp(path), "rows": [_written(row) for row in rows]}
        text = json.dumps(kept, ensure_ascii=False)
        place = _place(path)
        place.parent.mkdir(parents=True, exist_ok=True)
        part = place.with_suffix(".part")
        part.write_text(text, encoding="utf-8")
        part.replace(place)
    except (OSError, ValueError):
        return


def glance(path: Path, now: datetime) -> tuple[RosterRow, ...]:
    """Give a logbook's roster as noted, nothing when the file is not the same any more.

    Rows carry no measurement: they are for looking at until the logbook itself is open.
    """
    try:
        kept = json.loads(_place(path).read_text(encoding="utf-8"))
        if kept["path"] != str(path.absolute()) or kept["stamp"] != _stamp(path):
            return ()
        return tuple(_row(plain, now) for plain in kept["rows"])
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return ()


def _place(path: Path) -> Path:
    where = str(path.absolute()).encode()
    name = f"{zlib.crc32(where):08x}{zlib.adler32(where):08x}"
    return Path(platformdirs.user_cache_dir(APPLICATION, appauthor=False)) / f"glance-{name}.json"


def _stamp(path: Path) -> list[Any]:
    state = path.stat()
    return [hearthload.__version__, state.st_size, state.st_mtime_ns]


def _written(row: RosterRow) -> Plain:
    estimate = row.estimate
    return {
        "appliance": asdict(row.appliance),
        "state": row.state,
        "meter": None if row.meter is None else asdict(row.meter),
        "estimate": None if estimate is None else asdict(replace(estimate, posterior=None)),
        "doubts": row.doubts,
        "last_reading_at": None if row.last_reading_at is None else row.last_reading_at.isoformat(),
    }


def _row(plain: Plain, now: datetime) -> RosterRow:
    last = plain["last_reading_at"] and datetime.fromisoformat(plain["last_reading_at"])
    appliance, state, meter = plain["appliance"], plain["state"], plain["meter"]
    return RosterRow(
        appliance=Appliance(
            **{
                **appliance,
                "kind": Kind(appliance["kind"]),
                "role": Role(appliance["role"]),
                "cycling": Cycling(appliance["cycling"]),
            }
        ),
        measurement=None,
        state=None if state is None else MeasurementState(state),
        meter=None if meter is None else _meter(meter),
        estimate=None if plain["estimate"] is None else _estimate(plain["estimate"]),
        last_reading_at=last,
        read_today=last is not None and last.date() == now.date(),
        doubts=int(plain["doubts"]),
    )


def _meter(plain: Plain) -> Meter:
    kinds = {
        "power_loss": PowerLoss(plain["power_loss"]),
        "rounding": DisplayRounding(plain["rounding"]),
    }
    return Meter(**{**plain, **kinds})


def _interval(plain: Plain | None) -> Interval | None:
    return None if plain is None else Interval(**plain)


def _per_use(plain: Plain) -> PerUse:
    """Give energy per use; a note from before the day by its uses was told has no such day."""
    ends = {"energy_kwh": Interval(**plain["energy_kwh"]), "daily_kwh": _interval(plain.get("daily_kwh"))}
    return PerUse(**{**plain, **ends})


def _estimate(plain: Plain) -> Estimate:
    enough, duty, use = plain["enough"], plain["duty_cycle"], plain["per_use"]
    return Estimate(
        **{
            **plain,
            "daily_kwh": _interval(plain["daily_kwh"]),
            "enough": Enough(
                **{
                    **enough,
                    "lacks": tuple(Lack(lack) for lack in enough["lacks"]),
                    "days_to_go": _interval(enough["days_to_go"]),
                }
            ),
            "per_use": None if use is None else _per_use(use),
            "one_day": None if plain["one_day"] is None else OneDay(**plain["one_day"]),
            "duty_cycle": None
            if duty is None
            else DutyCycle(
                **{
                    **duty,
                    "share": Interval(**duty["share"]),
                    "basis": DutyBasis(duty["basis"]),
                    "nature": DutyNature(duty["nature"]),
                }
            ),
        }
    )
