"""Checks of one assembly: names that exist, dimensions that fit, steps in an order that works."""

from __future__ import annotations

from estimator.assemblies.assembly import (
    CREW_HOURS,
    LEAST_DAYS,
    PRODUCTION_RATE,
    QUANTITY,
    SHIFT,
    Assembly,
    AssemblyLine,
    Recovery,
)
from estimator.errors import Faults, FormulaFaulty, did_you_mean, how_many, quoted
from estimator.quantity.dimension_check import formula_dimension
from estimator.quantity.formulas import FUNCTIONS, Formula
from estimator.quantity.takeoff_functions import TAKE_OFF
from estimator.quantity.units import UNREADABLE, Unit, dimension_words, unit
from estimator.rates.precision import UnitPrecision
from estimator.rates.resources import RateTable

_RESERVED = (QUANTITY, SHIFT)


def check_assembly(
    assembly: Assembly,
    rates: RateTable,
    precision: UnitPrecision,
    faults: Faults,
) -> None:
    """Note every fault of an assembly that its rows, each by itself, do not show."""
    check = _AssemblyCheck(assembly, rates, precision, faults)
    check.inputs()
    check.crew()
    check.steps()
    for line in assembly.lines:
        check.line(line)
    for recovery in assembly.recoveries:
        check.recovery(recovery)


class _AssemblyCheck:
    def __init__(
        self, assembly: Assembly, rates: RateTable, precision: UnitPrecision, faults: Faults
    ) -> None:
        self.assembly = assembly
        self.rates = rates
        self.precision = precision
        self.faults = faults
        units = (assembly.unit, *(one.unit for one in assembly.inputs))
        self.units_are_readable = UNREADABLE not in units

    def inputs(self) -> None:
        for one in self.assembly.inputs:
            if one.name in _RESERVED or one.name in FUNCTIONS - TAKE_OFF.keys():
                self.faults.add(str(one.origin), f"input {quoted(one.name)} is a reserved name")
            elif not self._is_used(one.name):
                self.faults.add(
                    str(one.origin),
                    f"input {quoted(one.name)} is used by no formula",
                    "use it or remove it",
                )

    def _is_used(self, name: str) -> bool:
        if name in (PRODUCTION_RATE, CREW_HOURS):
            return bool(self.assembly.crew)
        if name == LEAST_DAYS:
            return True
        return any(name in formula.names for formula in self._formulas())

    def _formulas(self) -> list[Formula]:
        lines = self.assembly.lines
        of_lines = [(x.formula, x.waste, x.order_multiple, x.minimum) for x in lines]
        flat = [formula for group in of_lines for formula in group if formula is not None]
        recovered = [one.formula for one in self.assembly.recoveries]
        return flat + recovered + [formula for _, formula in self.assembly.steps]

    def crew(self) -> None:
        names = self.assembly.input_by_name
        if not (self.assembly.crew or self.assembly.lines or self.assembly.recoveries):
            self.faults.add(
                str(self.assembly.origin),
                f"assembly {quoted(self.assembly.code)} has neither crew nor lines",
                "add what it uses to assembly_lines.csv",
            )
        if not self.assembly.crew or CREW_HOURS in names:
            return
        wanted = self.assembly.unit.dimension.per(unit("hr").dimension)
        where = str(self.assembly.origin)
        rate_unit = f"{self.assembly.unit.name}/hr"
        if PRODUCTION_RATE not in names:
            self.faults.add(
                where,
                f"assembly {quoted(self.assembly.code)} has a crew but no production rate",
                f"add an input production_rate in {rate_unit}",
            )
        elif self.units_are_readable and names[PRODUCTION_RATE].unit.dimension != wanted:
            self.faults.add(
                str(names[PRODUCTION_RATE].origin),
                f"production_rate is per {names[PRODUCTION_RATE].unit.name}",
                f"write it in {rate_unit}",
            )

    def steps(self) -> None:
        """Check each worked-out name against its unit, in the order of working."""
        inputs = self.assembly.input_by_name
        known = {*self.assembly.settable, SHIFT}
        for name, formula in self.assembly.steps:
            one = inputs.get(name)
            where = str(one.origin if one else self.assembly.origin)
            wanted = (one or self.assembly).unit
            later = (formula.names & self.assembly.dimensions.keys()) - known
            if later:
                self.faults.add(
                    where,
                    f"formula {quoted(formula.text)} needs {quoted(min(later))}, which is "
                    "worked out after it",
                    "move it below",
                )
            else:
                self._fits(where, formula, wanted, f"{name} in {wanted.name}")
            known.add(name)

    def line(self, line: AssemblyLine) -> None:
        where = str(line.origin)
        if line.resource not in self.rates:
            if line.resource:
                remedy = did_you_mean(line.resource, self.rates.codes)
                self.faults.add(where, f"unknown resource {quoted(line.resource)}", remedy)
            return
        priced_per = self.rates.unit_of(line.resource)
        self._fits(where, line.formula, priced_per, f"{line.resource} per {priced_per.name}")
        if line.waste is not None:
            self._fits(where, line.waste, unit("fraction"), "waste, a fraction")
        for formula, what in ((line.order_multiple, "order_multiple"), (line.minimum, "minimum")):
            if formula is not None and formula.plain_number is None:
                self._fits(where, formula, priced_per, f"{what} in {priced_per.name}")
        self._check_order(where, line)

    def recovery(self, one: Recovery) -> None:
        """Check what an assembly brings: material, dimension, what it is sold and bought as."""
        where = str(one.origin)
        codes = [code for code in (one.material, one.sold_as, one.bought_as) if code]
        unknown = [code for code in codes if code not in self.rates]
        for code in unknown:
            remedy = did_you_mean(code, self.rates.codes)
            self.faults.add(where, f"unknown resource {quoted(code)}", remedy)
        if unknown or not one.material:
            return
        per = self.rates.unit_of(one.material)
        self._fits(where, one.formula, per, f"{one.material} per {per.name}")
        for code in codes[1:]:
            sold_per = self.rates.unit_of(code)
            if UNREADABLE not in (per, sold_per) and sold_per.dimension != per.dimension:
                self.faults.add(where, f"{quoted(code)} is not measured as {one.material} is")
        if self.rates.first_rate(one.material).is_paid:
            self.faults.add(
                where, f"{quoted(one.material)} is paid for: it is no material of your own",
                "write paid no in its row of resources.csv",
            )  # fmt: skip

    def _check_order(self, where: str, line: AssemblyLine) -> None:
        if line.ordered_per == "phase" and (line.order_multiple is None or line.minimum):
            self.faults.add(
                where,
                "is ordered per phase, which takes an order multiple and no minimum",
                "clear ordered_per or correct the two",
            )
        multiple = line.order_multiple.plain_number if line.order_multiple else None
        if multiple is None:
            return
        decimals = self.precision.of(self.rates.unit_of(line.resource))
        if multiple <= 0 or (multiple * 10**decimals).denominator != 1:
            text = line.order_multiple.text if line.order_multiple else ""
            most = f"number with at most {how_many(decimals, 'decimal')}"
            self.faults.add(
                where,
                f"order_multiple {text} is not a positive {most if decimals else 'whole number'}",
                "unit_precision.csv has the decimals of its unit",
            )

    def _fits(self, where: str, formula: Formula, wanted: Unit, what: str) -> None:
        if not self.units_are_readable or wanted == UNREADABLE:
            return
        try:
            dimension = formula_dimension(formula, self.assembly.dimensions)
        except FormulaFaulty as error:
            self.faults.take(where, error)
            return
        if dimension != wanted.dimension:
            self.faults.add(
                where,
                f"formula {quoted(formula.text)} gives {dimension_words(dimension)}, "
                f"not {dimension_words(wanted.dimension)} ({what})",
            )
