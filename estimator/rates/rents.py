"""Rents by the week and by four weeks, with delivery: for what stands for a span of days."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimator.errors import Faults, did_you_mean, quoted
from estimator.money import RATE_DECIMALS, round_to_cent
from estimator.quantity.units import unit
from estimator.rates.folders import TableFolder, table_rows
from estimator.rates.kinds import EQUIPMENT
from estimator.rates.machines.rental_rates import RentalRates
from estimator.rates.resources import RateTable
from estimator.rates.rows import EARLIEST, Origin, Row

RENTS = "rents.csv"
USUAL_HOURS = Decimal(8)
_WEEK_DAYS, _MONTH_DAYS = 5, 20


@dataclass(frozen=True)
class Rent:
    """One row of rents.csv: what a machine costs by the week and by four weeks from a date on.

    Parameters
    ----------
    resource : str
        The machine; what it costs by the day is its rate in resources.csv.
    week, month : Decimal or None [$]
        Of seven days and of four weeks, on the calendar; None where the yard has no such price.
    delivery, pick_up : Decimal [$]
        Of bringing it and of taking it away; zero where it is fetched.
    brought_by : str
        The resource whose line in the same item is its way already; may be empty.
    included_hours : Decimal [hr/day]
        Meter hours that a day includes; a week includes five times and a month twenty times as
        many (common practice, no source).
    over_hour : Decimal [$/hr]
        For each meter hour beyond them; zero where the yard counts none.
    set_on : date
        The day the prices were set.
    valid_until : date or None
        The last day they hold.
    source, note : str
        Where they come from, and what else there is to say.
    origin : Origin
        The row they stand in.
    """

    resource: str
    week: Decimal | None
    month: Decimal | None
    delivery: Decimal
    pick_up: Decimal
    brought_by: str
    included_hours: Decimal
    over_hour: Decimal
    set_on: date
    valid_until: date | None
    source: str
    note: str
    origin: Origin

    def tiers(self, day: Decimal) -> RentalRates:
        """Return the prices of all tiers, the day's being the rate of the resource [$].

        Parameters
        ----------
        day : Decimal [$/day]
            Rounded to the cent.
        """
        return RentalRates(
            round_to_cent(day),
            self.week,
            self.month,
            over_hour=self.over_hour,
            hours_in_day=self.included_hours,
            hours_in_week=self.included_hours * _WEEK_DAYS,
            hours_in_month=self.included_hours * _MONTH_DAYS,
        )


class RentTable:
    """The rents of all machines, from a stack of sets of tables.

    Parameters
    ----------
    rows : iterable of Rent
        Lowest set first.
    sets : sequence of str
        Names of the sets, lowest first.
    """

    def __init__(self, rows: Iterable[Rent] = (), sets: Sequence[str] = ()) -> None:
        level = {name: position for position, name in enumerate(sets)}
        self._by_resource: dict[str, list[Rent]] = {}
        for row in sorted(rows, key=lambda row: (level[row.origin.tables], row.set_on)):
            self._by_resource.setdefault(row.resource, []).append(row)

    def __bool__(self) -> bool:
        return bool(self._by_resource)

    @property
    def resources(self) -> tuple[str, ...]:
        """The machines that have a rent, sorted."""
        return tuple(sorted(self._by_resource))

    def rent_on(self, resource: str, on: date) -> Rent | None:
        """Return the row that holds on a day: of the highest set that has one, the newest.

        Parameters
        ----------
        resource : str
            A machine; None is returned if it has no rent but by the day.
        on : date
            The pricing date.
        """
        known = [row for row in self._by_resource.get(resource, ()) if row.set_on <= on]
        return known[-1] if known else None


def read_rents(folders: Sequence[TableFolder], rates: RateTable, faults: Faults) -> RentTable:
    """Return the rents from a stack of sets, lowest first, noting all faults."""
    rents: list[Rent] = []
    first: dict[tuple[str, str, date], Origin] = {}
    for row in table_rows(folders, RENTS, faults):
        one = _rent(row, rates)
        key = (one.origin.tables, one.resource, one.set_on)
        if key in first:
            what = f"repeats the rent of {quoted(one.resource)} of {one.set_on} in row"
            row.fault(f"{what} {first[key].row}", "give it a newer date, or remove one of them")
        first.setdefault(key, one.origin)
        rents.append(one)
    return RentTable(rents, [folder.name for folder in folders])


def _rent(row: Row, rates: RateTable) -> Rent:
    rent = Rent(
        resource=row.code("resource"),
        week=row.decimal("week", decimals=2, required=False),
        month=row.decimal("month", decimals=2, required=False),
        delivery=row.decimal("delivery", decimals=2, required=False) or Decimal(0),
        pick_up=row.decimal("pick_up", decimals=2, required=False) or Decimal(0),
        brought_by=row.code("brought_by", required=False),
        included_hours=row.decimal("included_hours", decimals=2, required=False) or USUAL_HOURS,
        over_hour=row.decimal("over_hour", decimals=RATE_DECIMALS, required=False) or Decimal(0),
        set_on=row.day("date") or EARLIEST,
        valid_until=row.day("valid_until", required=False),
        source=row.source(),
        note=row.text("note", required=False),
        origin=row.origin,
    )
    _check(row, rent, rates)
    return rent


def _check(row: Row, rent: Rent, rates: RateTable) -> None:
    if rent.resource and rent.resource not in rates:
        row.fault(
            f"resource {quoted(rent.resource)} is in no table",
            did_you_mean(rent.resource, rates.codes),
        )
    elif rent.resource and not _is_rented_by_day(rent.resource, rates):
        what = f"resource {quoted(rent.resource)} is {rates.kind_of(rent.resource)} per"
        row.fault(f"{what} {rates.unit_of(rent.resource).name}", "rents are of equipment per day")
    if rent.brought_by and rent.brought_by not in rates:
        what = f"brought_by {quoted(rent.brought_by)} is in no table"
        row.fault(what, did_you_mean(rent.brought_by, rates.codes))
    if not (rent.week or rent.month):
        row.fault("has no price of a week or of four weeks", "enter one, or remove the row")
    if rent.valid_until is not None and rent.valid_until < rent.set_on:
        row.fault(
            f"can never price: it is valid until {rent.valid_until}, before its date {rent.set_on}",
            "correct one of the two dates",
        )


def _is_rented_by_day(resource: str, rates: RateTable) -> bool:
    return rates.kind_of(resource) == EQUIPMENT and rates.unit_of(resource) == unit("day")
