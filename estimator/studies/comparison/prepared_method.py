"""A method with all that pricing needs, looked up once: lines, rates, inputs, markups."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

import numpy as np
import numpy.typing as npt

from estimator.assemblies.assembly import CREW_HOURS, SHIFT, Assembly, AssemblyLine
from estimator.assemblies.markups import Markup
from estimator.assemblies.tables import Tables
from estimator.errors import Faults, RateMissing
from estimator.production.many_outputs import Outputs, many_outputs, minutes_by_place
from estimator.quantity.formulas import Formula, read_formula
from estimator.rates.resources import ResourceRate
from estimator.scope.input_value import InputValue
from estimator.scope.methods.method import Hired, Method

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

    @property
    def has_crew_hours(self) -> bool:
        """Whether hours at work follow from a pace, of the assembly or of a system."""
        return bool(self.method.crew) or self.method.production is not None

    @property
    def resources(self) -> tuple[str, ...]:
        """Codes of the resources it uses, each once, what is kept last."""
        lines = (*self.lines, self.kept) if self.kept else self.lines
        return tuple(dict.fromkeys(one.rate.code for one in lines))

    @cached_property
    def outputs(self) -> Outputs | None:
        """What its system puts out with the times as they are written; None without a system."""
        production = self.method.production
        if production is None:
            return None
        times = minutes_by_place(production.system)
        return many_outputs(production.system, times, production.placing, production.lifts)


def prepared_method(
    method: Method, shift: InputValue, tables: Tables, on: date, markups: tuple[Markup, ...]
) -> PreparedMethod:
    """Return a method ready to be priced at the rates of a day.

    Raises
    ------
    RateMissing
        If a resource has no rate on that day, naming each one.
    """
    faults = Faults()
    assembly = _paced(method)
    hired = {one.resource: one for one in method.production.hired} if method.production else {}
    lines = tuple(
        PricedLine(_ordered_alone(_paid_while_there(line, hired, method)), rate, decimals)
        for line, rate, decimals in _rated(
            tables.lines_of(method.assembly, method.crew), tables, on, faults
        )
    )
    kept = tuple(PricedLine(*one) for one in _rated(_kept_lines(method), tables, on, faults))
    faults.raise_if_any(RateMissing)
    return PreparedMethod(
        method,
        assembly,
        lines,
        kept[0] if kept else None,
        _input_values(assembly, method, shift),
        markups,
    )


def work_alone(method: Method, shift: InputValue) -> PreparedMethod:
    """Return a method without anything that costs: enough to tell how much work it does."""
    assembly = _paced(method)
    return PreparedMethod(method, assembly, (), None, _input_values(assembly, method, shift), ())


def _paced(method: Method) -> Assembly:
    """Return the assembly; where a system gives the pace, its own working hours are left out."""
    if method.production is None:
        return method.assembly
    inputs = tuple(one for one in method.assembly.inputs if one.name != CREW_HOURS)
    return replace(method.assembly, inputs=inputs)


def _paid_while_there(
    line: AssemblyLine, hired: Mapping[str, Hired], method: Method
) -> AssemblyLine:
    """Return a line that counts the hours of all that are hired, no less than the assembly's."""
    if line.resource not in hired or method.production is None:
        return line
    number = hired[line.resource].number
    many = method.production.system.carriers if number is None else number
    return replace(line, formula=read_formula(f"max({line.formula.text}, {many} * {CREW_HOURS})"))


def _ordered_alone(line: AssemblyLine) -> AssemblyLine:
    return replace(line, ordered_per="item")


def _kept_lines(method: Method) -> tuple[AssemblyLine, ...]:
    if method.kept is None:
        return ()
    return (_plain_line(method.kept.resource, method.kept.quantity, method),)


def _plain_line(resource: str, quantity: Formula, method: Method) -> AssemblyLine:
    return AssemblyLine(
        resource, quantity, None, None, None, "item", is_crew=False, origin=method.assembly.origin
    )


def _rated(
    lines: tuple[AssemblyLine, ...], tables: Tables, on: date, faults: Faults
) -> Iterator[tuple[AssemblyLine, ResourceRate, int]]:
    for line in lines:
        try:
            rate = tables.rates.rate_on(line.resource, on)
        except RateMissing as error:
            faults.take("", error)
            continue
        yield line, rate, tables.precision.of(rate.unit)


def _input_values(assembly: Assembly, method: Method, shift: InputValue) -> dict[str, Values]:
    values = {SHIFT: np.asarray(shift.base_value)}
    for one in assembly.inputs:
        if not one.is_derived:
            entered = method.inputs.get(one.name)
            values[one.name] = np.asarray(entered.base_value if entered else one.base_default)
    return values
