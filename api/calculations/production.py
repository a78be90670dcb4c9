"""Production: what a working system puts out at best and with waiting, and what holds it up."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, Any, TypeVar

from api.calculations.production_shapes import (
    KindBeside,
    PileOutside,
    SharedPlace,
    SystemToRun,
    TimedStep,
    WorkToDo,
)
from api.calculations.size_limits import check_system_size
from api.contract.places import ROOT, faults_at, pointer
from estimator.errors import Faults, InputFaulty, ProductionFaulty, fault

if TYPE_CHECKING:
    from estimator.production.cycle import CycleStep
    from estimator.production.working_system import Station, WorkingSystem

_Stated = TypeVar("_Stated")
_Read = TypeVar("_Read")
_ONE_WAY = "give minutes, or distance_ft and speed_mph, or rate_per_hr and unit"


def production(body: SystemToRun) -> dict[str, Any]:
    """Return the output of a working system, its parts and its waiting lines.

    Parameters
    ----------
    body : SystemToRun
        With steps that are timed in one of three ways.

    Raises
    ------
    ProductionFaulty
        With every fault at once.
    """
    systems = _systems(body)
    check_system_size(systems)
    with faults_at(ROOT):
        fields = _one_kind(systems[0]) if len(systems) == 1 else _two_kinds(systems)
    if body.pile is not None:
        with faults_at(pointer("pile")):
            fields["pile"] = _at_pile(body.pile, fields["with_waiting_per_hr"])
    if body.work is not None:
        if body.beside is not None:
            what = "is timed for one kind of carrier only"
            raise fault(ProductionFaulty, what, "leave out work or beside", pointer("work"))
        fields["time"] = _time(body.work, systems[0])
    return fields


def _one_kind(system: WorkingSystem) -> dict[str, Any]:
    from estimator.production.bottleneck import balance
    from estimator.production.waiting_lines import queued_output

    best, queued = balance(system), queued_output(system)
    return {
        "name": system.name,
        "unit": best.unit,
        "cycle_minutes": system.cycle_minutes,
        "at_best_per_hr": best.output_per_hr,
        "bottlenecks": list(best.bottlenecks),
        "parts": [{**vars(part), "idle_share": best.idle_share(part.name)} for part in best.parts],
        "with_waiting_per_hr": queued.output_per_hr,
        "cycle_with_waiting_minutes": queued.cycle_minutes,
        "lines": [vars(line) for line in queued.lines],
        "under_way": queued.under_way,
        "kinds": [],
        "may_be_high_by": queued.may_be_high_by,
        "may_be_low_by": 0.0,
        "balanced_carriers": _balanced(system),
    }


def _balanced(system: WorkingSystem) -> int | None:
    """Return how many carriers balance a system; None if there is no such number."""
    from estimator.production.bottleneck import balanced_carriers

    try:
        return balanced_carriers(system)
    except ProductionFaulty:
        return None


def _time(work: WorkToDo, system: WorkingSystem) -> dict[str, Any]:
    from estimator.production.lifts import Lift, time_in_lifts
    from estimator.production.pace_range import production_range, time_for

    with faults_at(pointer("work"), ["quantity", "lifts"]):
        if work.lifts:
            lifts = [Lift(one.name, one.share, one.speed_factor) for one in work.lifts]
            time = time_in_lifts(work.quantity, system, work.placing or "", lifts)
        else:
            time = time_for(work.quantity, production_range(system))
    return {
        "at_best_hours": time.at_best.hours,
        "at_best_days": time.at_best.days,
        "with_waiting_hours": time.with_waiting.hours,
        "with_waiting_days": time.with_waiting.days,
        "whole_loads": time.loads,
    }


def _two_kinds(systems: Sequence[WorkingSystem]) -> dict[str, Any]:
    from estimator.production.mixed_carriers import mixed_off_by, mixed_output

    both, (high, low) = mixed_output(systems), mixed_off_by(systems)
    return {
        "name": systems[0].name,
        "unit": both.unit,
        "at_best_per_hr": both.at_best_per_hr,
        "bottlenecks": list(both.full),
        "parts": [],
        "with_waiting_per_hr": both.with_waiting_per_hr,
        "lines": [],
        "kinds": [vars(one) for one in both.kinds],
        "may_be_high_by": high,
        "may_be_low_by": low,
    }


def _at_pile(pile: PileOutside, placed_per_hr: float) -> dict[str, Any]:
    from estimator.production.pile_limit import limited_pile
    from estimator.production.stockpile import Stage, StagedWork

    stages = Stage("bringing", float(pile.comes_per_hr)), Stage("placing", placed_per_hr)
    work = StagedWork(float(pile.quantity), stages)
    return {**vars(limited_pile(work, float(pile.holds))), "placing_hr": work.hours}


def _systems(body: SystemToRun) -> list[WorkingSystem]:
    faults = Faults()
    stations = _each(pointer("stations"), body.stations, _station, faults)
    kinds = [_kind(body, ROOT, body, stations, faults)]
    if body.beside is not None:
        kinds.append(_kind(body.beside, pointer("beside"), body, stations, faults))
        used = {step.station for step in (*body.cycle, *body.beside.cycle)}
        for n, one in enumerate(body.stations):
            if one.name not in used:
                faults.add(pointer("stations", n), "is used by no step", "name it in a step")
    faults.raise_if_any(ProductionFaulty)
    return [one for one in kinds if one is not None]


def _kind(
    kind: SystemToRun | KindBeside,
    place: str,
    body: SystemToRun,
    stations: Sequence[Station],
    faults: Faults,
) -> WorkingSystem | None:
    """Return one kind of carrier; where there are two, with the stations that it passes."""
    from estimator.production.cycle import Load
    from estimator.production.working_system import WorkingSystem

    steps = _each(pointer("cycle", of=place), kind.cycle, _step, faults)
    used = {step.station for step in steps}
    own = tuple(one for one in stations if body.beside is None or one.name in used)
    try:
        with faults_at(place):
            load = Load(float(kind.load.size), kind.load.unit)
            if not faults.entries:
                return WorkingSystem(
                    kind.name, kind.carriers, load, steps, own,
                    float(body.efficiency), float(body.shift_hr),
                )  # fmt: skip
    except InputFaulty as error:
        faults.take("", error)
    return None


def _each(
    place: str, items: Sequence[_Stated], read: Callable[[_Stated], _Read], faults: Faults
) -> tuple[_Read, ...]:
    parts = []
    for n, one in enumerate(items):
        try:
            with faults_at(pointer(n, of=place)):
                parts.append(read(one))
        except InputFaulty as error:
            faults.take("", error)
    return tuple(parts)


def _step(step: TimedStep) -> CycleStep:
    from estimator.production.cycle import FlowStep, Step, TravelStep

    match step.minutes, (step.distance_ft, step.speed_mph), (step.rate_per_hr, step.unit):
        case Decimal() as minutes, (None, None), (None, None):
            return Step(step.step, float(minutes), step.station)
        case None, (Decimal() as distance_ft, Decimal() as speed_mph), (None, None):
            return TravelStep(step.step, float(distance_ft), float(speed_mph), step.station)
        case None, (None, None), (Decimal() as rate_per_hr, str() as unit):
            return FlowStep(step.step, float(rate_per_hr), unit, step.station)
    raise fault(ProductionFaulty, "is not timed in one way", _ONE_WAY)


def _station(station: SharedPlace) -> Station:
    from estimator.production.working_system import Station

    return Station(station.name, station.places, float(station.taken_by_others))
