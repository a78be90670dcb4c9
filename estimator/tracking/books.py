"""The books: every row of a project, and what they say as of a day and known on a time."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from decimal import Decimal
from functools import cached_property
from itertools import chain

from estimator.tracking.attention import Attention, attention_list, overruns
from estimator.tracking.bank_terms import BankRule, BankTerms
from estimator.tracking.budget import Budget, Change, current_budget
from estimator.tracking.code_rests import forecast_of, rests_of
from estimator.tracking.commitments import (
    Commitment,
    OrderStand,
    left_by_place,
    order_stands,
)
from estimator.tracking.credit_papers import Approval, BasisRow, CreditAnswer
from estimator.tracking.day_sheets import DaySheet, lost_hours
from estimator.tracking.forecast import Rest
from estimator.tracking.hold_points import HoldPoint, HoldResult
from estimator.tracking.ledger_lines import MoneyRow, lines_of, lines_of_rents
from estimator.tracking.ledger_rows import Cost, Payment, Receipt, as_known
from estimator.tracking.ledger_sums import LedgerSums, sums_of
from estimator.tracking.machine_log import (
    MachineHours,
    MachineTime,
    RentStand,
    machine_times,
    rent_stands,
)
from estimator.tracking.machines_on_rent import (
    CalledOff,
    OnRent,
    running_rents,
)
from estimator.tracking.measured_points import MeasuredPoint, Reading
from estimator.tracking.own_stock import StockMove, unused_cents
from estimator.tracking.payroll_settings import PayrollSettings
from estimator.tracking.payroll_week import HoursRow, Worked
from estimator.tracking.planned_dates import PlannedDates, with_planned_dates
from estimator.tracking.progress import InPlace, Progress, in_place
from estimator.tracking.rest_at_budget import back_at_budget
from estimator.tracking.spent import Place, Spent
from estimator.tracking.status import CodeStatus, JobStatus, job_status
from estimator.tracking.still_open import open_matters
from estimator.tracking.tickets import Ticket


@dataclass(frozen=True)
class Books:
    """All rows of the books of a project, each list in the order of entry.

    Parameters
    ----------
    costs, payments, receipts, tickets, hours, progress, changes, commitments, stock, rents : lists
        Of the rows of these names.
    holds, results, points, readings, plans : lists
        Hold points and what came of them, measured points and their readings, planned dates.
    payroll, called_off, machine_hours, days : lists
        How workweeks are closed, the ends of rents, hours of machines, day sheets.
    banks, bank_rules : lists
        How exports of a bank are read, and whose their lines are.
    credit_answers, approvals, bases : lists
        What counts toward the rehabilitation credit, papers behind it, the basis as stated.
    """

    costs: list[Cost] = field(default_factory=list)
    payments: list[Payment] = field(default_factory=list)
    receipts: list[Receipt] = field(default_factory=list)
    tickets: list[Ticket] = field(default_factory=list)
    hours: list[HoursRow] = field(default_factory=list)
    progress: list[Progress] = field(default_factory=list)
    changes: list[Change] = field(default_factory=list)
    commitments: list[Commitment] = field(default_factory=list)
    stock: list[StockMove] = field(default_factory=list)
    rents: list[OnRent] = field(default_factory=list)
    holds: list[HoldPoint] = field(default_factory=list)
    results: list[HoldResult] = field(default_factory=list)
    points: list[MeasuredPoint] = field(default_factory=list)
    readings: list[Reading] = field(default_factory=list)
    plans: list[PlannedDates] = field(default_factory=list)
    payroll: list[PayrollSettings] = field(default_factory=list)
    called_off: list[CalledOff] = field(default_factory=list)
    machine_hours: list[MachineHours] = field(default_factory=list)
    banks: list[BankTerms] = field(default_factory=list)
    bank_rules: list[BankRule] = field(default_factory=list)
    days: list[DaySheet] = field(default_factory=list)
    credit_answers: list[CreditAnswer] = field(default_factory=list)
    approvals: list[Approval] = field(default_factory=list)
    bases: list[BasisRow] = field(default_factory=list)

    @property
    def money(self) -> Iterator[MoneyRow]:
        """The rows that add to what was spent."""
        return chain(self.costs, self.payments, self.tickets, self.hours)

    def known(self, as_of: date, known_on: datetime) -> Books:
        """Return the books with what had happened by a day and was entered by a time."""
        return Books(
            **{name: list(as_known(rows, as_of, known_on)) for name, rows in vars(self).items()}
        )


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


@dataclass(frozen=True)
class KnownBooks:
    """What is known of the books on a day, with the ledger added up.

    Parameters
    ----------
    as_of, known_on : date, datetime
        Happened by; entered by [UTC].
    rows : Books
        What is known, see `Books.known`. Of the costs a report looks only at those that charge a
        rent, of the progress of a code at what counts, and at no payments, tickets or hours.
    sums : LedgerSums
        Of the costs, payments, tickets and hours.
    """

    as_of: date
    known_on: datetime
    rows: Books
    sums: LedgerSums

    @cached_property
    def in_place(self) -> Mapping[str, InPlace]:
        """Where each code stands."""
        return in_place(self.rows.progress, self.as_of, self.known_on)

    @cached_property
    def rents(self) -> tuple[RentStand, ...]:
        """Machines on rent, and those that were."""
        running = running_rents(self.rows.rents, self.rows.called_off)
        return rent_stands(running, self.rows.costs, self.as_of)

    def spent(self) -> Mapping[Place, Spent]:
        """Return what each code and kind has cost, with what has accrued on rents."""
        spent = dict(self.sums.spent())
        for line in lines_of_rents(self.rents):
            spent[line.place] = spent.get(line.place, Spent()) + line.spent
        return spent

    @cached_property
    def recurring_cents(self) -> Mapping[Place, int]:
        """What was incurred and recurs, by code and kind [0.01 $]."""
        cents = Counter(self.sums.recurring_cents())
        for line in lines_of_rents(self.rents):
            cents[line.place] += line.spent.accrued_cents
        return cents

    @cached_property
    def unused_cents(self) -> Mapping[Place, int]:
        """What of it is material that is not used yet; a count of more is taken as all [0.01 $]."""
        counts = unused_cents(self.rows.stock)
        return {
            place: min(own, max(self.recurring_cents[place], 0)) for place, own in counts.items()
        }

    def used_cents(self) -> Counter[Place]:
        """Return what recurs, without material that is not used yet, by code and kind [0.01 $]."""
        cents = Counter(self.recurring_cents)
        cents.subtract(self.unused_cents)
        return cents


def known_books(books: Books, as_of: date, known_on: datetime) -> KnownBooks:
    """Return what is known of the books on a day, with the ledger added up.

    Parameters
    ----------
    books : Books
        All rows of the project.
    as_of, known_on : date, datetime
        Happened by; entered by [UTC].
    """
    known = books.known(as_of, known_on)
    return KnownBooks(as_of, known_on, known, sums_of(lines_of(known.money)))


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
    orders = order_stands(rows.commitments, known.sums.billed_on_orders())
    left = left_by_place(orders.values())
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
    sentences = open_matters(rows, orders, known.sums.open_hours, as_of)
    return Track(
        as_of=as_of,
        known_on=known.known_on,
        since=before.as_of + timedelta(1) if before else None,
        status=status,
        rests=rests,
        orders=orders,
        receipt_cents=sum(one.cents for one in rows.receipts),
        unclosed=known.sums.unclosed(),
        unpaid=known.sums.unpaid(),
        rents=known.rents,
        machines=machine_times(rows.machine_hours),
        lost=lost_hours(rows.days),
        attention=attention_list(overruns(status, forecasts, advice), sentences),
    )
