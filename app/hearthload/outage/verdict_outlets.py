"""Limits at the outlet: amps, voltage, frequency, waveform."""

from __future__ import annotations

from hearthload.domain.appliance import Kind
from hearthload.domain.plugs import PLUGS
from hearthload.domain.supply import SupplyDraft, SupplyKind, Waveform
from hearthload.outage.answers import Limit, LimitCode, LoadLine, Note, Outcome
from hearthload.outage.steps import Figure, Input, Step
from hearthload.outage.verdict_case import Case, judged, plain
from hearthload.outage.working import Term, of_steps, worked

_MOTORS = {Kind.REFRIGERATOR, Kind.FREEZER, Kind.CLIMATE, Kind.PUMP, Kind.BY_THE_LOAD}
_MOTOR_START = 2.0
"""Loads that take twice their running volt-amperes to start have a motor in them."""


def outlet_limits(case: Case) -> list[Limit]:
    """Check what the loads ask of the outlets."""
    feeding = case.feeding
    if feeding is None:
        return []
    waveform = _waveform(case, feeding)
    return [*_currents(case, feeding), *_voltages(case, feeding), *_frequency(case, feeding), *waveform]


def is_medical(line: LoadLine) -> bool:
    """Tell whether somebody's life or health hangs on it."""
    return line.load.medical or Note.MEDICAL in line.notes


def has_motor(line: LoadLine) -> bool:
    """Tell whether there is a motor in it, by its kind or its start."""
    start, running = line.each_start_va, line.each_running_va
    starts = start is not None and running is not None and start >= _MOTOR_START * running > 0.0
    return line.thermostatic or line.load.kind in _MOTORS or starts


def _volts(case: Case, line: LoadLine) -> float:
    volts = line.load.voltage_v
    return volts if volts is not None and volts > 0.0 else case.mains_v


def _amps(case: Case, feeding: SupplyDraft, line: LoadLine) -> Figure:
    """Give the outlet's current that a load asks for: S/V, over 0.8 for a run of three hours or more [A]."""
    volts = feeding.voltage_v if feeding.voltage_v is not None else _volts(case, line)
    va = line.each_running_va or 0.0
    long = line.run_h >= case.facts["long_run_h"]
    inputs: list[Input | Term] = [
        Input("running volt-amperes of one", "S", va, "VA"),
        Input("voltage", "V", volts, "V"),
    ]
    if long:
        inputs.append(Term("long_run_share", "s"))
    value = va / volts / (case.facts["long_run_share"] if long else 1.0)
    equation = "I = S/(V·s), a long run" if long else "I = S/V"
    words = f"Outlet current for {line.load.name}"
    return of_steps(worked(case.facts, words, equation, value, "A", *inputs))


def outlet_a(feeding: SupplyDraft) -> float | None:
    """Give the most amps of one outlet: the lesser of those stated and its plug's, as far as known."""
    plug = PLUGS.get(feeding.plug)
    known = [amps for amps in (feeding.outlet_a, plug.current_a if plug else None) if amps is not None]
    return min(known, default=None)


def _currents(case: Case, feeding: SupplyDraft) -> list[Limit]:
    """Check the load that asks most of an outlet, and every further one that asks too much."""
    plugged = [line for line in case.lines if not line.load.hard_wired and line.each_running_va is not None]
    asked = sorted(((_amps(case, feeding, line), line) for line in plugged), key=lambda pair: -pair[0].value)
    offered = outlet_a(feeding)
    missing = "the outlet's amps or its type"
    steps: tuple[Step, ...] = ()
    if offered is not None:
        steps = plain(
            case, "Most current of one outlet", offered, "A", "I_o", source="plate or plug type"
        ).steps
    limits = [
        judged(
            case,
            LimitCode.OUTLET_CURRENT,
            needed,
            offered,
            missing=missing,
            about=line.load.name,
            steps=steps,
        )
        for needed, line in asked
    ]
    return [each for i, each in enumerate(limits) if i == 0 or each.outcome is Outcome.FALLS_SHORT]


def _voltages(case: Case, feeding: SupplyDraft) -> list[Limit]:
    """Check that every load's voltage is the supply's, to ten parts in a hundred; one limit a voltage."""
    by_volts: dict[float, list[str]] = {}
    for line in case.lines:
        by_volts.setdefault(_volts(case, line), []).append(line.load.name)
    found = []
    for volts, names in sorted(by_volts.items()):
        needed = plain(case, "Voltage of the appliance", volts, "V", "V", source="appliance or household")
        outcome, missing = Outcome.NOT_KNOWN, "the voltage of its outlets"
        if feeding.voltage_v is not None:
            off = abs(feeding.voltage_v / volts - 1.0)
            fits = off <= case.facts["inverter_voltage_tolerance"] + 1e-9
            outcome, missing = Outcome.CARRIES if fits else Outcome.FALLS_SHORT, ""
        about = ", ".join(names)
        step = _tolerance(case, "Voltage allowed off by", "inverter_voltage_tolerance")
        found.append(
            Limit(LimitCode.VOLTAGE, needed, feeding.voltage_v, "V", None, outcome, missing, about, (step,))
        )
    return found


def _tolerance(case: Case, words: str, key: str) -> Step:
    return worked(case.facts, words, "|offered/needed − 1| ≤ t", case.facts[key], "", Term(key, "t"))


def _frequency(case: Case, feeding: SupplyDraft) -> list[Limit]:
    """Check the frequency: it counts where there are motors or medical equipment, else it is only told."""
    concerned = [line.load.name for line in case.lines if has_motor(line) or is_medical(line)]
    if case.mains_hz <= 0.0:
        return []
    needed = plain(case, "Frequency of the mains", case.mains_hz, "Hz", "f", source="household")
    outcome, missing = Outcome.NOT_KNOWN, "its frequency"
    if feeding.frequency_hz is not None:
        off = abs(feeding.frequency_hz / case.mains_hz - 1.0)
        fits = off <= case.facts["inverter_frequency_tolerance"] + 1e-9
        outcome, missing = Outcome.CARRIES if fits else Outcome.FALLS_SHORT, ""
    step = _tolerance(case, "Frequency allowed off by", "inverter_frequency_tolerance")
    return [
        Limit(
            LimitCode.FREQUENCY,
            needed,
            feeding.frequency_hz,
            "Hz",
            None,
            outcome,
            missing,
            ", ".join(concerned),
            (step,),
            bool(concerned),
        )
    ]


def _waveform(case: Case, feeding: SupplyDraft) -> list[Limit]:
    """Check the waveform: modified sine is not for medical equipment, and a caution for motors.

    A generator's is not on its plate; it is asked for where there is medical equipment, and counts there.
    """
    medical = [line.load.name for line in case.lines if is_medical(line)]
    motors = [line.load.name for line in case.lines if has_motor(line) and not is_medical(line)]
    engine = feeding.kind is SupplyKind.GENERATOR
    shape = feeding.waveform
    found = []
    if medical:
        outcome = {
            Waveform.SINE: Outcome.CARRIES,
            Waveform.MODIFIED_SINE: Outcome.FALLS_SHORT,
            Waveform.NOT_KNOWN: Outcome.NOT_KNOWN,
        }[shape]
        missing = "whether its voltage is a pure sine" if outcome is Outcome.NOT_KNOWN else ""
        found.append(_shape(medical, outcome, missing, counts=True))
    if motors and shape is not Waveform.SINE and not (engine and shape is Waveform.NOT_KNOWN):
        modified = "whether a modified sine is allowed: motors run 10 to 20 % hotter on it"
        missing = modified if shape is Waveform.MODIFIED_SINE else "whether its voltage is a pure sine"
        found.append(_shape(motors, Outcome.NOT_KNOWN, missing, counts=False))
    return found


def _shape(names: list[str], outcome: Outcome, missing: str, *, counts: bool) -> Limit:
    return Limit(LimitCode.WAVEFORM, None, None, "", None, outcome, missing, ", ".join(names), (), counts)
