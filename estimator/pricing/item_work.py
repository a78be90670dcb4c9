"""What prices an item: the lines of its method, each with its rate, and the method's fixed sums."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from estimator.assemblies.assembly import AssemblyLine
from estimator.assemblies.tables import Tables
from estimator.quantity.formulas import read_formula
from estimator.quantity.units import unit
from estimator.rates.labor.work_week import WorkWeek
from estimator.rates.resources import ResourceRate
from estimator.rates.rows import Origin
from estimator.scope.methods.method_work import method_lines
from estimator.scope.scope import Item
from estimator.scope.stated_price import LUMP_SUM

MOBILIZATION_KIND, STORAGE_KIND = "haul", "fee"

_ONCE = read_formula("1")


def item_lines(item: Item, tables: Tables) -> tuple[AssemblyLine, ...]:
    """Return the lines of an item, the crew's first; its method's fixed sums are no part of them.

    Those of an item that lists methods are ordered for it alone.
    """
    if not item.methods:
        return tables.lines_of(item.assembly, item.crew)
    return method_lines(item.method, tables)


def fixed_sums(item: Item, on: date) -> Iterator[tuple[AssemblyLine, ResourceRate]]:
    """Yield mobilization and storage of an item's method as lines, each with its sum as rate."""
    method = item.method
    for what, amount, kind in (
        ("mobilization", method.mobilization, MOBILIZATION_KIND),
        ("storage", method.storage, STORAGE_KIND),
    ):
        if amount:
            code = f"{what}-{item.code.replace('.', '-').lower()}"
            origin = Origin("scope", item.code, 1)
            line = AssemblyLine(code, _ONCE, None, None, None, "item", is_crew=False, origin=origin)
            yield line, ResourceRate(
                code, what.capitalize(), kind, unit("ls"), amount, None, None, on, None,
                is_paid=True, source=f"method '{method.name}'", note="", origin=origin,
                form=LUMP_SUM,
            )  # fmt: skip


def rated_lines(
    item: Item, tables: Tables, on: date, week: WorkWeek
) -> tuple[tuple[AssemblyLine, ResourceRate], ...]:
    """Return all lines of an item with the rates of a day, its method's fixed sums last.

    Parameters
    ----------
    item, tables, on
        What is priced, with which tables, on which day.
    week : WorkWeek
        The week of its crew.

    Raises
    ------
    RateMissing
        If a resource has no rate on that day.
    """
    rated = [
        (line, week.paid(tables.rates.rate_on(line.resource, on)))
        for line in item_lines(item, tables)
    ]
    return (*rated, *fixed_sums(item, on))
