"""An estimate: a priced snapshot of a scope, from which every report is a group-by."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np

from estimator.assemblies.cautions import Caution
from estimator.assemblies.markups import MarkupAmount, markup_amounts
from estimator.assemblies.tables import Tables
from estimator.digests import canonical_digest
from estimator.errors import ScopeFaulty, did_you_mean, fault, quoted
from estimator.money import dollars, exact_arithmetic
from estimator.pricing.alternate_totals import AlternateTotal, alternate_totals
from estimator.pricing.cost_line import CostLine
from estimator.pricing.engine import PricedGroups, PricedScope, price_lines
from estimator.pricing.explain import Explanation, ItemExplainer
from estimator.pricing.line_frame import line_frame
from estimator.pricing.own_material import warnings_of
from estimator.pricing.pace_notes import pace_notes
from estimator.pricing.priced_lines import PricedLines, cost_lines
from estimator.pricing.rests_on import RestsOn, rests_on
from estimator.rates.kinds import SALVAGE
from estimator.rates.public.public_indexes import stale_prices
from estimator.rates.resources import ResourceRate
from estimator.scope.scope import Scope
from estimator.scope.scope_digest import scope_digest

if TYPE_CHECKING:
    import pandas as pd


@dataclass(frozen=True)
class CautionNote:
    """A caution, with the cost codes of the work that it belongs to."""

    caution: Caution
    items: tuple[str, ...]


@exact_arithmetic
@dataclass(frozen=True)
class Estimate:
    """What a scope costs at the rates of a day.

    Parameters
    ----------
    scope : Scope
        What was priced.
    tables : Tables
        What it was priced with.
    on : date
        The pricing date.
    priced : PricedScope
        Lines as whole numbers; `lines` and `items` show them as frames.
    markups : tuple of MarkupAmount
        In the order they are taken.
    warnings : tuple of str
        What of the file was set aside, and quotes that have run out.
    cautions : tuple of CautionNote
        Beside the work they belong to.
    alternates : tuple of AlternateTotal
        The cash cost with and without each alternate.
    """

    scope: Scope
    tables: Tables
    on: date
    priced: PricedScope
    markups: tuple[MarkupAmount, ...]
    warnings: tuple[str, ...]
    cautions: tuple[CautionNote, ...]
    alternates: tuple[AlternateTotal, ...] = ()

    @cached_property
    def scope_digest(self) -> str:
        """SHA-256 of the scope alone."""
        return scope_digest(self.scope)

    @cached_property
    def digest(self) -> str:
        """SHA-256 of all that the figures depend on: scope, tables, date."""
        inputs = {"scope": self.scope_digest, "tables": self.tables.digest}
        return canonical_digest("estimate 1", inputs | {"on": self.on.isoformat()})

    @cached_property
    def cost_lines(self) -> tuple[CostLine, ...]:
        """The cost lines, in the order of the scope."""
        return tuple(cost_lines(self.scope, self.priced.lines))

    @cached_property
    def lines(self) -> pd.DataFrame:
        """The cost lines, one row each, in the order of the scope.

        Columns: `phase`, `item`, `line` (number within the item), `assembly`, `resource`, `name`,
        `kind`, `unit`, `net`, `waste`, `ordered`, `left_over` (all in `unit`), `decimals` (that
        the quantities print with), `rate` (Decimal, $ per unit), `source`, `rate_row` (where the
        rate stands), `paid` (False for unpaid own labor and material, and for salvage), `cents`.
        """
        return line_frame(self.scope, self.priced.lines)

    @cached_property
    def items(self) -> pd.DataFrame:
        """The items, one row each, in the order of the scope.

        Columns: `phase`, `item`, `name`, `assembly`, `quantity`, `unit`, `decimals`, `crew`,
        `crew_hours`, `element`, `credit`, `cash_cents` (paid), `own_cents` (unpaid labor and own
        material), `sales_cents` (what salvage is sold for).
        """
        import pandas as pd

        return pd.DataFrame(self.item_columns)

    @cached_property
    def item_columns(self) -> dict[str, list[Any]]:
        """The columns of `items` as plain lists: all that is needed where no frame is."""
        return _item_columns(self.scope, self.tables, self.priced)

    @cached_property
    def direct_cost(self) -> Decimal:
        """[$] What is paid for labor, material, machines and the rest, before markups."""
        return dollars(sum(self.item_columns["cash_cents"]))

    @cached_property
    def cash_cost(self) -> Decimal:
        """[$] All money that leaves: direct cost and markups."""
        return self.direct_cost + dollars(sum(one.amount_cents for one in self.markups))

    @cached_property
    def own_value(self) -> Decimal:
        """[$] Value of unpaid owner labor and own material; never part of cash, draws or credit."""
        return dollars(sum(self.item_columns["own_cents"]))

    @cached_property
    def salvage_sales(self) -> Decimal:
        """[$] What salvage is sold for: a source of money that reduces none of the costs."""
        return dollars(sum(self.item_columns["sales_cents"]))

    @property
    def full_cost(self) -> Decimal:
        """[$] Cash cost with the value of unpaid owner labor and own material."""
        return self.cash_cost + self.own_value

    @cached_property
    def rests_on(self) -> RestsOn:
        """How much of each total rests on quotes, own rates, illustrative rates and the rest."""
        lines, phases = self.priced.lines, self.scope.phases
        return rests_on(lines, phases, self.on, self.markups, self.cash_cost)

    def lines_of(self, item_code: str) -> tuple[CostLine, ...]:
        """Return the lines of an item, in order.

        Raises
        ------
        ScopeFaulty
            If there is no such item.
        """
        codes = [item.code for item in self.scope.items]
        if item_code not in codes:
            what = f"there is no item {quoted(item_code)}"
            raise fault(ScopeFaulty, what, did_you_mean(item_code, codes))
        return tuple(line for line in self.cost_lines if line.item == item_code)

    def explain(self, line: str) -> Explanation:
        """Return the working of a line that is named by cost code and number: `20.010/3`.

        Raises
        ------
        ScopeFaulty
            If there is no such line.
        """
        item_code, _, number = line.partition("/")
        if not (number.isascii() and number.isdigit() and len(number) <= 6):
            raise fault(ScopeFaulty, f"{quoted(line)} is not a cost line", "write it as 20.010/3")
        lines = self.lines_of(item_code)
        for one in lines:
            if one.line == int(number):
                item = next(item for item in self.scope.items if item.code == item_code)
                scope = self.scope
                explainer = ItemExplainer(item, scope.shift, self.tables, scope.work_week)
                return explainer.explanation(one, self.on)
        what = f"item {item_code} has no line {int(number)}"
        raise fault(ScopeFaulty, what, f"its lines are 1 to {len(lines)}")


def estimate_by_the_day(
    scope: Scope, tables: Tables, on: date, priced: PricedGroups | None = None
) -> Estimate:
    """Return the estimate of what is in the phases of a scope, machines by the day.

    The estimate of a job is `estimator.price`, which knows its dates and its alternates.

    Parameters
    ----------
    scope, tables, on
        As of `estimator.price`.
    priced : PricedGroups or None
        As of `price_lines`.
    """
    return estimate_of(scope, tables, price_lines(scope, tables, on, priced), on)


def with_alternates(scope: Scope, priced: Callable[[Scope], Estimate]) -> Estimate:
    """Return the estimate of a scope, with what it comes to by each of its alternates.

    Parameters
    ----------
    scope : Scope
        With its alternates.
    priced : callable
        Gives the estimate of what is in the phases of a scope.
    """
    estimate = priced(scope)
    costs = {_codes(scope): estimate.cash_cost}

    def cash_cost(other: Scope) -> Decimal:
        if _codes(other) not in costs:
            costs[_codes(other)] = priced(other).cash_cost
        return costs[_codes(other)]

    return replace(estimate, alternates=tuple(alternate_totals(scope, cash_cost)))


def _codes(scope: Scope) -> tuple[str, ...]:
    return tuple(item.code for item in scope.items)


@exact_arithmetic
def estimate_of(scope: Scope, tables: Tables, priced: PricedScope, on: date) -> Estimate:
    """Return the estimate of what is in the phases of a scope, from its lines.

    Parameters
    ----------
    scope, tables, on
        As of `estimator.price`.
    priced : PricedScope
        The lines of the scope at these tables.
    """
    return Estimate(
        scope=scope,
        tables=tables,
        on=on,
        priced=priced,
        markups=_markups(scope, tables, priced.lines),
        warnings=(
            *scope.notes,
            *warnings_of(priced.own_material),
            *_expired_quotes(scope, priced.lines, on),
            *(one.sentence for one in stale_prices(priced.lines.rates, on)),
            *pace_notes(scope),
        ),
        cautions=tuple(_cautions(scope, tables)),
    )


def _markups(scope: Scope, tables: Tables, lines: PricedLines) -> tuple[MarkupAmount, ...]:
    """Return the markups on what is paid; the value of unpaid work bears none."""
    codes = tables.markups if scope.markups is None else dict.fromkeys(scope.markups)
    return markup_amounts(lines.paid_by_kind, [tables.markups[code] for code in codes])


def _expired_quotes(scope: Scope, lines: PricedLines, on: date) -> list[str]:
    warnings = []
    for rate in dict.fromkeys(rate for rate in lines.rates if rate.has_expired(on)):
        kinds = [n for n, other in enumerate(lines.rates) if other is rate]
        positions = np.unique(lines.item[np.isin(lines.kind_of_line, kinds)])
        codes = ", ".join(scope.items[position].code for position in positions[:4])
        more = f" and {len(positions) - 4} more" if len(positions) > 4 else ""
        warnings.append(
            f"the quote for {rate.name} expired on {rate.valid_until} ({rate.origin}): "
            f"get a new one before relying on {codes}{more}"
        )
    return warnings


def _cautions(scope: Scope, tables: Tables) -> list[CautionNote]:
    by_assembly: dict[str, list[int]] = {}
    for position, item in enumerate(scope.items):
        by_assembly.setdefault(item.method.assembly.code, []).append(position)
    positions: dict[str, list[int]] = {}
    for here in by_assembly.values():
        for code in scope.items[here[0]].method.assembly.cautions:
            positions.setdefault(code, []).extend(here)
    codes = [item.code for item in scope.items]
    return [
        CautionNote(caution, tuple([codes[n] for n in sorted(set(positions[code]))]))
        for code, caution in tables.catalogue.cautions.items()
        if code in positions
    ]


def _item_columns(scope: Scope, tables: Tables, priced: PricedScope) -> dict[str, list[Any]]:
    lines, items = priced.lines, scope.items
    assemblies = [item.method.assembly for item in items]
    sums = np.zeros((3, len(items)), dtype=np.int64)
    column = np.array([_column_of(rate) for rate in lines.rates])[lines.kind_of_line]
    np.add.at(sums, (column, lines.item), lines.cents)
    cash, own, sales = sums.tolist()
    decimals = np.array([tables.precision.of(assembly.unit) for assembly in assemblies])
    return {
        "phase": [phase.code for phase in scope.phases for _ in phase.items],
        "item": [item.code for item in items],
        "name": [item.name for item in items],
        "assembly": [assembly.code for assembly in assemblies],
        "quantity": (priced.quantity / 10.0**decimals).tolist(),
        "unit": [assembly.unit.name for assembly in assemblies],
        "decimals": decimals.tolist(),
        "crew": [item.method.crew for item in items],
        "crew_hours": priced.crew_hours.tolist(),
        "element": [item.element for item in items],
        "credit": [assembly.credit for assembly in assemblies],
        "cash_cents": cash,
        "own_cents": own,
        "sales_cents": sales,
    }


def _column_of(rate: ResourceRate) -> int:
    """Return where a rate's amounts count: 0 cash, 1 unpaid value, 2 sales of salvage."""
    return 2 if rate.kind == SALVAGE else 0 if rate.is_paid else 1
