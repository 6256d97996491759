"""What the questions about outages answer: frozen values for the window and the command line."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from hearthload.domain.appliance import Appliance
from hearthload.domain.plan import Plan, PlanLoad
from hearthload.domain.supply import Supply
from hearthload.outage.answers import LoadLine, Totals, Verdict
from hearthload.outage.catalogue import facts_in_force
from hearthload.outage.circuits import CircuitCheck
from hearthload.outage.facts import Fact
from hearthload.outage.shed import LeaveOff
from hearthload.outage.sizing import Sizing, size


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One appliance in a plan: what was typed, what came out, and whether its way carries it."""

    load: PlanLoad
    appliance: Appliance
    line: LoadLine
    circuit: CircuitCheck


@dataclass(frozen=True, slots=True)
class FactRow:
    """A figure of the trade as it stands in a plan: the fact, the value in force, whether she set it."""

    fact: Fact
    value: float
    is_own: bool


@dataclass(frozen=True)
class PlanAnswer:
    """All that a plan says; without slots, for what to look for is worked out when it is first asked for.

    `rows` in the order essential, wanted by rank, off; `not_in_plan` are appliances that came later; `own`
    her figures of the trade by key, `facts` all of them, room by room. `cautions` are whole sentences;
    `medical`: a load keeps somebody alive or healthy, which is said wherever the plan is shown. `sizing` is
    None while nothing is kept on.
    """

    plan: Plan
    rows: tuple[PlanRow, ...]
    not_in_plan: tuple[Appliance, ...]
    totals: Totals
    facts: tuple[FactRow, ...]
    own: tuple[tuple[str, float], ...]
    mains_v: float
    cautions: tuple[str, ...]
    medical: bool

    @cached_property
    def sizing(self) -> Sizing | None:
        """Give what to look for; the sun's part loads slow libraries, and the load list need not wait."""
        return size(self.totals, self.plan, facts_in_force(dict(self.own)), mains_v=self.mains_v)


@dataclass(frozen=True, slots=True)
class SupplyAnswer:
    """A supply against a plan: the verdict, and what to leave off so that it lasts.

    `members` are those of a combination, else the supply alone. `leave_off` is None where the verdict cannot
    say (something is not known) or where everything is carried; its indexes are those of the plan's rows.
    `kept_verdict` is the verdict on what is then kept. `cautions` are whole sentences.
    """

    supply: Supply
    members: tuple[Supply, ...]
    verdict: Verdict
    leave_off: LeaveOff | None
    kept_verdict: Verdict | None
    cautions: tuple[str, ...]
