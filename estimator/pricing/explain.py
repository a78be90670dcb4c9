"""The working of any figure: from a line's cents back to measures, formula, rate and source."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

import numpy as np

from estimator.assemblies.assembly import (
    CREW_HOURS,
    PRODUCTION_RATE,
    QUANTITY,
    SHIFT,
    AssemblyInput,
    AssemblyLine,
)
from estimator.assemblies.needs import worked_out
from estimator.assemblies.tables import Tables
from estimator.errors import ScopeFaulty, did_you_mean, fault, quoted
from estimator.money import dollars, from_fixed_point, money_text
from estimator.pricing.engine import PricedScope
from estimator.pricing.priced_lines import PricedLines
from estimator.quantity.formulas import Formula, read_formula
from estimator.quantity.units import Unit, unit
from estimator.rates.resources import ResourceRate
from estimator.scope.scope import Item, Scope

_MORE_DECIMALS = 2
_CREW_HOURS_FORMULA = read_formula(f"{QUANTITY} / {PRODUCTION_RATE}")


@dataclass(frozen=True)
class Explanation:
    """The working of one cost line.

    Parameters
    ----------
    title : str
        Which line it is.
    steps : tuple of str
        Each step with its numbers, from the measures to the amount, then where the rate is from.
    """

    title: str
    steps: tuple[str, ...]

    def __str__(self) -> str:
        return f"{self.title}: " + "; ".join(self.steps) + "."


def explain_line(
    scope: Scope, tables: Tables, priced: PricedScope, item_code: str, number: int, on: date
) -> Explanation:
    """Return the working of one line of a priced scope.

    Parameters
    ----------
    item_code : str
        The cost code, `phase.item`.
    number : int
        Number of the line within the item, from 1.
    on : date
        The pricing date.

    Raises
    ------
    ScopeFaulty
        If there is no such item or line.
    """
    position = _position(scope, item_code)
    lines = priced.lines
    at = np.flatnonzero((lines.item == position) & (lines.number == number)).tolist()
    if not at:
        last = int(lines.number[lines.item == position].max())
        raise fault(
            ScopeFaulty, f"item {item_code} has no line {number}", f"its lines are 1 to {last}"
        )
    item = scope.items[position]
    working = _Working(item, scope, tables)
    _, line = lines.assembly_lines[int(lines.kind_of_line[at[0]])]
    rate = lines.rates[int(lines.kind_of_line[at[0]])]
    steps = (
        *working.toward(line.formula),
        working.need(line, rate),
        *_ordering(line, rate, lines, at[0], working),
        _extension(rate, lines, at[0]),
        _rate_words(rate, on),
    )
    return Explanation(f"{item.code}/{number} {rate.name} ({rate.kind})", steps)


def line_numbers(scope: Scope, priced: PricedScope, item_code: str) -> tuple[int, ...]:
    """Return the numbers of the lines of an item, in order.

    Raises
    ------
    ScopeFaulty
        If there is no such item.
    """
    position = _position(scope, item_code)
    return tuple(priced.lines.number[priced.lines.item == position].tolist())


def _position(scope: Scope, item_code: str) -> int:
    codes = [item.code for item in scope.items]
    if item_code not in codes:
        raise fault(
            ScopeFaulty, f"there is no item {quoted(item_code)}", did_you_mean(item_code, codes)
        )
    return codes.index(item_code)


class _Working:
    """The values of one item by name, and how each is printed."""

    def __init__(self, item: Item, scope: Scope, tables: Tables) -> None:
        self.item = item
        self.tables = tables
        inputs = item.assembly.inputs
        base_values = {
            one.name: np.float64(
                item.inputs[one.name].base_value if one.name in item.inputs else one.base_default
            )
            for one in inputs
            if not one.is_derived
        }
        base_values[SHIFT] = np.float64(scope.shift.base_value)
        self.values = worked_out(item.assembly, bool(item.crew), base_values)  # type: ignore[arg-type]
        self.formulas = dict(item.assembly.steps)
        if item.crew:
            self.formulas.setdefault(CREW_HOURS, _CREW_HOURS_FORMULA)
        self.shown = {SHIFT: scope.shift.text} | dict(self._printed(inputs))

    def _printed(self, inputs: tuple[AssemblyInput, ...]) -> Iterator[tuple[str, str]]:
        for one in inputs:
            if one.name in self.item.inputs:
                yield one.name, _bracketed(self.item.inputs[one.name].text)
            elif one.default is not None:
                yield one.name, _number_text(one.default, one.unit)
        for name in self.formulas:
            yield name, self.amount(float(self.values[name]), self.unit_of(name))

    def unit_of(self, name: str) -> Unit:
        if name == QUANTITY:
            return self.item.assembly.unit
        known: Mapping[str, AssemblyInput] = self.item.assembly.input_by_name
        return known[name].unit if name in known else unit("hr")

    def amount(self, base_value: float, one: Unit) -> str:
        """Return a worked-out value in print, with two decimals more than its unit prints with."""
        decimals = self.tables.precision.of(one) + _MORE_DECIMALS
        return _number_text(Decimal(f"{base_value / float(one.factor):.{decimals}f}"), one)

    def toward(self, formula: Formula) -> list[str]:
        """Return the steps that work out the names of a formula, each once, in order."""
        needed = _needed(formula, self.formulas)
        return [
            f"{name} = {step.text} = {step.with_values(self.shown)} = {self.shown[name]}"
            for name, step in self.formulas.items()
            if name in needed
        ]

    def need(self, line: AssemblyLine, rate: ResourceRate) -> str:
        amount = self.amount(float(line.formula.evaluate(self.values)), rate.unit)
        text = line.formula.text
        values = line.formula.with_values(self.shown)
        if text == amount or values == amount:
            return f"need = {amount}"
        return f"need = {text} = {values} = {amount}"

    def fraction_words(self, formula: Formula) -> str:
        percent = Decimal(f"{float(formula.evaluate(self.values)) * 100:.2f}")
        return f"{_trimmed(percent)} %"


def _needed(formula: Formula, formulas: Mapping[str, Formula]) -> set[str]:
    """Return the worked-out names that a formula needs, directly or through others."""
    needed: set[str] = set()
    waiting = [formula]
    while waiting:
        for name in waiting.pop().names & formulas.keys() - needed:
            needed.add(name)
            waiting.append(formulas[name])
    return needed


def _ordering(
    line: AssemblyLine, rate: ResourceRate, lines: PricedLines, at: int, working: _Working
) -> Iterator[str]:
    """Yield what waste and the order multiple add."""
    net, waste, ordered = (int(x[at]) for x in (lines.net, lines.waste, lines.ordered))
    multiple, decimals = int(lines.multiple[at]), int(lines.decimals[at])

    def text(scaled: int) -> str:
        return _scaled_text(scaled, decimals, rate.unit)

    if line.waste is not None:
        percent = working.fraction_words(line.waste)
        yield f"waste of {percent} adds {text(waste)}: {text(net + waste)}"
    if line.minimum is not None and ordered > net + waste:
        yield f"a minimum is charged: {text(ordered)}"
    if line.order_multiple is not None:
        together = (
            "for the whole phase together" if line.ordered_per == "phase" else "for this item"
        )
        yield (
            f"ordered {together} in whole multiples of {text(multiple)}: {text(ordered)}, "
            f"of which {text(ordered - net - waste)} is left over"
        )


def _extension(rate: ResourceRate, lines: PricedLines, at: int) -> str:
    ordered = _scaled_text(int(lines.ordered[at]), int(lines.decimals[at]), rate.unit)
    amount = money_text(dollars(int(lines.cents[at])))
    per = f"${_trimmed(rate.rate, least=2)} per {rate.unit.name}"
    return f"{ordered} x {per} = {amount}"


def _rate_words(rate: ResourceRate, on: date) -> str:
    said = f"rate from {rate.origin}, of {rate.set_on}: {rate.source}"
    if rate.low is not None or rate.high is not None:
        low, high = (
            "?" if one is None else f"${_trimmed(one, least=2)}" for one in (rate.low, rate.high)
        )
        said += f" (range {low} to {high})"
    if rate.has_expired(on):
        said += f"; the quote ran out on {rate.valid_until}"
    if not rate.is_paid:
        said += "; not paid in cash, counted in the full cost only"
    return said


def _bracketed(text: str) -> str:
    return f"({text})" if text.startswith(("average", "mean")) else text


def _scaled_text(scaled: int, decimals: int, one: Unit) -> str:
    return f"{from_fixed_point(scaled, decimals):,f} {one.name}"


def _number_text(number: Decimal, one: Unit) -> str:
    if one.name == "fraction":
        return _trimmed(number)
    if one.name == "$":
        return f"${number:,.2f}"
    return f"{_trimmed(number)} {one.name}"


def _trimmed(number: Decimal, least: int = 0) -> str:
    """Return a number without needless zeros, with at least so many decimals."""
    whole = Fraction(number)
    decimals = next(n for n in range(least, 13) if (whole * 10**n).denominator == 1 or n == 12)
    return f"{number:,.{decimals}f}"
