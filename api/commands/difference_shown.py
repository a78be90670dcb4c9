"""The difference of two estimates on the terminal: sums, causes, and the lines that changed."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby
from typing import TYPE_CHECKING

from api.commands.printing import page, show_table, table
from estimator.money import dollars, fixed_rate_text, from_fixed_point
from estimator.quantity.units import counted
from estimator.rates.kinds import SALES_WORDS

if TYPE_CHECKING:
    from rich.console import Console
    from rich.table import Table

    from estimator.pricing.cost_line import CostLine
    from estimator.studies.difference.estimate_difference import (
        EstimateDifference,
        LineDifference,
        SumDifference,
    )

_NOTHING = "-"
_MARKUP = "Markup"
_TOTALS = {
    "direct_cost": "Direct cost",
    "cash_cost": "Cash cost",
    "own_value": "Unpaid value (own labor and material)",
    "full_cost": "Full cost",
    "salvage_sales": SALES_WORDS,
}
_CAUSES = {
    "new": "New lines",
    "dropped": "Dropped lines",
    "quantity": "Quantity changes, at the old rates",
    "rate": "Rate changes, at the new quantities",
}


def show_difference(difference: EstimateDifference) -> None:
    """Print totals, causes, phases, markups, and each item that changed with its lines."""
    changed = difference.changed_lines
    with page() as out:
        show_table(out, _sums_table("Totals", _totals(difference)))
        if not changed:
            out.print("\nNo line changed.")
        else:
            out.print()
            show_table(out, _causes_table(difference))
        _show_sums(out, "Phase", difference.by_phase)
        _show_sums(out, _MARKUP, difference.markups)
        names = {one.code: one for one in difference.by_item}
        for item, lines in groupby(changed, key=lambda one: one.shown.item):
            out.print()
            show_table(out, _item_table(names[item], list(lines)))
        unchanged = len(difference.lines) - len(changed)
        if changed and unchanged:
            out.print(f"\nUnchanged lines: {unchanged}")


def _totals(difference: EstimateDifference) -> list[SumDifference]:
    """Return the totals; sales of salvage only where there are any."""
    totals = difference.totals
    return [one for one in totals if one.code != "salvage_sales" or one.before or one.after]


def _show_sums(out: Console, heading: str, sums: Iterable[SumDifference]) -> None:
    """Print the sums that differ, if there are any."""
    differing = [one for one in sums if one.cents]
    if differing:
        out.print()
        show_table(out, _sums_table(heading, differing))


def _sums_table(heading: str, sums: Iterable[SumDifference]) -> Table:
    shown = table(
        (heading, "text"), ("Before $", "number"), ("After $", "number"), ("Difference $", "number")
    )
    for one in sums:
        name = _named(heading, one)
        shown.add_row(name, _money(one.before), _money(one.after), _change(one.cents))
    return shown


def _named(heading: str, one: SumDifference) -> str:
    """Return what a sum is known by: markups by their names, phases and items by codes too."""
    name = one.name if heading == _MARKUP else f"{one.code} {one.name}".strip()
    return _TOTALS.get(one.code, name)


def _causes_table(difference: EstimateDifference) -> Table:
    shown = table(("Why", "text"), ("Difference $", "number"))
    for cause, cents in difference.cents_by_cause.items():
        shown.add_row(_CAUSES[cause], _change(cents))
    return shown


def _item_table(item: SumDifference, lines: Iterable[LineDifference]) -> Table:
    """Return the lines of an item that changed, each as quantity x rate before and after."""
    shown = table(
        (f"{item.code} {item.name}".strip(), "text"), ("Before", "number"), ("After", "number"),
        ("Difference $", "number"),
    )  # fmt: skip
    for one in lines:
        name = f"{one.shown.name} ({', '.join(one.why)})"
        shown.add_row(name, _extension(one.before), _extension(one.after), _change(one.cents))
    return shown


def _extension(line: CostLine | None) -> str:
    if line is None:
        return _NOTHING
    quantity = f"{from_fixed_point(line.ordered, line.decimals):,f}"
    rate = fixed_rate_text(line.rate)
    return f"{counted(quantity, line.unit)} x {rate}"


def _money(cents: int) -> str:
    return f"{dollars(cents):,.2f}"


def _change(cents: int) -> str:
    return f"{dollars(cents):+,.2f}" if cents else f"{dollars(0):.2f}"
