"""What each month added: the difference of two states, so that the months add up to the state."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from estimator.tracking.books import KnownBooks
from estimator.tracking.budget import Budget, current_budget
from estimator.tracking.planned_dates import with_planned_dates
from estimator.tracking.status import job_status

MOST_MONTHS = 120


@dataclass(frozen=True)
class MonthMovement:
    """What a month added; below zero where it took off.

    Parameters
    ----------
    first, last : date
        Days of the month that count; the last month ends on the day of the report.
    planned_cents, earned_cents, incurred_cents, paid_cents : int
        [0.01 $] The state at its end less that at the end of the month before.
    """

    first: date
    last: date
    planned_cents: int
    earned_cents: int
    incurred_cents: int
    paid_cents: int


def month_ends(first: date, as_of: date) -> tuple[date, ...]:
    """Return the last day of each month from that of a first day, and the day of a report.

    Parameters
    ----------
    first, as_of : date
        Of the first entry; of the report, on which the last month ends. Of records longer than 120
        months the first movement is that of all before.

    Examples
    --------
    >>> [str(one) for one in month_ends(date(2026, 4, 9), date(2026, 5, 24))]
    ['2026-04-30', '2026-05-24']
    """
    ends, end = [], (first.replace(day=1) + timedelta(31)).replace(day=1) - timedelta(1)
    while end < as_of:
        ends.append(end)
        end = (end + timedelta(32)).replace(day=1) - timedelta(1)
    return tuple([*ends, as_of][-MOST_MONTHS:])


def movements_by_month(stands: Iterable[KnownBooks], baseline: Budget) -> list[MonthMovement]:
    """Return what each month added.

    Parameters
    ----------
    stands : iterable of KnownBooks
        On each of `month_ends`, known on the same time.
    baseline : mapping of str to BudgetCode
        The accepted estimate.

    Notes
    -----
    A movement is the difference of two states that are rounded to the cent, never rounded itself,
    so the movements of all months add up to the state on the last day.
    """
    movements, before = list[MonthMovement](), (0, 0, 0, 0)
    for known in stands:
        now = _state(known, baseline)
        moved = [after - earlier for after, earlier in zip(now, before, strict=True)]
        movements.append(MonthMovement(known.as_of.replace(day=1), known.as_of, *moved))
        before = now
    return movements


def _state(known: KnownBooks, baseline: Budget) -> tuple[int, int, int, int]:
    rows, as_of = known.rows, known.as_of
    dated = with_planned_dates(baseline, rows.plans)
    budget = current_budget(dated, rows.changes, as_of, known.known_on)
    whole = job_status(dated, budget, known.spent(), {}, known.in_place, as_of).whole()
    work, spent = whole.performance, whole.spent
    return work.planned_cents, work.earned_cents, spent.incurred_cents, spent.paid_cents
