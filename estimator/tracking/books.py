"""The books: every row of a project, and what they say as of a day and known on a time."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from decimal import Decimal
from itertools import chain
from types import MappingProxyType

from estimator.tracking.attention import Attention, attention_list, overruns
from estimator.tracking.bank_terms import BankRule, BankTerms
from estimator.tracking.budget import Budget, Change, current_budget
from estimator.tracking.closed_weeks import LABOR, unclosed_hours, unclosed_sentences
from estimator.tracking.commitments import (
    Commitment,
    OrderStand,
    left_by_place,
    order_stands,
    over_billing_sentences,
)
from estimator.tracking.day_sheets import DaySheet, lost_hours
from estimator.tracking.forecast import Observed, Rest, what_is_left
from estimator.tracking.hold_points import HoldPoint, HoldResult, open_holds
from estimator.tracking.ledger_rows import Cost, Payment, Receipt, as_known
from estimator.tracking.machine_log import (
    MachineHours,
    MachineTime,
    RentStand,
    machine_times,
    rent_stands,
)
from estimator.tracking.machines_on_rent import (
    EQUIPMENT,
    CalledOff,
    OnRent,
    billed_through,
    call_off_sentence,
    next_call_off,
    running_rents,
    unbilled_rent_cents,
)
from estimator.tracking.measured_points import MeasuredPoint, Reading, limit_sentence
from estimator.tracking.own_stock import StockMove, over_use_sentences, stock
from estimator.tracking.payroll_settings import PayrollSettings
from estimator.tracking.payroll_week import HoursRow
from estimator.tracking.planned_dates import PlannedDates, with_planned_dates
from estimator.tracking.progress import InPlace, Progress, in_place
from estimator.tracking.spent import Place, spent_by_place
from estimator.tracking.status import NOT_MEASURED, CodeStatus, JobStatus, job_status
from estimator.tracking.tickets import Ticket, unbilled_tickets

_CALL_OFF_DAYS = 7


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

    def known(self, as_of: date, known_on: datetime) -> Books:
        """Return the books with what had happened by a day and was entered by a time."""
        return Books(
            **{name: list(as_known(rows, as_of, known_on)) for name, rows in vars(self).items()}
        )


@dataclass(frozen=True)
class Worked:
    """Hours [hr], and what they come to at straight time [0.01 $]."""

    hours: Decimal
    cents: int


def worked(rows: Iterable[HoursRow]) -> Worked:
    """Return hours together."""
    listed = list(rows)
    hours = sum((one.hours for one in listed), Decimal(0))
    return Worked(hours, sum(one.cents for one in listed))


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


def forecast_of(code: CodeStatus, rests: Mapping[str, Rest]) -> int:
    """Return what a code comes to: incurred and what is left [0.01 $].

    A code without a quantity to go by, or not measured yet, comes to its budget, or to what was
    incurred and what is ordered if that is more.
    """
    incurred = code.spent.incurred_cents
    if code.code in rests:
        return incurred + rests[code.code].cents
    return max(code.budget_cents, incurred + code.committed_cents)


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
    known = books.known(as_of, known_on)
    dated = with_planned_dates(baseline, known.plans)
    budget = current_budget(dated, known.changes, as_of, known_on)
    orders = order_stands(known.commitments, known.costs)
    left = left_by_place(orders.values())
    stands = in_place(known.progress, as_of, known_on)
    rents = running_rents(known.rents, known.called_off)
    spent = spent_by_place(
        known.costs, known.payments, known.tickets, as_of, known_on, known.hours, rents
    )
    status = job_status(dated, budget, spent, left, stands, as_of)
    before = in_place(known.progress, since - timedelta(1), known_on) if since else {}
    rests = _rests(status, budget, before, _recurring_cents(known, since, as_of), left)
    forecasts = {one.code: forecast_of(one, rests) for one in status.codes}
    return Track(
        as_of=as_of,
        known_on=known_on,
        since=since,
        status=status,
        rests=rests,
        orders=orders,
        receipt_cents=sum(one.cents for one in known.receipts),
        unclosed=worked(unclosed_hours(known.hours, known.costs)),
        unpaid=worked(one for one in known.hours if one.is_unpaid),
        rents=rent_stands(rents, known.costs, as_of),
        machines=machine_times(known.machine_hours),
        lost=lost_hours(known.days),
        attention=attention_list(overruns(status, forecasts), _sentences(known, orders, as_of)),
    )


def _rests(
    status: JobStatus,
    budget: Budget,
    before: Mapping[str, InPlace],
    recurring: Mapping[str, Mapping[str, int]],
    left: Mapping[Place, int],
) -> Mapping[str, Rest]:
    """Return what each code still needs; what has no quantity to go by is left out."""
    rests = {}
    for code in status.codes:
        if not code.phase or not code.expected or code.how_earned == NOT_MEASURED:
            continue
        already = before[code.code].quantity if code.code in before else Decimal(0)
        observed = Observed(code.quantity - already, recurring.get(code.code, {}))
        of_budget = budget[code.code].cents_by_kind if code.code in budget else {}
        ordered = {kind: cents for (of, kind), cents in left.items() if of == code.code and cents}
        budgeted = Observed(code.budget_quantity or code.expected, of_budget)
        in_place = code.quantity
        if not code.spent.incurred_cents:  # no bill has come: all of it costs what the budget says
            in_place, observed = Decimal(0), Observed(Decimal(0), {})
        rests[code.code] = what_is_left(code.expected, in_place, observed, budgeted, ordered)
    return MappingProxyType(rests)


def _recurring_cents(known: Books, since: date | None, as_of: date) -> dict[str, dict[str, int]]:
    """Return what recurs of the costs of the window, with its accruals, by code and kind."""
    cents: dict[str, dict[str, int]] = defaultdict(lambda: defaultdict(int))
    for cost in known.costs:
        if not cost.is_once and (since is None or cost.happened >= since):
            for split in cost.splits:
                cents[split.code][split.kind] += split.cents
    for ticket in unbilled_tickets(known.tickets, known.costs):
        if since is None or ticket.happened >= since:
            cents[ticket.code][ticket.kind] += ticket.cents
    for worked_hours in unclosed_hours(known.hours, known.costs):
        if since is None or worked_hours.happened >= since:
            cents[worked_hours.code][LABOR] += worked_hours.cents
    for rent in running_rents(known.rents, known.called_off):
        through = billed_through(rent, known.costs)
        starts = [day for day in (through, since and since - timedelta(1)) if day]
        cents[rent.code][EQUIPMENT] += unbilled_rent_cents(rent, max(starts, default=None), as_of)
    return cents


def _sentences(
    known: Books, orders: Mapping[str, OrderStand], as_of: date
) -> list[tuple[str, str]]:
    """Return what needs attention besides money: holds, orders, stock, points, rents."""
    holds = [
        (hold.code, f"{hold.code}: {hold.name} is open; it needs {hold.needs}, "
         f"and the {hold.decides} decides")
        for hold in open_holds(known.holds, known.results)
    ]  # fmt: skip
    limits = (
        limit_sentence(point, [one for one in known.readings if one.point == point.name])
        for point in known.points
    )
    others = chain(
        over_billing_sentences(orders),
        over_use_sentences(stock(known.stock)),
        filter(None, limits),
        unclosed_sentences(unclosed_hours(known.hours, known.costs), known.payroll, as_of),
    )
    return [*holds, *(("", sentence) for sentence in others), *_call_offs(known, as_of)]


def _call_offs(known: Books, as_of: date) -> list[tuple[str, str]]:
    """Return the machines whose rent steps up within a week."""
    sentences = []
    for rent in running_rents(known.rents, known.called_off):
        step = next_call_off(rent, as_of)
        if step is not None and step.last_day <= as_of + timedelta(_CALL_OFF_DAYS):
            sentences.append((rent.code, call_off_sentence(rent, step)))
    return sentences
