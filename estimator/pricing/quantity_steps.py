"""What the measures of one item come to, step by step, each with its numbers in print."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal
from fractions import Fraction

import numpy as np
import numpy.typing as npt

from estimator.assemblies.assembly import (
    CREW_HOURS,
    PRODUCTION_RATE,
    QUANTITY,
    SHIFT,
    AssemblyInput,
    AssemblyLine,
)
from estimator.assemblies.needs import line_need, worked_out
from estimator.assemblies.ordering import Order, order_of
from estimator.assemblies.over_slope import OverSlope, evaluated
from estimator.assemblies.tables import Tables
from estimator.errors import how_many, quoted
from estimator.money import exact_arithmetic
from estimator.quantity.depth_profile import end_depths
from estimator.quantity.formulas import Formula, read_formula
from estimator.quantity.units import Unit, counted, unit
from estimator.rates.resources import ResourceRate
from estimator.scope.input_value import InputValue
from estimator.scope.methods.method import Production
from estimator.scope.methods.method_work import (
    PILE_COMES,
    PILE_HOLDS,
    method_inputs,
    method_values,
    pace_of,
    slopes_of,
)
from estimator.scope.scope import Item

Values = npt.NDArray[np.float64]

_MORE_DECIMALS = 2
_HAIR = 1e-9
_CREW_HOURS_FORMULA = read_formula(f"{QUANTITY} / {PRODUCTION_RATE}")


@exact_arithmetic
class QuantitySteps:
    """The values of one item by name, and how each is printed; no other item is looked at.

    Parameters
    ----------
    item : Item
        What is worked out.
    shift : InputValue
        [hr/day] Length of the working day.
    tables : Tables
        What it was priced with.
    """

    def __init__(self, item: Item, shift: InputValue, tables: Tables) -> None:
        self.item = item
        self.tables = tables
        self.method = item.method
        self.assembly = self.method.paced_assembly
        inputs = method_inputs(self.method, shift)
        slopes = slopes_of([self.method.inputs])
        self._inputs, self._slopes = inputs, {} if slopes is None else slopes.relative
        self.values = method_values(self.method, inputs, slopes)
        self.formulas = dict(self.assembly.steps)
        if self.method.has_crew_hours:
            self.formulas.setdefault(CREW_HOURS, _CREW_HOURS_FORMULA)
        of_system = dict(self._of_system(self.method.production, inputs))
        self.shown = {SHIFT: shift.text} | of_system | dict(self._printed(self.assembly.inputs))

    def _of_system(
        self, production: Production | None, inputs: Mapping[str, Values]
    ) -> Iterator[tuple[str, str]]:
        if production is None:
            return
        for name, _ in production.counted:
            yield name, f"{inputs[name]:g}"
        if production.pile is not None:
            yield PILE_HOLDS, production.pile.holds.text
            yield PILE_COMES, production.pile.comes.text

    def _printed(self, inputs: tuple[AssemblyInput, ...]) -> Iterator[tuple[str, str]]:
        for one in inputs:
            if one.name == PRODUCTION_RATE and self.method.production is not None:
                continue
            if one.name in self.method.inputs:
                yield one.name, _bracketed(self.method.inputs[one.name].text)
            elif one.default is not None:
                yield one.name, _number_text(one.default, one.unit)
        paced = (PRODUCTION_RATE,) if self.method.production is not None else ()
        for name in (*self.formulas, *paced):
            yield name, self._amount(only_value(self.values[name]), self._unit_of(name))

    def _unit_of(self, name: str) -> Unit:
        if name == QUANTITY:
            return self.assembly.unit
        if name == PRODUCTION_RATE:
            return self._per_hr
        known: Mapping[str, AssemblyInput] = self.assembly.input_by_name
        return known[name].unit if name in known else unit("hr")

    def _amount(self, base_value: float, one: Unit, more: int = 0) -> str:
        """Return a worked-out value in print, with two decimals more than its unit prints with."""
        decimals = self.tables.precision.of(one) + _MORE_DECIMALS + more
        return _number_text(Decimal(f"{base_value / float(one.factor):.{decimals}f}"), one)

    def toward(self, formula: Formula) -> list[str]:
        """Return the steps that work out the names of a formula, each once, in order."""
        needed = _needed(formula, self.formulas)
        steps = [
            sentence
            for name, step in self.formulas.items()
            if name in needed
            for sentence in self._step(name, step)
        ]
        return [*self._pace(), *steps] if CREW_HOURS in needed else steps

    def _step(self, name: str, formula: Formula) -> Iterator[str]:
        """Yield how a name is worked out; hours at the rate first where they are delayed."""
        delays = self.method.delays
        if delays is None or name != CREW_HOURS:
            yield f"{name} = {self._working(formula, self.shown[name], self._unit_of(name))}"
            return
        at_rate = self._amount(only_value(evaluated(formula, self.values)), unit("hr"))
        yield f"hours at the rate = {self._working(formula, at_rate, unit('hr'))}"
        yield f"{name} = {self.shown[name]}: {'; '.join(delays.words())}"

    def _working(self, formula: Formula, amount: str, one: Unit) -> str:
        """Return a formula, the same with its values, and what it comes to."""
        value = only_value(evaluated(formula, self.values))
        at_mean = only_value(formula.evaluate(self.values))
        if not isinstance(self.values, OverSlope) or abs(value - at_mean) <= _HAIR * abs(value):
            return f"{formula.text} = {formula.with_values(self.shown)} = {amount}"
        level = {name: text for name, text in self.shown.items() if name not in self.values.along}
        text = f"{formula.text} = {formula.with_values(level)}"
        return f"{text}, {self._over_slope(formula, value, amount, one)}"

    def _over_slope(self, formula: Formula, value: float, amount: str, one: Unit) -> str:
        """Return what a formula comes to over the slope, so that it can be done again by hand.

        Between two ends a formula up to the third power is, exactly, a sixth of what it is at the
        ends and four times halfway (Simpson's rule, the prismoidal formula of the trade).
        """
        half, deep = (self._station(formula, way, one) for way in (0, 1))
        if all(_is_even(by[:-1, 0], float(by[-1, 0])) for by in self._slopes.values()):
            shallow = self._station(formula, -1, one)
            sixth = (shallow[0] + 4 * half[0] + deep[0]) / 6
            if abs(sixth - value) <= _HAIR * abs(value):
                return f"over the slope ({shallow[1]} + 4 x {half[1]} + {deep[1]}) / 6 = {amount}"
        if abs(deep[0] - value) <= _HAIR * abs(value):
            return f"of the deepest: {deep[1]}"
        return (
            f"over the slope = {amount}: the mean of all its depths, where the average depth would "
            f"make {half[1]} and the deepest {deep[1]}; whole steps count at the deepest"
        )

    def _station(self, formula: Formula, way: int, one: Unit) -> tuple[float, str]:
        """Return a formula at one place of the slope, and the same in print with its depth.

        The way is 0 for the average depth, 1 for the deepest, -1 for as far on the other side.
        """
        depths = {
            name: self._inputs[name] * (1.0 + way * (float(by[-1, 0]) - 1.0))
            for name, by in self._slopes.items()
        }
        inputs = {**self._inputs, **depths}
        value = only_value(
            formula.evaluate(worked_out(self.assembly, self.method.has_crew_hours, inputs))
        )
        at = (
            f"{name} {self._amount(only_value(depth), self.assembly.input_by_name[name].unit)}"
            for name, depth in depths.items()
        )
        return value, f"{self._amount(value, one, 2)} at {' and '.join(at)}"

    def chosen(self) -> Iterator[str]:
        """Yield which of its methods the item is priced by."""
        if self.item.methods:
            yield f"priced by its method {quoted(self.method.name)}"

    def _pace(self) -> Iterator[str]:
        """Yield the pace and where it comes from, where the crew's hours follow from it."""
        pace = self.shown.get(PRODUCTION_RATE)
        if pace is None:
            return
        production = self.method.production
        if production is None:
            whose = "item" if PRODUCTION_RATE in self.method.inputs else "assembly"
            yield f"pace = {pace}: no working system, so the production rate of the {whose} holds"
            return
        at_best = float(pace_of(production).at_best_per_hr)
        who = " and ".join(_carriers_words(one) for one in production.kinds)
        slowed = ""
        if production.pile is not None:
            slowed = f", no faster than {production.pile.comes.text} come to its pile"
        yield (
            f"pace = {pace} with waiting lines ({self._amount(at_best, self._per_hr)} if nothing "
            f"varied), from the working system: {who}{slowed}"
        )

    @property
    def _per_hr(self) -> Unit:
        return unit(f"{self.assembly.unit.name}/hr")

    def need(self, line: AssemblyLine, rate: ResourceRate) -> str:
        """Return the step that comes to the need of a line of the assembly, without its waste."""
        amount = self._amount(only_value(evaluated(line.formula, self.values)), rate.unit)
        is_number = line.formula.plain_number is not None
        if is_number or amount in (line.formula.text, line.formula.with_values(self.shown)):
            return f"need = {amount}"
        return f"need = {self._working(line.formula, amount, rate.unit)}"

    def order(self, line: AssemblyLine, rate: ResourceRate) -> Order:
        """Return what is ordered for a line of the assembly, if for this item alone."""
        need = line_need(line, self.values, rate.unit, 1)
        return order_of(need, self.tables.precision.of(rate.unit))


def _carriers_words(kind: Production) -> str:
    """Return how many of a kind of carrier there are, and what each brings."""
    carriers, load = kind.system.carriers, kind.system.load
    many, each = how_many(carriers, kind.carrier), counted(f"{load.size:g}", load.unit)
    return f"{many} with {each} a load"


def only_value(values: Values) -> float:
    """Return the one value of an array of one item."""
    return float(np.ravel(values)[0])


def _is_even(relative: Values, deepest: float) -> bool:
    """Whether relative depths are those of an even slope between two ends."""
    even = end_depths([2.0 - deepest, deepest]).relative
    return bool(np.allclose(np.sort(relative), np.sort(even), rtol=0.0, atol=_HAIR))


def _needed(formula: Formula, formulas: Mapping[str, Formula]) -> set[str]:
    """Return the worked-out names that a formula needs, directly or through others."""
    needed: set[str] = set()
    waiting = [formula]
    while waiting:
        for name in waiting.pop().names & formulas.keys() - needed:
            needed.add(name)
            waiting.append(formulas[name])
    return needed


def _bracketed(text: str) -> str:
    return f"({text})" if text.startswith(("average", "mean")) else text


def _number_text(number: Decimal, one: Unit) -> str:
    if one.name == "fraction":
        return trimmed(number)
    if one.name == "$":
        return f"${number:,.2f}"
    return counted(trimmed(number), one.name)


def trimmed(number: Decimal, least: int = 0) -> str:
    """Return a number without needless zeros, with at least so many decimals."""
    whole = Fraction(number)
    decimals = next(n for n in range(least, 13) if (whole * 10**n).denominator == 1 or n == 12)
    return f"{number:,.{decimals}f}"
