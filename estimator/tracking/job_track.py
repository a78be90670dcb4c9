"""What the books of a job say as of a day and known on a time."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal

from estimator.tracking.attention import Attention, attention_list, overruns, rents_running_on
from estimator.tracking.books import Books, KnownBooks, known_books
from estimator.tracking.budget import Budget, current_budget
from estimator.tracking.code_rests import forecast_of, rests_of
from estimator.tracking.commitments import OrderStand, order_stands, still_to_come
from estimator.tracking.day_sheets import lost_hours
from estimator.tracking.forecast import Rest
from estimator.tracking.machine_log import MachineTime, RentStand, machine_times
from estimator.tracking.own_stock import Stock, stock
from estimator.tracking.payroll_week import Worked
from estimator.tracking.planned_dates import with_planned_dates
from estimator.tracking.progress import InPlace, in_place
from estimator.tracking.rest_at_budget import back_at_budget
from estimator.tracking.status import CodeStatus, JobStatus, job_status
from estimator.tracking.still_open import open_matters


@dataclass(frozen=True)
class Track:
    """What the books say on a day.

    Parameters
    ----------
    as_of, known_on : date, datetime
        Happened by; entered by [UTC].
    since : date or None
        First day of the window that the forecast looks at; None for all of the record.
    status : JobStatus
        Where each code stands.
    rests : mapping of str to Rest
        What each code still needs, at the unit costs of the window; none of a code that has no
        quantity to go by.
    inspected : mapping of str to InPlace
        Where the lender's inspector saw each code; in no other figure here.
    stock : mapping of str to Stock
        Own material: what came, what went, what is left.
    orders : mapping of str to OrderStand
        Orders and subcontracts by number.
    receipt_cents : int
        [0.01 $] Money that came in; a source, never a smaller cost.
    unclosed : Worked
        Paid hours that are accrued at straight time, without overtime and burden.
    unpaid : Worked
        The owner's own hours and their value: no cash, in no other figure.
    rents : tuple of RentStand
        Machines on rent, and those that were.
    machines : mapping of str to MachineTime
        Hours of each machine.
    lost : mapping of str to Decimal
        [hr] Hours lost by reason, from the day sheets; in no other figure.
    attention : tuple of Attention
        Worst first.
    """

    as_of: date
    known_on: datetime
    since: date | None
    status: JobStatus
    rests: Mapping[str, Rest]
    inspected: Mapping[str, InPlace]
    stock: Mapping[str, Stock]
    orders: Mapping[str, OrderStand]
    receipt_cents: int
    unclosed: Worked
    unpaid: Worked
    rents: tuple[RentStand, ...]
    machines: Mapping[str, MachineTime]
    lost: Mapping[str, Decimal]
    attention: tuple[Attention, ...]

    def forecast_cents(self, code: CodeStatus) -> int:
        """Return what a code comes to at the end [0.01 $]: see `forecast_of`."""
        return forecast_of(code, self.rests)

    def left_out_kinds(self, code: CodeStatus) -> tuple[str, ...]:
        """Return the kinds of a budget that the forecast of a code takes no account of.

        None of them has cost anything yet, while others have.
        """
        rest = self.rests.get(code.code)
        if rest is None or not rest.quantity:
            return ()
        return tuple(one for one in code.kinds_without_cost if one not in rest.cents_by_kind)


def track(
    books: Books,
    baseline: Budget,
    as_of: date,
    known_on: datetime,
    since: date | None = None,
) -> Track:
    """Return what the books say as of a day, known on a time; the same for ever.

    Parameters
    ----------
    books : Books
        All rows of the project.
    baseline : mapping of str to BudgetCode
        The accepted estimate: see `budget_from_estimate`.
    as_of, known_on : date, datetime
        Happened by; entered by [UTC].
    since : date or None
        First day of the window whose unit costs the forecast uses; None for all of the record.
    """
    before = known_books(books, since - timedelta(1), known_on) if since else None
    return track_known(known_books(books, as_of, known_on), baseline, before)


def track_known(known: KnownBooks, baseline: Budget, before: KnownBooks | None = None) -> Track:
    """Return what the books say, from their ledger added up.

    Parameters
    ----------
    known : KnownBooks
        On the day of the report.
    baseline : mapping of str to BudgetCode
        The accepted estimate.
    before : KnownBooks or None
        On the day before the window of the forecast; None for all of the record.
    """
    rows, as_of = known.rows, known.as_of
    dated = with_planned_dates(baseline, rows.plans)
    budget = current_budget(dated, rows.changes, as_of, known.known_on)
    billed_on = known.sums.billed_on_orders()
    orders = order_stands(rows.commitments, billed_on, known.sums.open_on_orders())
    left = still_to_come(orders.values(), known.delivered_cents(), known.sums.taxed())
    status = job_status(
        dated, budget, known.spent(), left, known.in_place, as_of, known.unused_cents
    )
    used = known.used_cents()
    if before is not None:
        used.subtract(before.used_cents())
    rests = rests_of(
        status, budget, before.in_place if before else {}, used, left, known.unused_cents
    )
    forecasts = {one.code: forecast_of(one, rests) for one in status.codes}
    advice = {
        one.code: back_at_budget(one, budget[one.code], rests[one.code])
        for one in status.codes
        if one.code in rests and one.code in budget
    }
    running_on = rents_running_on(status, (one.rent for one in known.rents), as_of)
    sentences = open_matters(rows, orders, billed_on, known.sums.open_hours, as_of)
    return Track(
        as_of=as_of,
        known_on=known.known_on,
        since=before.as_of + timedelta(1) if before else None,
        status=status,
        rests=rests,
        inspected=in_place(rows.progress, as_of, known.known_on, by_inspector=True),
        stock=stock(rows.stock),
        orders=orders,
        receipt_cents=sum(one.cents for one in rows.receipts),
        unclosed=known.sums.unclosed(),
        unpaid=known.sums.unpaid(),
        rents=known.rents,
        machines=machine_times(rows.machine_hours),
        lost=lost_hours(rows.days),
        attention=attention_list([*overruns(status, forecasts, advice), *running_on], sentences),
    )
