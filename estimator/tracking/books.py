"""The books: every row of a project, and what they say as of a day and known on a time."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import cached_property
from itertools import chain
from typing import Any

from estimator.tracking.bank_terms import BankRule, BankTerms
from estimator.tracking.budget import Change
from estimator.tracking.closed_weeks import LABOR
from estimator.tracking.commitments import (
    Commitment,
)
from estimator.tracking.credit_papers import Approval, BasisRow, CreditAnswer
from estimator.tracking.day_sheets import DaySheet
from estimator.tracking.hold_points import HoldPoint, HoldResult
from estimator.tracking.ledger_lines import MoneyRow, lines_of, lines_of_rents
from estimator.tracking.ledger_rows import Cost, Payment, Receipt, as_known
from estimator.tracking.ledger_sums import LedgerSums, sums_of
from estimator.tracking.machine_log import (
    MachineHours,
    RentStand,
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
from estimator.tracking.payroll_week import HoursRow
from estimator.tracking.placed_loads import with_placed
from estimator.tracking.planned_dates import PlannedDates
from estimator.tracking.progress import InPlace, Progress, in_place
from estimator.tracking.spent import Place, Spent
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
        """Return the books with what had happened by a day and was entered by a time.

        Its progress has the loads that were placed as they came: see `with_placed`.
        """
        rows: dict[str, list[Any]] = {
            name: list(as_known(own, as_of, known_on)) for name, own in vars(self).items()
        }
        rows["progress"] = with_placed(rows["progress"], rows["tickets"])
        return Books(**rows)


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

    def delivered_cents(self) -> Mapping[Place, int]:
        """Return what tickets and rents come to that no bill covers, by code and kind [0.01 $]."""
        return {
            place: own.accrued_cents for place, own in self.spent().items() if place[1] != LABOR
        }

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
