"""A method with all that pricing needs, looked up once: lines, rates, inputs, markups."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

import numpy as np
import numpy.typing as npt

from estimator.assemblies.assembly import Assembly, AssemblyLine
from estimator.assemblies.markups import Markup
from estimator.assemblies.over_slope import Slopes
from estimator.assemblies.tables import Tables
from estimator.errors import Faults, RateMissing
from estimator.quantity.formulas import Formula
from estimator.rates.labor.work_week import STRAIGHT_TIME, WorkWeek
from estimator.rates.resources import ResourceRate
from estimator.scope.input_value import InputValue
from estimator.scope.methods.method import Method
from estimator.scope.methods.method_work import (
    method_inputs,
    method_lines,
    slopes_of,
)

Values = npt.NDArray[np.float64]


@dataclass(frozen=True)
class PricedLine:
    """One line of a method, with the row that prices it and the decimals of its quantity."""

    line: AssemblyLine
    rate: ResourceRate
    decimals: int


@dataclass(frozen=True)
class PreparedMethod:
    """A method with all that pricing it needs.

    Parameters
    ----------
    method : Method
        As the scope lists it.
    assembly : Assembly
        Its assembly; without the assembly's own hours where a system gives them.
    lines : tuple of PricedLine
        The crew first; each order is made for this work alone.
    kept : PricedLine or None
        What is kept, as if it were bought.
    inputs : mapping of str to float array of shape ()
        All inputs in base units, and `shift`.
    markups : tuple of Markup
        Percentages that its cash bears.
    """

    method: Method
    assembly: Assembly
    lines: tuple[PricedLine, ...]
    kept: PricedLine | None
    inputs: Mapping[str, Values]
    markups: tuple[Markup, ...]

    @cached_property
    def slopes(self) -> Slopes | None:
        """How depths of its inputs are spread; a varied depth keeps its slope."""
        return slopes_of([self.method.inputs])

    def with_rates(self, rates: Mapping[int, ResourceRate]) -> PreparedMethod:
        """Return the method with other rates for some lines, by their number from 1."""
        lines = (
            replace(one, rate=rates.get(number, one.rate))
            for number, one in enumerate(self.lines, start=1)
        )
        return replace(self, lines=tuple(lines))

    @property
    def resources(self) -> tuple[str, ...]:
        """Codes of the resources it uses, each once, what is kept last."""
        lines = (*self.lines, self.kept) if self.kept else self.lines
        return tuple(dict.fromkeys(one.rate.code for one in lines))


def prepared_method(
    method: Method,
    shift: InputValue,
    tables: Tables,
    on: date,
    markups: tuple[Markup, ...],
    week: WorkWeek = STRAIGHT_TIME,
) -> PreparedMethod:
    """Return a method ready to be priced at the rates of a day, in a week of work.

    Raises
    ------
    RateMissing
        If a resource has no rate on that day, naming each one.
    """
    faults = Faults()
    lines = tuple(_rated(method_lines(method, tables), tables, on, faults, week))
    kept = tuple(_rated(_kept_lines(method), tables, on, faults, week))
    faults.raise_if_any(RateMissing)
    return PreparedMethod(
        method,
        method.paced_assembly,
        lines,
        kept[0] if kept else None,
        method_inputs(method, shift),
        markups,
    )


def work_alone(method: Method, shift: InputValue) -> PreparedMethod:
    """Return a method without anything that costs: enough to tell how much work it does."""
    inputs = method_inputs(method, shift)
    return PreparedMethod(method, method.paced_assembly, (), None, inputs, ())


def _kept_lines(method: Method) -> tuple[AssemblyLine, ...]:
    if method.kept is None:
        return ()
    return (_plain_line(method.kept.resource, method.kept.quantity, method),)


def _plain_line(resource: str, quantity: Formula, method: Method) -> AssemblyLine:
    return AssemblyLine(
        resource, quantity, None, None, None, "item", is_crew=False, origin=method.assembly.origin
    )


def _rated(
    lines: tuple[AssemblyLine, ...], tables: Tables, on: date, faults: Faults, week: WorkWeek
) -> Iterator[PricedLine]:
    for line in lines:
        try:
            rate = week.paid(tables.rates.rate_on(line.resource, on))
        except RateMissing as error:
            faults.take("", error)
            continue
        yield PricedLine(line, rate, tables.precision.of(rate.unit))
