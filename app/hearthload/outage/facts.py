"""Figures of the trade that the answers rest on, each with its range and source; a plan may set its own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from hearthload.errors import RefusedError


@dataclass(frozen=True, slots=True)
class Fact:
    """A figure of the trade.

    `key` names it in files, `name` in the window. `low` to `high` is the range met in practice; `least` and
    `most` are what may be typed at all. `typical`: common practice, not checked against a standard. `room`
    groups it: loads, inverter, battery, sun, generator, cords.
    """

    key: str
    name: str
    value: float
    low: float
    high: float
    unit: str
    source: str
    typical: bool
    room: str
    least: float
    most: float


class Facts:
    """The facts in force for one plan: the trade's values, with her own in place of some."""

    def __init__(self, known: Mapping[str, Fact], own: Mapping[str, float] | None = None) -> None:
        self._known = known
        self._own = dict(own or {})
        for key, value in self._own.items():
            fact = self.fact(key)
            if not fact.least <= value <= fact.most:
                raise RefusedError(
                    f"“{fact.name}” must lie between {fact.least:g} and {fact.most:g} {fact.unit}.".replace(
                        " .", "."
                    ),
                    field=key,
                    code="fact_range",
                )

    @property
    def own(self) -> tuple[tuple[str, float], ...]:
        """Give her own figures, in order of their keys."""
        return tuple(sorted(self._own.items()))

    def fact(self, key: str) -> Fact:
        """Give a fact by its key, refusing one that there is not."""
        found = self._known.get(key)
        if found is None:
            raise RefusedError(f"There is no figure “{key}”.", field=key, code="unknown_fact")
        return found

    def __getitem__(self, key: str) -> float:
        return self._own.get(key, self.fact(key).value)

    def is_own(self, key: str) -> bool:
        """Tell whether she set this figure herself."""
        return key in self._own

    def source(self, key: str) -> str:
        """Give where the figure in force comes from."""
        return "set in this plan" if self.is_own(key) else self.fact(key).source

    def typical(self, *keys: str) -> bool:
        """Tell whether any of the figures in force is common practice that was not checked."""
        return any(not self.is_own(key) and self.fact(key).typical for key in keys)


def by_key(*groups: Iterable[Fact]) -> dict[str, Fact]:
    """Put groups of facts together; a key may occur once."""
    found: dict[str, Fact] = {}
    for group in groups:
        for fact in group:
            if fact.key in found:
                raise ValueError(f"the fact {fact.key} is there twice")
            found[fact.key] = fact
    return found
