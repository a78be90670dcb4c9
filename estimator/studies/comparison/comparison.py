"""The methods of one item side by side: cost, days, what a day is worth, and which is best.

A method is judged by its full cost, what its days cost on the site, and nothing else: a dearer but
faster one wins where a day is worth enough.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cached_property

from estimator.assemblies.cautions import Caution
from estimator.assemblies.markups import Markup
from estimator.assemblies.tables import Tables
from estimator.errors import (
    Faults,
    MethodsFaulty,
    RateMissing,
    ScopeFaulty,
    did_you_mean,
    fault,
    how_many,
    quoted,
)
from estimator.money import exact_arithmetic, from_fixed_point, round_to_cent
from estimator.quantity.rounding import scaled_half_up
from estimator.quantity.units import counted
from estimator.rates.exact_inputs import exact_inputs
from estimator.scope.methods.method import Method
from estimator.scope.methods.rising_fill import RisingFill, rising_fill
from estimator.scope.scope import Item, Scope
from estimator.studies.comparison.first_day import ItemStart, item_start
from estimator.studies.comparison.method_prices import MethodPrices, method_prices
from estimator.studies.comparison.method_result import DAY_DECIMALS, MethodResult, method_result
from estimator.studies.comparison.prepared_method import PreparedMethod, prepared_method, work_alone
from estimator.studies.comparison.rates_by_dates import DatedJob, dated_job

SAME_WORK = 0.01
_NEARLY_SAME_WORK = 0.05
_CHOICE = 2


@exact_arithmetic
@dataclass(frozen=True)
class Comparison:
    """The methods of an item, priced and ready to be priced again with other values.

    Parameters
    ----------
    project : str
        Name of the project.
    item : Item
        The piece of work.
    quantity : Decimal
        [unit of the item] By its own assembly, as it is printed.
    on : date
        Pricing date.
    prepared : tuple of PreparedMethod
        In the order of the scope.
    as_written : tuple of MethodPrices
        What each comes to as the scope has it.
    day_worth : Decimal
        [$/day]
    results : tuple of MethodResult
        One for each method, in the order of the scope.
    cautions : tuple of Caution
        Of all assemblies in play, each once.
    rises : tuple of RisingFill or None
        How the fill of each method rises, if the item states a level.
    start : ItemStart or None
        When the item begins, if the scope has a calendar.
    by_dates : tuple of MethodResult
        As `results`, with rents and prices by the dates of the job, as the estimate has them; none
        where these change none.
    """

    project: str
    item: Item
    quantity: Decimal
    on: date
    prepared: tuple[PreparedMethod, ...]
    as_written: tuple[MethodPrices, ...]
    day_worth: Decimal
    results: tuple[MethodResult, ...]
    cautions: tuple[Caution, ...]
    rises: tuple[RisingFill | None, ...]
    start: ItemStart | None = None
    by_dates: tuple[MethodResult, ...] = ()

    @cached_property
    def competing(self) -> tuple[int, ...]:
        """Places of the methods that can be done: nothing is in the way of their machine."""
        return tuple(n for n, one in enumerate(self.prepared) if not one.method.obstacle)

    @cached_property
    def possible(self) -> tuple[MethodResult, ...]:
        """What the methods that can be done come to."""
        return tuple(self.results[place] for place in self.competing)

    @cached_property
    def cheapest(self) -> MethodResult:
        """The method that costs least in all of those that can be done; the first of equals."""
        return min(self.possible, key=lambda one: one.in_all)

    @cached_property
    def fastest(self) -> MethodResult:
        """The method of the fewest days of those that can be done; the first of equals."""
        return min(self.possible, key=lambda one: round(one.days, DAY_DECIMALS))

    def methods_with(self, caution: Caution) -> tuple[int, ...]:
        """Return the places of the methods that a caution belongs to; none if to all of them.

        Parameters
        ----------
        caution : Caution
            One of `cautions`.
        """
        places = [
            place
            for place, one in enumerate(self.results)
            if caution.code in one.method.assembly.cautions
        ]
        return tuple(places) if len(places) < len(self.results) else ()

    def result(self, name: str) -> MethodResult:
        """Return the result of a method by its name.

        Raises
        ------
        MethodsFaulty
            If no method has this name.
        """
        return self.results[self.place(name)]

    def place(self, name: str) -> int:
        """Return the place of the method that a name, or a part of one, points to.

        Raises
        ------
        MethodsFaulty
            If no method has it in its name, or several have.
        """
        names = [one.method.name for one in self.prepared]
        wanted = name.strip().lower()
        same = [n for n, known in enumerate(names) if known.lower() == wanted]
        places = same or [n for n, known in enumerate(names) if wanted and wanted in known.lower()]
        if len(places) == 1:
            return places[0]
        what = "is in several names" if places else "is not a method"
        raise fault(MethodsFaulty, f"{quoted(name)} {what}", did_you_mean(name, names))


@exact_inputs(MethodsFaulty, day_worth="$/day")
def compare(
    scope: Scope,
    tables: Tables,
    on: date,
    item_code: str,
    day_worth: Decimal | None = None,
    least_methods: int = _CHOICE,
) -> Comparison:
    """Return the comparison of the methods that a scope lists for an item.

    Parameters
    ----------
    scope : Scope
        That lists the methods.
    tables : Tables
        Rates and assemblies.
    on : date
        The pricing date.
    item_code : str
        Cost code.
    day_worth : Decimal or None
        [$/day] What a day sooner is worth; None for what the scope says, or nothing.
    least_methods : int
        How many the item must list: one is enough where what is left is priced by it as it is and
        with one more machine.

    Raises
    ------
    ScopeFaulty
        If there is no such item.
    MethodsFaulty
        If it has fewer methods, no machine of any passes the opening, one does not do the
        item's work, or its values lead to no sensible quantity.
    RateMissing
        If a resource has no rate on that day.

    Notes
    -----
    Only percentage markups are counted: a fixed sum is the same for every method. Machines are
    rented by single days, at the prices of the day, so that what is said of other values holds;
    `by_dates` has what the dates of the job make of each method as it is written.
    """
    item = _item(scope, item_code, least_methods)
    _check_passage(item)
    job = dated_job(scope, tables, on)
    prepared = _prepared(scope, item, tables, on)
    quantity = _quantity(scope, item, tables)
    worth = _worth(scope, day_worth)
    as_written = tuple(method_prices(one) for one in prepared)
    results = [
        method_result(one, prices, quantity, worth)
        for one, prices in zip(prepared, as_written, strict=True)
    ]
    _check_same_work(item, quantity, results)
    codes = {code for one in item.methods for code in one.assembly.cautions}
    known = tables.catalogue.cautions
    return Comparison(
        project=scope.project,
        item=item,
        quantity=quantity,
        on=on,
        prepared=prepared,
        as_written=as_written,
        day_worth=worth,
        results=tuple(results),
        cautions=tuple(caution for code, caution in known.items() if code in codes),
        rises=tuple(rising_fill(one, scope.shift, item.level) for one in item.methods),
        start=item_start(job, item_code),
        by_dates=_by_dates(
            job,
            item,
            prepared,
            lambda one: method_result(one, method_prices(one), quantity, worth),
        ),
    )


def _item(scope: Scope, code: str, least_methods: int) -> Item:
    items = {item.code: item for item in scope.items}
    if code not in items:
        raise fault(ScopeFaulty, f"no item {quoted(code)}", did_you_mean(code, items))
    item = items[code]
    if len(item.methods) < least_methods:
        with_methods = [one.code for one in scope.items if len(one.methods) > 1]
        remedy = f"items with methods: {', '.join(with_methods)}" if with_methods else ""
        raise fault(
            MethodsFaulty,
            f"item {code} lists {how_many(len(item.methods), 'method')}, and a choice takes two",
            remedy or "list them under the item; docs/choosing-a-method.md shows how",
            item.where,
        )
    return item


def _check_passage(item: Item) -> None:
    obstacles = [one.obstacle for one in item.methods]
    if all(obstacles):
        raise fault(
            MethodsFaulty,
            f"no method can be done: {'; '.join(dict.fromkeys(obstacles))}",
            "list a smaller machine, or a method with through_opening: no",
            item.where,
        )


def _quantity(scope: Scope, item: Item, tables: Tables) -> Decimal:
    """Return how much work there is, by the item's own assembly, as it is printed."""
    own = Method(item.name, item.assembly, item.inputs, item.crew, where=item.where)
    decimals = tables.precision.of(item.assembly.unit)
    scaled = scaled_half_up(method_prices(work_alone(own, scope.shift)).quantity, decimals)
    return from_fixed_point(int(scaled[0]), decimals)


def _prepared(scope: Scope, item: Item, tables: Tables, on: date) -> tuple[PreparedMethod, ...]:
    markups = _percentages(scope, tables)
    tables.rates.refuse_early(on)
    prepared, faults = [], Faults()
    for method in item.methods:
        try:
            prepared.append(
                prepared_method(method, scope.shift, tables, on, markups, scope.work_week)
            )
        except RateMissing as error:
            faults.take(quoted(method.name), error)
    faults.raise_if_any(RateMissing)
    return tuple(prepared)


def _by_dates(
    job: DatedJob | None,
    item: Item,
    prepared: Sequence[PreparedMethod],
    result: Callable[[PreparedMethod], MethodResult],
) -> tuple[MethodResult, ...]:
    """Return the results at the rates that the dates of the job make; none if they change none."""
    rates = [{} if job is None else job.rates(item, one.method) for one in prepared]
    if not any(rates):
        return ()
    return tuple(map(result, map(PreparedMethod.with_rates, prepared, rates)))


def _percentages(scope: Scope, tables: Tables) -> tuple[Markup, ...]:
    codes = tables.markups if scope.markups is None else dict.fromkeys(scope.markups)
    return tuple(one for code in codes if (one := tables.markups[code]).percent is not None)


def _worth(scope: Scope, stated: Decimal | None) -> Decimal:
    if stated is not None:
        return stated
    if scope.day_worth is None:
        return Decimal(0)
    exact = scope.day_worth.value
    return round_to_cent(Decimal(exact.numerator) / Decimal(exact.denominator))


def _check_same_work(item: Item, quantity: Decimal, results: Sequence[MethodResult]) -> None:
    """Refuse a method that does another quantity of work: its cost would tell nothing."""
    faults = Faults()
    for one in results:
        stands_for, allowed = one.method.stands_for, SAME_WORK
        done = one.quantity
        if stands_for is not None:
            done *= stands_for.base_value * float(one.method.assembly.unit.factor)
            done, allowed = done / float(item.assembly.unit.factor), _NEARLY_SAME_WORK
        if abs(done - float(quantity)) > allowed * float(quantity):
            does = counted(f"{done:,.2f}", item.assembly.unit.name)
            faults.add(
                f"{one.method.where}, {quoted(one.method.name)}".strip(", "),
                f"does {does}; item {item.code} is {quantity:,}",
                "give it the measures of the same work, or another stands_for",
            )
    faults.raise_if_any(MethodsFaulty)
