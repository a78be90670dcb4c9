"""What any entry must keep to: a day that has come, a code of the budget."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date

from estimator.errors import Faults, LedgerFaulty, MeasureFaulty, did_you_mean, fault, quoted
from estimator.quantity.units import unit


def note_day(happened: date, today: date, faults: Faults) -> None:
    """Note a day that is to come."""
    if happened > today:
        faults.add("happened", f"{happened} is in the future", f"today is {today}")


def note_unit(name: str, faults: Faults) -> None:
    """Note a unit that there is not: what is misspelt is added up with nothing.

    Parameters
    ----------
    name : str
        As it was written.
    faults : Faults
        To which it is added.
    """
    try:
        unit(name)
    except MeasureFaulty as unknown:
        faults.add("unit", unknown.faults[0].what, unknown.faults[0].remedy)


def check_day(happened: date, today: date) -> None:
    """Refuse a day that is to come.

    Parameters
    ----------
    happened, today : date
        The day of the row; today by the server's clock.

    Raises
    ------
    LedgerFaulty
        If it lies ahead.
    """
    faults = Faults()
    note_day(happened, today, faults)
    faults.raise_if_any(LedgerFaulty)


def check_code(code: str, codes: Collection[str]) -> None:
    """Refuse a cost code that the budget does not have.

    Parameters
    ----------
    code : str
        Cost code.
    codes : collection of str
        Those of the budget.

    Raises
    ------
    LedgerFaulty
        With the nearest that there is.
    """
    if code not in codes:
        what = f"there is no cost code {quoted(code)}"
        raise fault(LedgerFaulty, what, did_you_mean(code, codes), "code")
