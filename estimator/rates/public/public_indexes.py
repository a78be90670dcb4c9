"""Public price indexes by resource, and which prices have gone stale by them.

A price without a last day holds for ever as far as its row says. Where a public index of its
material has moved since, that is said with the figure; the price itself is not changed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from pathlib import Path

from estimator.errors import Faults, TablesFaulty
from estimator.money import HOUSE, cents_money, exact_arithmetic, rounded, to_cents
from estimator.rates.adjustment.escalation import factor_between
from estimator.rates.adjustment.index_series import MONTHLY, IndexPoint, IndexSeries
from estimator.rates.csv_file import csv_file_rows
from estimator.rates.public.public_wages import public_folder, sourced
from estimator.rates.resources import ResourceRate

STALE_FROM = Decimal("0.10")

_COLUMNS = ("series", "name", "base", "period", "value", "source", "status")


@dataclass(frozen=True)
class StalePrices:
    """Prices of one date that a public index has left behind.

    Parameters
    ----------
    series : IndexSeries
        The index.
    rates : tuple of ResourceRate
        Rows without a last day that it stands for, all set in one month.
    last : date
        First day of the last month compared: that of pricing, or of the last figure.
    change : Decimal
        By which the index moved from the rows' month to it, as a fraction with three decimals.
    """

    series: IndexSeries
    rates: tuple[ResourceRate, ...]
    last: date
    change: Decimal

    @property
    def sentence(self) -> str:
        """What moved by how much, and what the prices would be with it."""
        moved = "rose" if self.change > 0 else "fell"
        first = self.series.period_text(self.rates[0].set_on)
        prices = "; ".join(
            f"{one.name} {_price(one.rate)} per {one.unit.name} would be "
            f"{_price(HOUSE.multiply(one.rate, 1 + self.change))}"
            for one in self.rates
        )
        return (
            f"{self.series.name} {moved} {abs(self.change) * 100:.1f} % from {first} to "
            f"{self.series.period_text(self.last)} ({self.series.source}), and these prices are of "
            f"{first}: {prices}; get quotes"
        )


@cache
def public_indexes() -> Mapping[str, IndexSeries]:
    """Return the public index of each resource that has one, by code."""
    return read_public_indexes(public_folder())


def read_public_indexes(folder: Path) -> Mapping[str, IndexSeries]:
    """Return the public indexes of a folder, by code of resource.

    Raises
    ------
    TablesFaulty
        With every fault of its files.
    """
    faults = Faults()
    points: dict[str, list[IndexPoint]] = {}
    heads: dict[str, tuple[str, str, str]] = {}
    for row in csv_file_rows(folder / "indexes.csv", "public indexes", _COLUMNS, faults):
        year, month = row.text("period").split("-")
        value = row.decimal("value", decimals=6) or Decimal(0)
        points.setdefault(row.text("series"), []).append(
            IndexPoint(date(int(year), int(month), 1), value, str(row.origin))
        )
        heads[row.text("series")] = (row.text("name"), row.text("base"), sourced(row))
    named = csv_file_rows(
        folder / "index_of_resource.csv", "public indexes", ("resource", "series"), faults
    )
    of_resource = {row.code("resource"): row.text("series") for row in named}
    faults.raise_if_any(TablesFaulty)
    series = {
        code: IndexSeries(name, base, MONTHLY, tuple(points[code]), f"{source}, series {code}")
        for code, (name, base, source) in heads.items()
    }
    return {resource: series[code] for resource, code in of_resource.items()}


@exact_arithmetic
def stale_prices(
    rates: Iterable[ResourceRate], on: date, indexes: Mapping[str, IndexSeries] | None = None
) -> tuple[StalePrices, ...]:
    """Return which prices a public index has left behind by 10 % or more on a day.

    Parameters
    ----------
    rates : iterable of ResourceRate
        Rows that price something; a row with a last day is a quote and is left out.
    on : date
        Day of pricing. After the last figure of an index, that figure counts.
    indexes : mapping of str to IndexSeries, optional
        By code of resource; the public ones if left out.

    Returns
    -------
    tuple of StalePrices
        One for each index and month of rows, the largest movement first.

    Notes
    -----
    change = index of the day / index of the row's month - 1. A row set before the first figure is
    left out: nothing is known of it.
    """
    series_of = public_indexes() if indexes is None else indexes
    groups: dict[tuple[str, date], list[ResourceRate]] = {}
    followed = (one for one in rates if one.code in series_of and one.valid_until is None)
    for rate in dict.fromkeys(followed):
        month = rate.set_on.replace(day=1)
        groups.setdefault((series_of[rate.code].name, month), []).append(rate)
    moved = [
        stale
        for (_, month), rows in groups.items()
        if (stale := _moved(series_of[rows[0].code], rows, month, on)) is not None
    ]
    return tuple(sorted(moved, key=lambda one: -abs(one.change)))


def _moved(
    series: IndexSeries, rates: list[ResourceRate], month: date, on: date
) -> StalePrices | None:
    last = min(on.replace(day=1), series.points[-1].starts_on)
    if not series.points[0].starts_on <= month < last:
        return None
    change = rounded(factor_between(series, month, last) - 1, 3)
    if abs(change) < STALE_FROM:
        return None
    return StalePrices(series, tuple(sorted(rates, key=lambda one: one.code)), last, change)


def _price(rate: Decimal) -> str:
    return cents_money(to_cents(rounded(rate, 2)))
