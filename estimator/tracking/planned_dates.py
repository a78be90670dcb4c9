"""Planned dates: when the work of a code or a phase is to start and to finish."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from types import MappingProxyType

from estimator.tracking.budget import Budget, BudgetCode


@dataclass(frozen=True)
class PlannedDates:
    """The first and the last day of the work of a code, or of every code of a phase.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day of planning; when it was entered [UTC].
    code : str
        Cost code, or the code of a phase.
    start, finish : date
        First and last day of the work.
    """

    row: int
    happened: date
    entered: datetime
    code: str
    start: date
    finish: date


def with_dates(budget: Budget, dates: Mapping[str, tuple[date, ...]]) -> Budget:
    """Return a budget with first and last days of its codes, as a schedule gives them.

    Parameters
    ----------
    budget : mapping of str to BudgetCode
        As accepted.
    dates : mapping of str to (date, date)
        By cost code; a code that is not named keeps what it has.
    """
    return MappingProxyType(
        {
            code: replace(one, start=dates[code][0], finish=dates[code][1])
            if code in dates
            else one
            for code, one in budget.items()
        }
    )


def with_planned_dates(budget: Budget, plans: Iterable[PlannedDates]) -> Budget:
    """Return a budget with the dates that were planned last.

    Parameters
    ----------
    budget : mapping of str to BudgetCode
        As accepted.
    plans : iterable of PlannedDates
        As known: see `as_known`. Dates of a code go before those of its phase.
    """
    planned = {one.code: one for one in plans}
    if not planned:
        return budget
    return MappingProxyType({code: _dated(one, planned) for code, one in budget.items()})


def _dated(code: BudgetCode, planned: dict[str, PlannedDates]) -> BudgetCode:
    plan = planned.get(code.code) or planned.get(code.phase)
    return code if plan is None else replace(code, start=plan.start, finish=plan.finish)
