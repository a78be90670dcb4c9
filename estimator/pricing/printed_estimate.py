"""An estimate as it is printed and kept: plain lines, sums and sentences; no scope, no tables."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import groupby
from typing import NamedTuple

from estimator import __version__
from estimator.assemblies.markups import MarkupAmount
from estimator.money import dollars
from estimator.pricing import summaries
from estimator.pricing.alternate_totals import AlternateTotal
from estimator.pricing.cost_line import CostLine, lines_digest
from estimator.pricing.estimate import CautionNote, Estimate
from estimator.pricing.own_material import FROM_THE_JOB, OwnMaterial
from estimator.pricing.rests_on import RestsOn
from estimator.quantity.units import Unit
from estimator.rates.kinds import KINDS
from estimator.rates.resources import ResourceRate
from estimator.scope.title_block import NO_TITLE, TitleBlock

Amounts = Mapping[str, Decimal]


class PrintedItem(NamedTuple):
    """An item: what is done, how much of it, and what it comes to.

    Parameters
    ----------
    item, name, assembly : str
        Cost code, the work in the scope's words, code of the assembly.
    quantity : Decimal
        [unit] Finished, with the decimals that it prints with.
    unit, crew : str
        Unit of the quantity, and the code of the crew; empty where none works.
    crew_hours : Decimal
        [hr]
    element, credit, note : str
        UNIFORMAT II element; `yes`, `no` or `ask`; a sentence for the printed estimate.
    cash, own : Decimal
        [$] Paid; value of unpaid labor and own material.
    """

    item: str
    name: str
    assembly: str
    quantity: Decimal
    unit: str
    crew: str
    crew_hours: Decimal
    element: str
    credit: str
    note: str
    cash: Decimal
    own: Decimal


class PrintedPhase(NamedTuple):
    """A phase, and what it comes to [$]."""

    phase: str
    name: str
    cash: Decimal
    own: Decimal


@dataclass(frozen=True)
class PrintedEstimate:
    """All that is printed of an estimate; of one that was stored, as it was then.

    Parameters
    ----------
    made_with : str
        Version of the program.
    title_block : TitleBlock
        For whom, by whom, the address and the revision; empty where the scope does not say.
    project, shift : str
        Name of the project; length of the working day, as written.
    on : date
        The pricing date.
    digest, scope_digest, tables_digest, lines_digest : str
        SHA-256 of all inputs, of two of them, and of the cost lines.
    sets : tuple of str
        Names of the sets of rate tables, lowest first.
    direct_cost, cash_cost, own_value, full_cost : Decimal
        [$]
    own_material : tuple of OwnMaterial
        What is recovered, had, used, sold and left; none in an estimate stored before.
    salvage_sales : Decimal
        [$] A source of money, in none of the four; zero in an estimate that was stored when
        sales still reduced the direct cost.
    markups : tuple of MarkupAmount
        In the order they are taken.
    phases, items, lines : tuple
        In the order of the scope.
    by_kind, by_element, by_credit : mapping of str to Decimal
        [$] Paid direct cost.
    labor_hours, machine_days, machine_hours, planning_quantities : mapping of str to Decimal
        As in `summaries`.
    rates : tuple of ResourceRate
        Each row that priced something, by kind and name.
    decimals : mapping of str to int
        How many decimals each unit in use prints with.
    warnings, assumptions : tuple of str
        As the estimate and its scope say them.
    cautions : tuple of CautionNote
        Beside the work they belong to.
    alternates : tuple of AlternateTotal
        The cash cost with and without each alternate.
    rests_on : RestsOn or None
        What the totals rest on; None of one that was stored before that was printed.
    """

    made_with: str
    project: str
    on: date
    shift: str
    digest: str
    scope_digest: str
    tables_digest: str
    lines_digest: str
    sets: tuple[str, ...]
    direct_cost: Decimal
    cash_cost: Decimal
    own_value: Decimal
    full_cost: Decimal
    markups: tuple[MarkupAmount, ...]
    phases: tuple[PrintedPhase, ...]
    by_kind: Amounts
    by_element: Amounts
    by_credit: Amounts
    labor_hours: Amounts
    machine_days: Amounts
    machine_hours: Amounts
    planning_quantities: Amounts
    items: tuple[PrintedItem, ...]
    lines: tuple[CostLine, ...]
    rates: tuple[ResourceRate, ...]
    decimals: Mapping[str, int]
    warnings: tuple[str, ...]
    cautions: tuple[CautionNote, ...]
    assumptions: tuple[str, ...]
    rests_on: RestsOn | None = None
    alternates: tuple[AlternateTotal, ...] = ()
    salvage_sales: Decimal = Decimal("0.00")
    title_block: TitleBlock = NO_TITLE
    own_material: tuple[OwnMaterial, ...] = ()

    def items_by_phase(self) -> Iterator[tuple[PrintedPhase, list[PrintedItem]]]:
        """Yield each phase with its items, in order."""
        items = groupby(self.items, key=lambda one: one.item.partition(".")[0])
        by_phase = {code: list(own) for code, own in items}
        for phase in self.phases:
            yield phase, by_phase.get(phase.phase, [])


def printed_estimate(estimate: Estimate) -> PrintedEstimate:
    """Return what is printed of an estimate."""
    scope, tables = estimate.scope, estimate.tables
    return PrintedEstimate(
        made_with=__version__,
        project=scope.project,
        on=estimate.on,
        shift=scope.shift.text,
        digest=estimate.digest,
        scope_digest=estimate.scope_digest,
        tables_digest=tables.digest,
        lines_digest=lines_digest(estimate.cost_lines),
        sets=tables.sets,
        direct_cost=estimate.direct_cost,
        cash_cost=estimate.cash_cost,
        own_value=estimate.own_value,
        full_cost=estimate.full_cost,
        salvage_sales=estimate.salvage_sales,
        own_material=estimate.priced.own_material,
        markups=estimate.markups,
        phases=_phases(estimate),
        by_kind=summaries.cash_by_kind(estimate),
        by_element=summaries.cash_by_element(estimate),
        by_credit=summaries.cash_by_credit(estimate),
        labor_hours=summaries.labor_hours(estimate),
        machine_days=summaries.machine_days(estimate),
        machine_hours=summaries.machine_hours(estimate),
        planning_quantities=summaries.planning_quantities(estimate),
        items=_items(estimate),
        lines=estimate.cost_lines,
        rates=_rates(estimate),
        decimals={one.name: tables.precision.of(one) for one in _units(estimate)},
        warnings=estimate.warnings,
        cautions=estimate.cautions,
        assumptions=scope.assumptions,
        title_block=scope.title_block,
        rests_on=estimate.rests_on,
        alternates=estimate.alternates,
    )


def _phases(estimate: Estimate) -> tuple[PrintedPhase, ...]:
    cash, own = summaries.cash_by_phase(estimate), summaries.own_by_phase(estimate)
    return tuple(
        PrintedPhase(one.code, one.name, cash[one.code], own[one.code])
        for one in estimate.scope.phases
    )


def _items(estimate: Estimate) -> tuple[PrintedItem, ...]:
    columns = estimate.item_columns
    amounts = zip(
        columns["quantity"], columns["decimals"], columns["crew_hours"],
        columns["cash_cents"], columns["own_cents"], strict=True,
    )  # fmt: skip
    return tuple(
        PrintedItem(
            item.code, item.name, assembly.code, Decimal(f"{quantity:.{decimals}f}"),
            assembly.unit.name, item.method.crew, Decimal(f"{hours:.2f}"), item.element,
            assembly.credit, item.note, dollars(cash), dollars(own),
        )
        for item, (quantity, decimals, hours, cash, own) in zip(
            estimate.scope.items, amounts, strict=True
        )
        for assembly in (item.method.assembly,)
    )  # fmt: skip


def _rates(estimate: Estimate) -> tuple[ResourceRate, ...]:
    """Return the rates by kind and name; a machine that is rented by dates has several."""
    rates = {
        (rate.code, rate.rate, rate.source): rate
        for rate in estimate.priced.lines.rates
        if rate.source != FROM_THE_JOB
    }
    used = {code for code, *_ in rates}
    for one in estimate.priced.own_material:
        if one.code not in used:
            rate = estimate.tables.rates.rate_on(one.code, estimate.on)
            rates[rate.code, rate.rate, rate.source] = rate
    order = sorted(rates.values(), key=lambda one: (KINDS.index(one.kind), one.name, one.code))
    return tuple(order)


def _units(estimate: Estimate) -> list[Unit]:
    """Return the units of rates and items, by name."""
    units = {rate.unit.name: rate.unit for rate in estimate.priced.lines.rates}
    units |= {one.name: one for one in (item.method.assembly.unit for item in estimate.scope.items)}
    return [units[name] for name in sorted(units)]
