"""What can be varied in a comparison, by the name that a person gives it.

recovery                      an input, of every method that asks for it
conveyor: waste               an input of the one method that has the word in its name
laborer                       the rate of a resource
truck turnaround              from one load of a carrier to its next
carriers                      how many machines or trucks go round, in whole numbers
single axle carriers          the same of a second kind of carrier
haul time, wheel in distance, throw rate    a step, by the number that it is given with
pile, pile rate               what a pile outside holds, and what comes to it in an hour
conveyor: mobilization        a fixed sum
day worth                     what a day sooner is worth
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import Enum

import numpy as np
import numpy.typing as npt

from estimator.assemblies.assembly import PRODUCTION_RATE
from estimator.errors import MethodsFaulty, did_you_mean, fault, quoted
from estimator.production.closed_network import MOST_CARRIERS
from estimator.production.mixed_carriers import MOST_OF_A_KIND
from estimator.quantity.units import Unit, unit
from estimator.scope.methods.method import CARRIERS_OF_KINDS, Pile, Production
from estimator.scope.methods.method_work import PILE_COMES, PILE_HOLDS
from estimator.scope.methods.production_reader import BRINGS
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.method_prices import AS_WRITTEN, Changes
from estimator.studies.comparison.prepared_method import PreparedMethod
from estimator.studies.comparison.step_times import StepTimes, own_number

Values = npt.NDArray[np.float64]

DAY_WORTH = "day worth"
TURNAROUND = "turnaround"
MOBILIZATION = "mobilization"
CARRIERS = CARRIERS_OF_KINDS[0]

_SMALLEST, _LARGEST = 1e-6, 1e6
_RANGE_FROM_NOTHING = 1000.0


class Sort(Enum):
    """What sort of thing is varied."""

    INPUT = "input"
    RATE = "rate"
    STEP = "step"
    TURNAROUND = "turnaround"
    CARRIERS = "carriers"
    MOBILIZATION = "mobilization"
    DAY_WORTH = "day worth"


@dataclass(frozen=True)
class Varied:
    """One thing that can be varied.

    Parameters
    ----------
    name : str
        As a person writes it, with a method before a colon where it is that method's alone.
    sort : Sort
        Input, rate, step time or other.
    target : str
        The input, resource or step.
    unit : Unit
        What it is given in here.
    base : float
        As it is written now, in `unit`.
    least, most : float
        What it can be, in `unit`.
    methods : tuple of int
        Places of the methods that it changes.
    subject, verb : str
        How a sentence leads to its value: `the truck's round trip`, `stays`.
    """

    name: str
    sort: Sort
    target: str
    unit: Unit
    base: float
    least: float
    most: float
    methods: tuple[int, ...]
    subject: str
    verb: str

    @property
    def is_money(self) -> bool:
        """Whether it is a sum or a rate of money."""
        return self.sort in (Sort.RATE, Sort.MOBILIZATION, Sort.DAY_WORTH)

    @property
    def usual_range(self) -> tuple[float, float]:
        """Half to double the value, within what it can be; from nothing where it is nothing."""
        if self.base == 0.0:
            return self.least, min(self.most, _RANGE_FROM_NOTHING)
        return max(self.base / 2.0, self.least), min(self.base * 2.0, self.most)

    def changes(self, values: Values) -> Changes:
        """Return values [unit] as changes of a method."""
        base_values = values * float(self.unit.factor)
        match self.sort:
            case Sort.INPUT:
                return Changes(inputs={self.target: base_values})
            case Sort.RATE:
                return Changes(rates={self.target: values})
            case Sort.STEP:
                return Changes(steps=StepTimes(by_step={self.target: values}))
            case Sort.TURNAROUND:
                return Changes(steps=StepTimes(turnarounds={self.target: values}))
            case Sort.CARRIERS:
                return Changes(steps=StepTimes(carriers={self.target: np.asarray(values).round()}))
            case Sort.MOBILIZATION:
                return Changes(mobilization=values)
            case Sort.DAY_WORTH:
                return AS_WRITTEN


def varied_named(comparison: Comparison, name: str) -> Varied:
    """Return what a name points to.

    Raises
    ------
    MethodsFaulty
        If it is nothing that can be varied, or stands for other values in other methods.
    """
    prefix, colon, rest = name.rpartition(":")
    wanted = " ".join(rest.split()).lower()
    known = all_varied(comparison)
    if colon:
        place = comparison.place(prefix)
        known = tuple(_of_method(comparison.prepared[place], place))
    matching = [one for one in known if one.name.lower() == wanted]
    if len(matching) == 1:
        return _of_one_method(matching[0], comparison) if colon else matching[0]
    alike = [quoted(one.name) for one in known if one.name.lower().endswith(f": {wanted}")]
    if alike:
        what = f"{quoted(name)} has a different value in each method"
        raise fault(MethodsFaulty, what, f"write {' or '.join(alike)}")
    if wanted == CARRIERS and any(one.method.production for one in comparison.prepared):
        what = "the number of carriers changes who comes along, and the scope does not say who"
        raise fault(MethodsFaulty, what, f"write {BRINGS}: {{...}} in the system")
    raise fault(
        MethodsFaulty,
        f"nothing that can be varied is called {quoted(name)}",
        did_you_mean(wanted, [one.name for one in known]),
    )


def all_varied(comparison: Comparison) -> tuple[Varied, ...]:
    """Return everything that can be varied: what methods share once, the rest for each method."""
    by_name: dict[tuple[Sort, str], list[Varied]] = {}
    for place, prepared in enumerate(comparison.prepared):
        for one in _of_method(prepared, place):
            by_name.setdefault((one.sort, one.name), []).append(one)
    shared = (one for alike in by_name.values() for one in _shared(alike, comparison))
    return (*shared, _day_worth(comparison))


def _shared(alike: list[Varied], comparison: Comparison) -> Iterator[Varied]:
    """Return as one what has the same value in all methods that have it; else one for each."""
    first = alike[0]
    is_one = all((one.unit, one.base) == (first.unit, first.base) for one in alike)
    if is_one and first.sort is not Sort.MOBILIZATION:
        yield replace(
            first,
            least=max(one.least for one in alike),
            most=min(one.most for one in alike),
            methods=tuple(place for one in alike for place in one.methods),
        )
        return
    for one in alike:
        yield _of_one_method(one, comparison)


def _of_one_method(one: Varied, comparison: Comparison) -> Varied:
    """Return what is varied in one method alone, named with it."""
    method = comparison.prepared[one.methods[0]].method.name
    return replace(one, name=f"{method}: {one.name}", subject=f"{one.subject} ({method})")


def _of_method(prepared: PreparedMethod, place: int) -> Iterator[Varied]:
    """Return everything of one method that can be varied."""
    yield from _inputs(prepared, place)
    yield from _rates(prepared, place)
    yield from _times(prepared, place)
    mobilization = float(prepared.method.mobilization)
    yield Varied(
        MOBILIZATION, Sort.MOBILIZATION, MOBILIZATION, unit("$"), mobilization, 0.0, _LARGEST,
        (place,), MOBILIZATION, "costs",
    )  # fmt: skip


def _inputs(prepared: PreparedMethod, place: int) -> Iterator[Varied]:
    paced_by_system = prepared.method.production is not None
    for one in prepared.assembly.inputs:
        if one.is_derived or (one.name == PRODUCTION_RATE and paced_by_system):
            continue
        base = float(prepared.inputs[one.name]) / float(one.unit.factor)
        least = _SMALLEST if one.least is None else float(one.least)
        most = _LARGEST if one.most is None else float(one.most)
        words = one.name.replace("_", " ")
        yield Varied(
            one.name, Sort.INPUT, one.name, one.unit, base, least, most, (place,), words, "is"
        )


def _rates(prepared: PreparedMethod, place: int) -> Iterator[Varied]:
    lines = (*prepared.lines, prepared.kept) if prepared.kept else prepared.lines
    for rate in {one.rate.code: one.rate for one in lines}.values():
        yield Varied(
            rate.code, Sort.RATE, rate.code, unit(f"$/{rate.unit.name}"), float(rate.rate),
            0.0, _LARGEST, (place,), rate.name, "costs",
        )  # fmt: skip


def _times(prepared: PreparedMethod, place: int) -> Iterator[Varied]:
    production = prepared.method.production
    if production is None:
        return
    if may_vary_carriers(prepared):
        yield from _carriers(production, place)
    for kind in production.kinds:
        yield from _kind_times(kind, place)
    if production.pile is not None:
        yield from _pile(production.pile, prepared.assembly.unit, place)


def _carriers(production: Production, place: int) -> Iterator[Varied]:
    most = float(MOST_CARRIERS if production.beside is None else MOST_OF_A_KIND)
    for target, kind in production.counted:
        name = CARRIERS if target == CARRIERS else f"{kind.carrier} {CARRIERS}"
        yield Varied(
            name, Sort.CARRIERS, target, unit("ea"), float(kind.system.carriers), 1.0, most,
            (place,), f"the number of {kind.carrier}s", "is",
        )  # fmt: skip


def _pile(pile: Pile, measured: Unit, place: int) -> Iterator[Varied]:
    for name, target, written, per, subject in (
        ("pile", PILE_HOLDS, pile.holds, measured, "the room of the pile"),
        (
            "pile rate",
            PILE_COMES,
            pile.comes,
            unit(f"{measured.name}/hr"),
            "what comes to it",
        ),
    ):
        base = written.base_value / float(per.factor)
        yield Varied(
            name, Sort.INPUT, target, per, base, _SMALLEST, _LARGEST, (place,), subject, "is"
        )


def _kind_times(production: Production, place: int) -> Iterator[Varied]:
    at_stations = production.minutes_at_stations
    yield Varied(
        f"{production.carrier} {TURNAROUND}", Sort.TURNAROUND, production.carrier, unit("min"),
        production.turnaround_minutes, max(at_stations, _SMALLEST), _LARGEST, (place,),
        f"the {production.carrier}'s round trip", "stays",
    )  # fmt: skip
    for step in production.system.cycle:
        number, unit_name = own_number(production, step.name)
        what = "time" if unit_name == "min" else "distance" if unit_name == "ft" else "rate"
        yield Varied(
            f"{step.name} {what}", Sort.STEP, step.name, unit(unit_name), number,
            _SMALLEST, _LARGEST, (place,), f"{step.name} {what}", "is",
        )  # fmt: skip


def may_vary_carriers(prepared: PreparedMethod) -> bool:
    """Whether it is known what one more carrier brings: said, hired, or the crew has no machine."""
    production = prepared.method.production
    machines = any(one.line.is_crew and one.rate.kind == "equipment" for one in prepared.lines)
    return production is not None and (production.says_who_comes or not machines)


def _day_worth(comparison: Comparison) -> Varied:
    worth, places = float(comparison.day_worth), tuple(range(len(comparison.prepared)))
    return Varied(
        DAY_WORTH, Sort.DAY_WORTH, DAY_WORTH, unit("$/day"), worth, 0.0, _LARGEST, places,
        "a day", "is worth",
    )  # fmt: skip
