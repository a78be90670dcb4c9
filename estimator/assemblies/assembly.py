"""An assembly: one unit of finished work, made from resources by formulas of its inputs."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cached_property
from math import inf

from estimator.quantity.formulas import Formula
from estimator.quantity.units import Dimension, Unit, unit
from estimator.rates.rows import Origin

QUANTITY = "quantity"
SHIFT = "shift"
CREW_HOURS = "crew_hours"
PRODUCTION_RATE = "production_rate"
LEAST_DAYS = "least_days"

CREDIT_ANSWERS = ("yes", "no", "ask")


@dataclass(frozen=True)
class AssemblyInput:
    """A name that the formulas of an assembly use.

    Parameters
    ----------
    name : str
        As the scope and the formulas call it.
    unit : Unit
        The unit it is entered and printed in.
    default : Decimal or None
        In `unit`; None where the scope must give the input, or a formula works it out.
    least, most : Decimal or None
        In `unit`: what lies outside is refused as a slip of the pen.
    formula : Formula or None
        Works the input out from others; the scope cannot set it then.
    meaning : str
        What a person measures or decides here.
    source : str
        Where the default comes from.
    origin : Origin
        The row it stands in.
    note : str
        What else there is to say, such as why hours do not depend on it.
    """

    name: str
    unit: Unit
    default: Decimal | None
    least: Decimal | None
    most: Decimal | None
    formula: Formula | None
    meaning: str
    source: str
    origin: Origin
    note: str = ""

    @property
    def is_derived(self) -> bool:
        """Whether a formula works it out."""
        return self.formula is not None

    @property
    def is_required(self) -> bool:
        """Whether the scope must give it."""
        return self.formula is None and self.default is None

    @cached_property
    def base_default(self) -> float:
        """The default in base units."""
        return float(Fraction(self.default or 0) * self.unit.factor)

    @cached_property
    def base_range(self) -> tuple[Fraction | None, Fraction | None]:
        """The least and the most in base units, exactly."""
        least, most = (
            None if one is None else Fraction(one) * self.unit.factor
            for one in (self.least, self.most)
        )
        return least, most

    @cached_property
    def float_range(self) -> tuple[float, float]:
        """The floats nearest to the least and the most in base units."""
        least, most = self.base_range
        return -inf if least is None else float(least), inf if most is None else float(most)


@dataclass(frozen=True)
class AssemblyLine:
    """One resource of an assembly, or one member of its crew.

    Parameters
    ----------
    resource : str
        Code in the rate tables.
    formula : Formula
        The need, in base units.
    waste : Formula or None
        Fraction of the need that is lost.
    order_multiple, minimum : Formula or None
        A plain number is in the resource's unit, anything else in base units.
    ordered_per : str
        `item` or `phase`.
    is_crew : bool
        Whether it is a crew member's line.
    origin : Origin
        The row it stands in.
    hired : Formula or None
        How many are hired by the hour: minimum and order multiple are then each one's, each day.
    """

    resource: str
    formula: Formula
    waste: Formula | None
    order_multiple: Formula | None
    minimum: Formula | None
    ordered_per: str
    is_crew: bool
    origin: Origin
    hired: Formula | None = None


@dataclass(frozen=True)
class Recovery:
    """Own material that an assembly brings: what comes out of the building, or is on hand.

    Parameters
    ----------
    material : str
        Code of a material that is not paid.
    formula : Formula
        How much of it, in base units, with what is sold of it.
    sold_as, bought_as : str
        Codes of the salvage that it is sold as, and of the material that is bought where it runs
        short; empty where there is none.
    origin : Origin
        The row it stands in.
    """

    material: str
    formula: Formula
    sold_as: str
    bought_as: str
    origin: Origin


@dataclass(frozen=True)
class Assembly:
    """The assembly of one unit of finished work.

    Parameters
    ----------
    code, name : str
        The key, and the work in words.
    unit : Unit
        What one unit of finished work is.
    quantity : Formula
        The finished quantity, from the inputs.
    crew : str
        Who does it; empty for work that is bought.
    element : str
        UNIFORMAT II element, or empty.
    credit : str
        Whether such cost normally counts toward the rehabilitation credit: `yes`, `no`, `ask`.
    cautions : tuple of str
        Codes of the cautions shown beside the work.
    inputs : tuple of AssemblyInput
        In the order of the table.
    lines : tuple of AssemblyLine
        In order, without the crew.
    source : str
        Where the assembly comes from.
    origin : Origin
        The row it stands in.
    recoveries : tuple of Recovery
        Own material that it brings.
    note : str
        What is in it, and what is not.
    """

    code: str
    name: str
    unit: Unit
    quantity: Formula
    crew: str
    element: str
    credit: str
    cautions: tuple[str, ...]
    inputs: tuple[AssemblyInput, ...]
    lines: tuple[AssemblyLine, ...]
    source: str
    origin: Origin
    recoveries: tuple[Recovery, ...] = ()
    note: str = ""

    @property
    def is_on_hand(self) -> bool:
        """Whether it is no work, and only says what own material there is."""
        return bool(self.recoveries) and not self.crew and not self.lines

    @cached_property
    def input_by_name(self) -> Mapping[str, AssemblyInput]:
        """The inputs by name."""
        return {one.name: one for one in self.inputs}

    @cached_property
    def settable(self) -> Mapping[str, AssemblyInput]:
        """The inputs that a scope may give, by name."""
        return {one.name: one for one in self.inputs if not one.is_derived}

    @cached_property
    def required(self) -> tuple[AssemblyInput, ...]:
        """The inputs that a scope must give."""
        return tuple(one for one in self.inputs if one.is_required)

    @cached_property
    def steps(self) -> tuple[tuple[str, Formula], ...]:
        """The names that are worked out, with their formulas, in the order of working.

        Derived inputs stand in table order; those that need the quantity come after it, and the
        crew hours last, unless a derived input replaces them.
        """
        derived = [(one.name, one.formula) for one in self.inputs if one.formula is not None]
        late = {QUANTITY}
        for name, formula in derived:
            if formula.names & late:
                late.add(name)
        before = [(name, formula) for name, formula in derived if name not in late]
        after = [(name, formula) for name, formula in derived if name in late]
        return (*before, (QUANTITY, self.quantity), *after)

    @cached_property
    def dimensions(self) -> Mapping[str, Dimension]:
        """The dimension of every name that the formulas may use."""
        named = {one.name: one.unit.dimension for one in self.inputs}
        hours = {CREW_HOURS: unit("hr").dimension} if self.crew else {}
        fixed = {QUANTITY: self.unit.dimension, SHIFT: unit("hr/day").dimension}
        return named | hours | fixed
