"""A supply judged whole: its verdict, and where it falls short, what to leave off so that it lasts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from hearthload.domain.appliance import Role
from hearthload.domain.plan import Plan
from hearthload.domain.supply import SupplyDraft
from hearthload.outage.answers import Limit, LimitCode, LoadLine, Outcome, Totals, Verdict
from hearthload.outage.demand import totals
from hearthload.outage.facts import Facts
from hearthload.outage.shed import LeaveOff, Limits, what_to_leave_off
from hearthload.outage.verdict import verdict

_ROUNDS = 6
_SHRINK = 0.97
"""Each round tries with so much less energy, until what is kept is carried; the first guess is near."""

_BY_LOADS = frozenset(
    {
        LimitCode.ENERGY,
        LimitCode.RUNNING_W,
        LimitCode.RUNNING_VA,
        LimitCode.START_VA,
        LimitCode.BATTERY_CURRENT,
    }
)
"""Limits that leaving something off can mend."""


@dataclass(frozen=True, slots=True)
class Judgement:
    """A verdict; what to leave off and the verdict on the rest, None where that says nothing more."""

    verdict: Verdict
    leave_off: LeaveOff | None = None
    kept_verdict: Verdict | None = None


class Judge:
    """A plan's loads, against which one supply after another is judged."""

    def __init__(
        self, plan: Plan, lines: Sequence[LoadLine], facts: Facts, mains_v: float, mains_hz: float
    ) -> None:
        self.plan = plan
        self.lines = tuple(lines)
        self.facts = facts
        self._mains = (mains_v, mains_hz)

    def of(self, name: str, members: Sequence[SupplyDraft]) -> Judgement:
        """Judge a supply, or the members of a combination."""
        whole = self._verdict(name, members, self.lines)
        short = [limit.code for limit in whole.limits if _decides(limit)]
        if not short or not set(short) <= _BY_LOADS:
            return Judgement(whole)
        return self._what_fits(name, members, whole)

    def _what_fits(self, name: str, members: Sequence[SupplyDraft], whole: Verdict) -> Judgement:
        """Leave off until the rest is carried; the energy limit is guessed first and then proved."""
        essential = self._verdict(name, members, self._essential)
        limits = self._limits(whole, essential)
        for _ in range(_ROUNDS):
            found = what_to_leave_off(self.lines, limits, self.plan.days, self.plan.confidence)
            kept = self._verdict(name, members, [self.lines[i] for i in found.kept])
            energy = next(
                (each for each in kept.limits if each.code is LimitCode.ENERGY and each.counts), None
            )
            if energy is None or energy.outcome is not Outcome.FALLS_SHORT or limits.energy_kwh is None:
                break
            if not found.kept:
                break
            limits = replace(limits, energy_kwh=_SHRINK * limits.energy_kwh)
        return Judgement(whole, found, kept)

    def _limits(self, whole: Verdict, essential: Verdict) -> Limits:
        """Turn the verdict's limits into what the loads themselves may take.

        Watts and starts are in proportion to the loads. Energy from the battery grows in a straight line with
        the loads' own E above idling: E = E_0 + (offered − needed_0)·(E_1 − E_0)/(needed_1 − needed_0), with
        0 for the essential loads and 1 for all that are kept on.
        """
        power = [
            self._whole.running_w.value * _share(limit)
            for limit in whole.limits
            if limit.counts
            and limit.code in {LimitCode.RUNNING_W, LimitCode.BATTERY_CURRENT}
            and _share(limit)
        ]
        return Limits(
            energy_kwh=_not_below_nothing(self._energy_limit(whole, essential)),
            running_w=min(power, default=None),
            running_va=self._scaled(whole, LimitCode.RUNNING_VA, self._whole.running_va.value),
            start_va=self._scaled(whole, LimitCode.START_VA, self._whole.start_va.value),
        )

    def _energy_limit(self, whole: Verdict, essential: Verdict) -> float | None:
        found, least = _limit(whole, LimitCode.ENERGY), _limit(essential, LimitCode.ENERGY)
        if found is None or found.needed is None or found.offered is None:
            return None
        most_kwh = _at_confidence(self._whole)
        if least is None or least.needed is None or least.offered is None:
            return most_kwh * found.offered / found.needed.value
        least_kwh = _at_confidence(self._of_essential)
        across = found.needed.value - least.needed.value
        if across <= 0.0:
            return most_kwh * _share(found)
        return least_kwh + (found.offered - least.needed.value) * (most_kwh - least_kwh) / across

    def _scaled(self, found: Verdict, code: LimitCode, value: float) -> float | None:
        limit = _limit(found, code)
        return None if limit is None or not _share(limit) else value * _share(limit)

    @cached_property
    def _essential(self) -> tuple[LoadLine, ...]:
        return tuple(line for line in self.lines if line.load.role is Role.ESSENTIAL)

    @cached_property
    def _whole(self) -> Totals:
        return self._totals(self.lines)

    @cached_property
    def _of_essential(self) -> Totals:
        return self._totals(self._essential)

    def _totals(self, lines: Sequence[LoadLine]) -> Totals:
        plan = self.plan
        return totals(lines, plan.days, plan.confidence, self.facts, waking=plan.waking_share)

    def _verdict(self, name: str, members: Sequence[SupplyDraft], lines: Sequence[LoadLine]) -> Verdict:
        if lines is self.lines:
            whole = self._whole
        elif lines is self._essential:
            whole = self._of_essential
        else:
            whole = self._totals(lines)
        mains_v, mains_hz = self._mains
        return verdict(
            members, name, whole, lines, self.plan, facts=self.facts, mains_v=mains_v, mains_hz=mains_hz
        )


def _not_below_nothing(value: float | None) -> float | None:
    return None if value is None else max(value, 0.0)


def _decides(limit: Limit) -> bool:
    return limit.counts and limit.outcome is Outcome.FALLS_SHORT


def _limit(found: Verdict, code: LimitCode) -> Limit | None:
    """Give a verdict's limit that counts, of one code and about no single load."""
    return next((each for each in found.limits if each.code is code and each.counts), None)


def _share(limit: Limit) -> float:
    """Give offered over needed [1], 0 where either is not known."""
    if limit.needed is None or limit.offered is None or not limit.needed.value > 0.0:
        return 0.0
    return limit.offered / limit.needed.value


def _at_confidence(whole: Totals) -> float:
    return whole.plan_kwh.value if whole.plan_kwh.high is None else whole.plan_kwh.high
