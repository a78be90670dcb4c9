"""Machines: what a body of a rent, its end or a day's hours says, as a row of the library."""

from __future__ import annotations

from api.ledger.desk import DAY, Desk
from api.ledger.site_entry_shapes import NewCallOff, NewMachineHours, NewRent
from estimator.errors import Faults, LedgerFaulty, fault, quoted
from estimator.rates.machines.rental_rates import LONGEST_DAYS, RentalRates
from estimator.tracking.entry_checks import check_code, check_day
from estimator.tracking.ledger_rows import Cost
from estimator.tracking.machine_log import MachineHours, check_machine_hours
from estimator.tracking.machines_on_rent import CalledOff, OnRent
from estimator.tracking.tickets import standing


def rent_row(desk: Desk, body: NewRent) -> tuple[OnRent, list[str]]:
    """Return a machine that goes on rent."""
    check_day(body.happened, desk.today)
    check_code(body.code, desk.budget)
    if (desk.today - body.happened).days >= LONGEST_DAYS:
        what = f"{body.happened} is {LONGEST_DAYS:,} days ago or more"
        remedy = f"a rental runs less than {LONGEST_DAYS:,} days"
        raise fault(LedgerFaulty, what, remedy, "happened")
    rates = RentalRates(day=body.day, week=body.week, month=body.month)
    return OnRent(
        **desk.head(body), machine=body.machine, vendor=body.vendor, code=body.code, rates=rates
    ), []


def called_off_row(desk: Desk, body: NewCallOff) -> tuple[CalledOff, list[str]]:
    """Return the end of a rent that is there."""
    check_day(body.happened, desk.today)
    rent = _standing_rents(desk).get(body.rent)
    if rent is None:
        what = f"there is no rent in row {body.rent}, or it is reversed"
        raise fault(LedgerFaulty, what, "'groundsill track' lists the machines on rent", "rent")
    if body.happened < rent.happened:
        what = f"{body.happened} is before its first day, {rent.happened}"
        raise fault(LedgerFaulty, what, "write the last day that is charged", "happened")
    return CalledOff(**desk.head(body), rent=body.rent), []


def machine_hours_row(desk: Desk, body: NewMachineHours) -> tuple[MachineHours, list[str]]:
    """Return the hours of a machine on a day."""
    check_day(body.happened, desk.today)
    check_code(body.code, desk.budget)
    row = MachineHours(
        **desk.head(body), machine=body.machine, code=body.code, run=body.run,
        standing=body.standing, note=body.note,
    )  # fmt: skip
    same_day = desk.rows_alike("machine_hours", MachineHours, body.machine, DAY, body.happened)
    check_machine_hours(row, same_day)
    return row, []


def check_rents(desk: Desk, cost: Cost) -> None:
    """Refuse a bill over rents that are not there, are reversed, or are another vendor's."""
    faults = Faults()
    if cost.rent_through is not None and not cost.rents:
        faults.add("rent_through", "is stated without a rent", "name the row of the rent")
    rents = _standing_rents(desk) if cost.rents else {}
    for number in cost.rents:
        rent = rents.get(number)
        if rent is None:
            faults.add("rents", f"there is no rent in row {number}, or it is reversed")
        elif rent.vendor.casefold() != cost.vendor.casefold():
            faults.add("rents", f"the machine in row {number} is from {quoted(rent.vendor)}")
    faults.raise_if_any(LedgerFaulty)


def _standing_rents(desk: Desk) -> dict[int, OnRent]:
    rents = desk.rows("rents", OnRent)
    live = set(standing(rents))
    return {one.row: one for one in rents if one.row in live}
