"""How payroll is worked out from a day on: workweek, overtime, taxes, insurance."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime

from estimator.errors import LaborFaulty, fault
from estimator.tracking.payroll_week import PayrollTerms


@dataclass(frozen=True)
class PaidElsewhere:
    """What a person was paid earlier in the year outside these books [0.01 $], before deductions.

    It counts toward the wage bases of the taxes.
    """

    person: str
    cents: int


@dataclass(frozen=True)
class PayrollSettings:
    """How payroll is worked out from a day on.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The first day that it holds for; when it was entered [UTC].
    last_weekday : int
        0 for Monday to 6 for Sunday: the day on which the workweek ends.
    terms : PayrollTerms
        Taxes, insurance, and the rule for overtime.
    elsewhere : tuple of PaidElsewhere
        Of the calendar year of its first day.
    """

    row: int
    happened: date
    entered: datetime
    last_weekday: int
    terms: PayrollTerms
    elsewhere: tuple[PaidElsewhere, ...] = ()


def settings_for(settings: Iterable[PayrollSettings], ends: date) -> PayrollSettings:
    """Return how the payroll of a workweek is worked out.

    Parameters
    ----------
    settings : iterable of PayrollSettings
        All that are known.
    ends : date
        Last day of the workweek.

    Raises
    ------
    LaborFaulty
        If there are none by then.

    Notes
    -----
    Workweek, overtime and insurance are those in force on that day. The taxes are the last of the
    calendar year, and hold for all of it: they are worked out on the year to date.
    """
    ordered = sorted(settings, key=lambda one: (one.happened, one.row))
    of_year = [one for one in ordered if one.happened.year <= ends.year]
    in_force = [one for one in of_year if one.happened <= ends]
    if not in_force:
        what = f"nothing says how payroll is worked out on {ends}"
        raise fault(LaborFaulty, what, "post payroll terms first: taxes, insurance, the workweek")
    elsewhere = {
        one.person: one
        for own in of_year
        if own.happened.year == ends.year
        for one in own.elsewhere
    }
    terms = replace(in_force[-1].terms, taxes=of_year[-1].terms.taxes)
    return replace(in_force[-1], terms=terms, elsewhere=tuple(elsewhere.values()))
