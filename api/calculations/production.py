"""Production: what a working system puts out at best and with waiting, and what holds it up."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, Any, TypeVar

from api.calculations.production_shapes import SharedPlace, SystemToRun, TimedStep
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
    from estimator.production.bottleneck import balance
    from estimator.production.waiting_lines import queued_output

    system = _system(body)
    check_system_size(system)
    with faults_at(ROOT):
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
    }


def _system(body: SystemToRun) -> WorkingSystem:
    from estimator.production.cycle import Load
    from estimator.production.working_system import WorkingSystem

    faults = Faults()
    steps = _each("cycle", body.cycle, _step, faults)
    stations = _each("stations", body.stations, _station, faults)
    try:
        with faults_at(ROOT):
            load = Load(float(body.load.size), body.load.unit)
            if not faults.entries:
                return WorkingSystem(
                    body.name, body.carriers, load, steps, stations,
                    float(body.efficiency), float(body.shift_hr),
                )  # fmt: skip
    except InputFaulty as error:
        faults.take("", error)
    raise ProductionFaulty(faults.entries)


def _each(
    name: str, items: Sequence[_Stated], read: Callable[[_Stated], _Read], faults: Faults
) -> tuple[_Read, ...]:
    parts = []
    for n, one in enumerate(items):
        try:
            with faults_at(pointer(name, n)):
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
