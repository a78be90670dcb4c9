"""Resources and their rates: which row prices a resource on a given day."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from estimator.errors import Faults, RateMissing, did_you_mean, fault, quoted
from estimator.money import RATE_DECIMALS
from estimator.quantity.units import UNREADABLE, Unit
from estimator.rates.folders import TableFolder, table_rows
from estimator.rates.kinds import KINDS, SALVAGE
from estimator.rates.rows import EARLIEST, Origin, Row


@dataclass(frozen=True)
class ResourceRate:
    """One row of resources.csv: what one unit of a resource costs from a date on.

    Parameters
    ----------
    code, name : str
        The key, and what a person calls it.
    kind : str
        One of `KINDS`. The rate of a salvage is what a unit of it is sold for.
    unit : Unit
        What the rate is per.
    rate : Decimal
        [$/unit], non-negative, at most four decimals.
    low, high : Decimal or None
        [$/unit] range around the rate.
    set_on : date
        The day the rate was set.
    valid_until : date or None
        The last day a quote holds.
    is_paid : bool
        False for the owner's unpaid labor and own material, which are no cash cost, and for
        salvage, which is none either: its sale is a source of money.
    source, note : str
        Where it comes from.
    origin : Origin
        The row it stands in.
    form : str
        How a sum is stated in the scope: `subcontract`, `lump_sum`, `allowance`; empty for a row of
        the tables.
    needed_on : date or None
        The day that the price was moved to, if it was: the middle of the phase that pays it.
    """

    code: str
    name: str
    kind: str
    unit: Unit
    rate: Decimal
    low: Decimal | None
    high: Decimal | None
    set_on: date
    valid_until: date | None
    is_paid: bool
    source: str
    note: str
    origin: Origin
    form: str = ""
    needed_on: date | None = field(default=None, compare=False)

    def has_expired(self, on: date) -> bool:
        """Whether the quote no longer holds on a day."""
        return self.valid_until is not None and self.valid_until < on


class RateTable:
    """The rates of all resources, from a stack of sets of tables.

    Parameters
    ----------
    rows : iterable of ResourceRate
        Lowest set first.
    sets : sequence of str
        Names of the sets, lowest first.
    """

    def __init__(self, rows: Iterable[ResourceRate], sets: Sequence[str]) -> None:
        level = {name: position for position, name in enumerate(sets)}
        self._by_code: dict[str, list[ResourceRate]] = {}
        for row in rows:
            self._by_code.setdefault(row.code, []).append(row)
        for known in self._by_code.values():
            known.sort(key=lambda row: (level[row.origin.tables], row.set_on))
        self._earliest = min(map(self.first_day, self._by_code), default=None)

    def __contains__(self, code: str) -> bool:
        return code in self._by_code

    @property
    def codes(self) -> tuple[str, ...]:
        """All codes, sorted."""
        return tuple(sorted(self._by_code))

    def rows(self) -> Iterable[ResourceRate]:
        """Return all rows, by code, in rising order of preference."""
        return [row for code in self.codes for row in self._by_code[code]]

    def first_rate(self, code: str) -> ResourceRate:
        """Return the first row of a resource."""
        return self._by_code[code][0]

    def newest_rate(self, code: str) -> ResourceRate:
        """Return the newest row of a resource in the highest set."""
        return self._by_code[code][-1]

    def unit_of(self, code: str) -> Unit:
        """Return the unit of a resource: that of its first row, from which none may differ."""
        return self._by_code[code][0].unit

    def name_of(self, code: str) -> str:
        """Return the name of a resource: that of its newest row in the highest set."""
        return self.newest_rate(code).name

    def refuse_early(self, on: date) -> None:
        """Raise if a day is before any rate.

        Raises
        ------
        RateMissing
            With the first day that has a rate.
        """
        if self._earliest is not None and on < self._earliest:
            raise fault(
                RateMissing,
                f"no resource has a rate on {on}: the first rate of all is of {self._earliest}",
                "price on a later day",
            )

    def first_day(self, code: str) -> date:
        """Return the date of the earliest row of a resource."""
        return min(row.set_on for row in self._by_code[code])

    def kind_of(self, code: str) -> str:
        """Return the kind of a resource: that of its first row."""
        return self._by_code[code][0].kind

    def rate_on(self, code: str, on: date) -> ResourceRate:
        """Return the row that prices a resource on a day.

        The highest set with a row not later than the day wins; within it, the newest row.

        Raises
        ------
        RateMissing
            If the code is unknown, or all its rows are later than the day.
        """
        if code not in self._by_code:
            raise fault(
                RateMissing,
                f"resource {quoted(code)} is in no table",
                did_you_mean(code, self._by_code),
            )
        known = [row for row in self._by_code[code] if row.set_on <= on]
        if not known:
            first = self.first_day(code)
            raise fault(
                RateMissing,
                f"resource {quoted(code)} has no rate on {on}; its first is of {first}",
                "add a row with an earlier date, or price on a later day",
            )
        return known[-1]


def read_resources(folders: Sequence[TableFolder], faults: Faults) -> RateTable:
    """Return the rates from a stack of sets, lowest first, noting all faults."""
    rows = [_resource_rate(row) for row in table_rows(folders, "resources.csv", faults)]
    _check_duplicates(rows, faults)
    _check_units(rows, faults)
    return RateTable(rows, [folder.name for folder in folders])


def _resource_rate(row: Row) -> ResourceRate:
    rate = row.decimal("rate", decimals=RATE_DECIMALS)
    kind, paid = row.choice("kind", KINDS), row.choice("paid", ("yes", "no"))
    resource = ResourceRate(
        code=row.code("code"),
        name=row.text("name"),
        kind=kind,
        unit=row.unit("unit"),
        rate=rate or Decimal(0),
        low=row.decimal("low", decimals=RATE_DECIMALS, required=False),
        high=row.decimal("high", decimals=RATE_DECIMALS, required=False),
        set_on=row.day("date") or EARLIEST,
        valid_until=row.day("valid_until", required=False),
        is_paid=paid == "yes" and kind != SALVAGE,
        source=row.source(),
        note=row.text("note", required=False),
        origin=row.origin,
    )
    if rate is not None:
        _check_range(row, resource)
    _check_dates(row, resource)
    return resource


def _check_range(row: Row, resource: ResourceRate) -> None:
    if resource.low is not None and resource.low > resource.rate:
        row.fault(f"low {resource.low} is above the rate {resource.rate}")
    if resource.high is not None and resource.high < resource.rate:
        row.fault(f"high {resource.high} is below the rate {resource.rate}")


def _check_dates(row: Row, resource: ResourceRate) -> None:
    if resource.has_expired(resource.set_on):
        row.fault(
            f"can never price: it is valid until {resource.valid_until}, before its date "
            f"{resource.set_on}",
            "correct one of the two dates",
        )


def _check_duplicates(rows: Iterable[ResourceRate], faults: Faults) -> None:
    first: dict[tuple[str, str, date], Origin] = {}
    for row in rows:
        key = (row.origin.tables, row.code, row.set_on)
        if key in first:
            faults.add(
                str(row.origin),
                f"repeats resource {quoted(row.code)} of {row.set_on} in row {first[key].row}",
                "give it a newer date, or remove one of them",
            )
        first.setdefault(key, row.origin)


def _check_units(rows: Iterable[ResourceRate], faults: Faults) -> None:
    first: dict[str, ResourceRate] = {}
    for row in rows:
        known = first.setdefault(row.code, row)
        if UNREADABLE not in (row.unit, known.unit) and (row.unit, row.kind) != (
            known.unit,
            known.kind,
        ):
            faults.add(
                str(row.origin),
                f"resource {quoted(row.code)} is {row.kind} per {row.unit.name} here, "
                f"{known.kind} per {known.unit.name} in {known.origin}",
                "use one kind and unit, or another code",
            )
