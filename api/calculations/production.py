"""Production: what a working system puts out at best and with waiting, and what holds it up."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from api.calculations.size_limits import check_system_size
from api.contract.places import ROOT, faults_at, pointer
from estimator.errors import Faults, InputFaulty, ProductionFaulty

if TYPE_CHECKING:
    from estimator.production.cycle import CycleStep
    from estimator.production.working_system import Station, WorkingSystem

WAYS = {
    "minutes": frozenset({"minutes"}),
    "travel": frozenset({"distance_ft", "speed_mph"}),
    "flow": frozenset({"rate_per_hr", "unit"}),
}
_ONE_WAY = "give minutes, or distance_ft and speed_mph, or rate_per_hr and unit"


def production(body: Mapping[str, Any]) -> dict[str, Any]:
    """Return the output of a working system, its parts and its waiting lines.

    Parameters
    ----------
    body : mapping
        As `WorkingSystem`, with steps that are timed in one of three ways.

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


def _system(body: Mapping[str, Any]) -> WorkingSystem:
    from estimator.production.cycle import Load
    from estimator.production.working_system import WorkingSystem

    faults = Faults()
    steps = _each("cycle", body["cycle"], _step, faults)
    stations = _each("stations", body["stations"], _station, faults)
    try:
        with faults_at(ROOT):
            load = Load(float(body["load"]["size"]), body["load"]["unit"])
            if not faults.entries:
                return WorkingSystem(
                    body["name"], body["carriers"], load, steps, stations,
                    float(body["efficiency"]), float(body["shift_hr"]),
                )  # fmt: skip
    except InputFaulty as error:
        faults.take("", error)
    raise ProductionFaulty(faults.entries)


def _each(name: str, items: list[Mapping[str, Any]], read: Any, faults: Faults) -> tuple[Any, ...]:
    parts = []
    for n, one in enumerate(items):
        try:
            with faults_at(pointer(name, n)):
                parts.append(read(one))
        except InputFaulty as error:
            faults.take("", error)
    return tuple(parts)


def _step(entry: Mapping[str, Any]) -> CycleStep:
    from estimator.production.cycle import FlowStep, Step, TravelStep

    timed = entry.keys() - {"step", "station"}
    name, station = entry["step"], entry.get("station", "")
    if timed == WAYS["minutes"]:
        return Step(name, float(entry["minutes"]), station)
    if timed == WAYS["travel"]:
        return TravelStep(name, float(entry["distance_ft"]), float(entry["speed_mph"]), station)
    if timed == WAYS["flow"]:
        return FlowStep(name, float(entry["rate_per_hr"]), entry["unit"], station)
    faults = Faults()
    faults.add("", "is not timed in one way", _ONE_WAY)
    raise ProductionFaulty(faults.entries)


def _station(entry: Mapping[str, Any]) -> Station:
    from estimator.production.working_system import Station

    return Station(entry["name"], entry["places"], float(entry["taken_by_others"]))
