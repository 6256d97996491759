"""The morning round: the running measurements in order, which were read today, and who is next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from hearthload.service.answers import RoundStop

_ALL_READ: Final = {1: "the one meter is", 2: "both meters are"}


@dataclass(frozen=True, slots=True)
class Round:
    """One morning round under way; `skipped` stops are not asked for again in this round."""

    stops: tuple[RoundStop, ...]
    skipped: frozenset[int] = frozenset()

    def renewed(self, stops: Sequence[RoundStop]) -> Round:
        """Give the round with the stops as they stand now."""
        return replace(self, stops=tuple(stops))

    def skipping(self, measurement_id: int) -> Round:
        """Give the round without asking for this stop again."""
        return replace(self, skipped=self.skipped | {measurement_id})

    def next_after(self, measurement_id: int | None) -> RoundStop | None:
        """Give the first stop without a reading today that follows this one, going round once."""
        ids = [stop.measurement_id for stop in self.stops]
        start = ids.index(measurement_id) + 1 if measurement_id in ids else 0
        for stop in self.stops[start:] + self.stops[:start]:
            wanted = not stop.read_today and stop.measurement_id not in self.skipped
            if wanted and stop.measurement_id != measurement_id:
                return stop
        return None

    def first(self) -> RoundStop | None:
        """Give the first stop without a reading today."""
        return self.next_after(None)

    def place_words(self, measurement_id: int | None) -> str:
        """Say where the round stands, "2 of 5, next: Barn freezer"; empty off the round."""
        ids = [stop.measurement_id for stop in self.stops]
        if measurement_id not in ids:
            return ""
        upcoming = self.next_after(measurement_id)
        after = f"next: {upcoming.appliance_name}" if upcoming else "the last one"
        past = sum(
            stop.measurement_id != measurement_id and (stop.read_today or stop.measurement_id in self.skipped)
            for stop in self.stops
        )
        return f"Morning round: {past + 1} of {len(ids)}, {after}"

    def done_words(self) -> str:
        """Say how the round ended."""
        read = sum(stop.read_today for stop in self.stops)
        if not self.stops:
            return "Nothing is being measured yet: choose an appliance and start its measurement."
        if read == len(self.stops):
            return f"The round is done: {_ALL_READ.get(read, f'all {read} meters are')} read."
        left = ", ".join(stop.appliance_name for stop in self.stops if not stop.read_today)
        return f"The round is done. Without a reading of today: {left}."
