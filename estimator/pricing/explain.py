"""The working of any figure: from a line's cents back to measures, formula, rate and source."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from estimator.assemblies.assembly import (
    AssemblyLine,
)
from estimator.assemblies.needs import CallOut, line_need
from estimator.assemblies.over_slope import evaluated
from estimator.assemblies.tables import Tables
from estimator.money import RATE_DECIMALS, dollars, exact_arithmetic, from_fixed_point, money_text
from estimator.pricing.cost_line import CostLine
from estimator.pricing.item_work import rated_lines
from estimator.pricing.moved_rates import moved_line
from estimator.pricing.own_material import at_no_cost
from estimator.pricing.priced_lines import extended_cents, rate_fields
from estimator.pricing.quantity_steps import QuantitySteps, only_value, trimmed
from estimator.pricing.stated_lines import leads_to_stated, stated_steps
from estimator.quantity.rounding import scaled_half_up, whole_above
from estimator.quantity.units import counted
from estimator.rates.labor.work_week import STRAIGHT_TIME, WorkWeek
from estimator.rates.resources import ResourceRate
from estimator.scope.input_value import InputValue
from estimator.scope.scope import Item


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


def explanation_as_stored(line: CostLine, made_with: str) -> Explanation:
    """Return what is known of a line whose working this version does not come to.

    Parameters
    ----------
    line : CostLine
        As it was stored.
    made_with : str
        Which version of the program priced it, in words.
    """
    steps = (
        _extension(line),
        f"rate from {line.rate_row}: {line.source}",
        f"priced with {made_with} of the program; this one does not come to the same figures, so "
        "only what was stored is shown",
    )
    return Explanation(_title(line), steps)


def _title(line: CostLine) -> str:
    return f"{line.item}/{line.line} {line.name} ({line.kind})"


@exact_arithmetic
class ItemExplainer:
    """The working of the lines of one item; no other item is looked at.

    Parameters
    ----------
    item : Item
        What is worked out.
    shift : InputValue
        [hr/day] Length of the working day.
    tables : Tables
        What it was priced with.
    week : WorkWeek
        The week of its crew.
    """

    def __init__(
        self, item: Item, shift: InputValue, tables: Tables, week: WorkWeek = STRAIGHT_TIME
    ) -> None:
        self.item = item
        self.tables = tables
        self.week = week
        self.steps = QuantitySteps(item, shift, tables)

    def explanation(self, line: CostLine, on: date) -> Explanation:
        """Return the working of a line of the item, priced on a day."""
        moved = moved_line(line)
        if moved is not None:
            before = self.explanation(moved.before, on).steps
            return Explanation(_title(line), (*before, moved.step, _extension(line)))
        if self.item.stated is not None:
            return Explanation(_title(line), stated_steps(self.item.stated, line, on))
        rated = self._rated(line, on)
        assert rated is not None
        needs, rate = rated
        if rate.code in self.tables.catalogue.own_materials:
            return Explanation(_title(line), (*self._of_own(needs, rate), *_counted(line)))
        steps = (
            *self.steps.chosen(),
            *self.steps.toward(needs.formula),
            self.steps.need(needs, rate),
            *self._ordering(needs, rate, line),
            _extension(line),
            _rate_words(rate, on),
        )
        return Explanation(_title(line), steps)

    def leads_to(self, line: CostLine, on: date) -> bool:
        """Whether item, tables and formulas lead to this very line, to the cent.

        Of an order that a whole phase makes together the item's share is taken as it stands, if it
        is no less than the item needs and less than one multiple above it.

        Raises
        ------
        RateMissing
            If the tables have no rate for the resource of the line.
        """
        moved = moved_line(line)
        if moved is not None:
            return moved.leads_to(line) and self.leads_to(moved.before, on)
        if self.item.stated is not None:
            return leads_to_stated(self.item, line, self.tables, on)
        rated = self._rated(line, on)
        if rated is None:
            return False
        needs, rate = rated
        if rate.code in self.tables.catalogue.own_materials:
            return self._leads_to_own(line, rate, on)
        order = self.steps.order(needs, rate)
        above = line.ordered - int(order.ordered[0])
        is_shared = needs.ordered_per == "phase"
        is_order = 0 <= above < int(order.multiple[0]) if is_shared else above == 0
        rebuilt = line._replace(
            item=self.item.code, assembly=self.steps.assembly.code,
            **rate_fields(rate), decimals=self.tables.precision.of(rate.unit),
            net=int(order.net[0]), waste=int(order.waste[0]),
        )  # fmt: skip
        return is_order and rebuilt == line and extended_cents([line]) == [line.cents]

    def _rated(self, line: CostLine, on: date) -> tuple[AssemblyLine, ResourceRate] | None:
        """Return the assembly's line that a cost line comes from, and what prices it.

        A line beyond the assembly's own is own material: more of it, or what is bought for it.
        None where it comes from no line of the assembly.
        """
        lines = rated_lines(self.item, self.tables, on, self.week)
        if line.line <= len(lines):
            needs, rate = lines[line.line - 1]
            return needs, self._on_rent(line, rate, on)
        own = self.tables.catalogue.own_materials
        for needs, rate in lines:
            if rate.code in own and line.resource in (rate.code, own[rate.code].bought_as):
                return needs, rate
        return None

    def _on_rent(self, line: CostLine, rate: ResourceRate, on: date) -> ResourceRate:
        """Return the rate of a line, an average day if its machine is rented for a span.

        The span depends on the dates of the whole job: of that, the stored line alone is shown.
        """
        rent = self.tables.rents.rent_on(rate.code, on)
        if rent is None or line.rate_row != str(rent.origin):
            return rate
        return replace(
            rate,
            rate=from_fixed_point(line.rate, RATE_DECIMALS),
            low=None,
            high=None,
            set_on=rent.set_on,
            valid_until=rent.valid_until,
            source=line.source,
            origin=rent.origin,
        )

    def _of_own(self, needs: AssemblyLine, rate: ResourceRate) -> Iterator[str]:
        yield from self.steps.chosen()
        yield from self.steps.toward(needs.formula)
        yield self.steps.need(needs, rate)
        order = self.steps.order(needs, rate)
        decimals = self.tables.precision.of(rate.unit)
        needed = counted(f"{from_fixed_point(int(order.ordered[0]), decimals):,f}", rate.unit.name)
        yield f"with waste: {needed} of {rate.name}, of which this line is a part or all"

    def _leads_to_own(self, line: CostLine, rate: ResourceRate, on: date) -> bool:
        """Whether a line is own material at no cost or its value, or what is bought in its place.

        How much of each depends on the other items: of that, the stored line alone is shown.
        """
        bought_as = self.tables.catalogue.own_materials[rate.code].bought_as
        if line.resource == bought_as:
            rates = [self.tables.rates.rate_on(bought_as, on)]
        else:
            rates = [rate, at_no_cost(rate)]
        return any(line._replace(**rate_fields(one)) == line for one in rates) and (
            extended_cents([line]) == [line.cents]
        )

    def _ordering(self, needs: AssemblyLine, rate: ResourceRate, line: CostLine) -> Iterator[str]:
        """Yield what waste and the order multiple add."""
        needed = line.net + line.waste
        if needs.waste is not None:
            percent = Decimal(f"{only_value(evaluated(needs.waste, self.steps.values)) * 100:.2f}")
            adds = f"waste of {trimmed(percent)} % adds {_scaled(line.waste, line)}"
            yield f"{adds}: {_scaled(needed, line)}"
        need = line_need(needs, self.steps.values, rate.unit, 1)
        least = need.minimum
        charged = 0 if least is None else int(scaled_half_up(least, line.decimals)[0])
        if need.call_out is not None:
            yield from _called_out(need.call_out, line)
            return
        if 0 < needed < charged:
            yield f"a minimum is charged: {_scaled(charged, line)}"
        if needs.order_multiple is not None:
            for_whom = "the whole phase together" if needs.ordered_per == "phase" else "this item"
            multiple = _scaled(int(self.steps.order(needs, rate).multiple[0]), line)
            yield (
                f"ordered for {for_whom} in multiples of {multiple}: "
                f"{_scaled(line.ordered, line)}, of which {_scaled(line.left_over, line)} is left "
                "over"
            )


def _called_out(call_out: CallOut, line: CostLine) -> Iterator[str]:
    """Yield how many are called out, and what they are paid beyond their hours."""
    number, days = only_value(call_out.number), only_value(whole_above(call_out.days))
    if line.left_over:
        each = f"each of {number:g} is" if number > 1 else "it is"
        on = f"{days:g} days, each" if days > 1 else "one day,"
        yield (
            f"{each} called out on {on} paid by its own minimum and multiple: "
            f"{_scaled(line.ordered, line)}, with {_scaled(line.left_over, line)} of it not worked"
        )


def _extension(line: CostLine) -> str:
    rate = from_fixed_point(line.rate, RATE_DECIMALS)
    per = f"${trimmed(rate, least=2)} per {line.unit}"
    return f"{_scaled(line.ordered, line)} x {per} = {money_text(dollars(line.cents))}"


def _rate_words(rate: ResourceRate, on: date) -> str:
    sentence = f"rate from {rate.origin}, of {rate.set_on}: {rate.source}"
    if rate.low is not None or rate.high is not None:
        low, high = (
            "?" if one is None else f"${trimmed(one, least=2)}" for one in (rate.low, rate.high)
        )
        sentence += f" (range {low} to {high})"
    if rate.has_expired(on):
        sentence += f"; the quote expired on {rate.valid_until}"
    if not rate.is_paid:
        sentence += "; no cash: counted in the full cost only"
    return sentence


def _counted(line: CostLine) -> Iterator[str]:
    """Yield the extension of a line of own material, and where its rate comes from."""
    yield _extension(line)
    yield f"rate from {line.rate_row}: {line.source}"


def _scaled(scaled: int, line: CostLine) -> str:
    return counted(f"{from_fixed_point(scaled, line.decimals):,f}", line.unit)
