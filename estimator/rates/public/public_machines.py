"""What machines cost their owner an hour, built up from a price, beside public hourly figures.

The build-up is the published one (`rates/machines/running_cost.py`); prices and terms of wear are
common practice and say so. Public figures are an owner's cost: neither has the operator.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path

from estimator.errors import Faults, TablesFaulty, quoted
from estimator.money import HOUSE, exact_arithmetic, round_to_cent, rounded
from estimator.rates.csv_file import csv_file_rows
from estimator.rates.machines.owned_equipment import HourlyCost, OwnedMachine
from estimator.rates.machines.running_cost import DIESEL, GASOLINE, RunningTerms, hourly_cost
from estimator.rates.public.public_wages import sourced
from estimator.rates.resources import RateTable
from estimator.rates.rows import Row

USUAL_MONEY = Decimal("0.08")

_FUELS = {"diesel": DIESEL, "gasoline": GASOLINE}
_DAY_HR = Decimal(8)
_NUMBERS = (
    "price", "life_hours", "hours_per_year", "salvage_fraction", "horsepower", "power_factor",
    "service_fraction", "repair_fraction", "public_per_hr",
)  # fmt: skip
_COLUMNS = (
    "resource", "machine", "fuel", "terms_source", "public_machine", "date", "source", "status",
    "note", *_NUMBERS,
)  # fmt: skip


@dataclass(frozen=True)
class MachineBeside:
    """A machine's hour as its owner pays it, as the public pays it, and as a yard rents it.

    Parameters
    ----------
    resource, machine : str
        Code in the rate tables, and what is bought.
    price : Decimal [$]
        What it is bought for.
    hour : HourlyCost
        The seven elements, without the operator.
    public_per_hr : Decimal [$/hr]
        The public figure, without the operator.
    rent_per_hr : Decimal [$/hr]
        The rate of the tables; of a day, an eighth.
    source, note : str
        Of the public figure, and what it counts otherwise.
    terms_source : str
        Of the price and of the terms of wear.
    """

    resource: str
    machine: str
    price: Decimal
    hour: HourlyCost
    public_per_hr: Decimal
    rent_per_hr: Decimal
    source: str
    note: str
    terms_source: str

    @property
    @exact_arithmetic
    def ratio(self) -> Decimal:
        """The owner's hour over the public one; two decimals."""
        return rounded(HOUSE.divide(self.hour.total, self.public_per_hr), 2)


def machines_beside_public(
    rates: RateTable, folder: Path, money: Decimal = USUAL_MONEY
) -> tuple[MachineBeside, ...]:
    """Return the machines that a public hourly figure is known for, built up from their prices.

    Parameters
    ----------
    rates : RateTable
        Fuel and rents come from here.
    folder : Path
        Of public figures: `public_folder()`.
    money : Decimal [$ per $ and year]
        What the money in a machine costs.

    Raises
    ------
    TablesFaulty
        With every fault of the file.

    References
    ----------
    USACE EP 1110-1-8 (2003), ch. 2.
    """
    faults = Faults()
    rows = csv_file_rows(folder / "machines.csv", "public machines", _COLUMNS, faults)
    beside = tuple(
        _beside(row, rates, money)
        for row in rows
        if row.code("resource") in rates.codes and _fuel_of(row) in rates.codes
    )
    faults.raise_if_any(TablesFaulty)
    return beside


def _beside(row: Row, rates: RateTable, money: Decimal) -> MachineBeside:
    number = {name: row.decimal(name, decimals=4) or Decimal(0) for name in _NUMBERS}
    fuel = _fuel_of(row)
    machine = OwnedMachine(
        *(number[one] for one in ("price", "life_hours", "hours_per_year", "salvage_fraction"))
    )
    running = RunningTerms(
        number["horsepower"], number["power_factor"], _FUELS[fuel], rates.newest_rate(fuel).rate,
        service_fraction=number["service_fraction"], repair_fraction=number["repair_fraction"],
    )  # fmt: skip
    return MachineBeside(
        resource=row.code("resource"), machine=row.text("machine"), price=number["price"],
        hour=hourly_cost(machine, running, money), public_per_hr=number["public_per_hr"],
        rent_per_hr=_rent(rates, row.code("resource")), source=sourced(row),
        note=row.text("note", required=False), terms_source=row.text("terms_source"),
    )  # fmt: skip


def _fuel_of(row: Row) -> str:
    fuel = row.text("fuel")
    if fuel not in _FUELS:
        row.fault(f"fuel {quoted(fuel)} is not known", "write diesel or gasoline")
    return fuel


@exact_arithmetic
def _rent(rates: RateTable, code: str) -> Decimal:
    rate = rates.newest_rate(code)
    return rate.rate if rate.unit.name == "hr" else round_to_cent(rate.rate / _DAY_HR)
