"""What the questions about outages answer: frozen values for the window and the command line."""

from __future__ import annotations

from dataclasses import dataclass

from hearthload.domain.appliance import Appliance
from hearthload.domain.plan import Plan, PlanLoad
from hearthload.domain.supply import Supply
from hearthload.outage.answers import LoadLine, Totals, Verdict
from hearthload.outage.circuits import CircuitCheck
from hearthload.outage.facts import Fact
from hearthload.outage.shed import LeaveOff
from hearthload.outage.sizing import Sizing


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


@dataclass(frozen=True, slots=True)
class PlanAnswer:
    """All that a plan says.

    `rows` in the order essential, wanted by rank, off; `not_in_plan` are appliances that came later.
    `sizing` is None while nothing is kept on. `cautions` are whole sentences; `medical`: a load keeps
    somebody alive or healthy, which is said wherever the plan is shown. `facts` are grouped by room.
    """

    plan: Plan
    rows: tuple[PlanRow, ...]
    not_in_plan: tuple[Appliance, ...]
    totals: Totals
    sizing: Sizing | None
    facts: tuple[FactRow, ...]
    cautions: tuple[str, ...]
    medical: bool


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
