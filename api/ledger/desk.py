"""Where an entry is posted: what the books know already, and the number that comes next."""

from __future__ import annotations

import json
from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property, lru_cache
from operator import attrgetter
from typing import TYPE_CHECKING, Any, TypeVar
from uuid import UUID, uuid4

from sqlalchemy import ColumnElement, Row, Select, String, bindparam, exists, func, select

from api.draws.rows import StoredLoan
from api.estimates.rows import AcceptedEstimate
from api.ledger.baselines import LAST_ACCEPTED, budget_and_trades, not_open
from api.ledger.entry_fields import NewEntry
from api.ledger.plain_rows import library_row
from api.ledger.rows import BookEntry, PostedEntry
from api.ledger.stored_sums import moved_by, related_rows, store_movements
from api.projects.rows import Project
from api.store.sessions import AccountSession, not_found
from api.store.writing_session import WritingSession
from estimator.tracking.budget import Budget, Change, current_budget
from estimator.tracking.ledger_lines import MoneyRow
from estimator.tracking.payroll_week import DAYS_IN_A_WEEK
from estimator.tracking.planned_dates import PlannedDates, with_planned_dates

if TYPE_CHECKING:
    from estimator.funding.loan_terms import LoanTerms

LibraryRow = TypeVar("LibraryRow")


@dataclass(frozen=True)
class Alike:
    """What rows of a kind are looked up by, in the database and among rows at hand.

    Parameters
    ----------
    key_of_row, keys : callable
        Return it of a row of the library, and all that are looked for of a value.
    condition, values : column, callable
        What holds in `BookEntry` of the rows that are looked for, and its parameters of a value.
    """

    key_of_row: Callable[[Any], Hashable]
    keys: Callable[[Any], Iterable[Hashable]]
    condition: ColumnElement[bool]
    values: Callable[[Any], dict[str, object]]


# Written once: a statement that is put together for each entry takes longer than its answer.
_OF_PROJECT = BookEntry.project_id == bindparam("of_project")
_LAST = select(func.max(BookEntry.number)).where(BookEntry.project_id == Project.id)
_LOAN = select(StoredLoan.document).where(StoredLoan.project_id == Project.id)
_ACCEPTED = LAST_ACCEPTED.where(AcceptedEstimate.project_id == Project.id)
# Most jobs have none of these for weeks, and each posting asks for all of them.
_MAYBE_NONE = ("changes", "plans")
_PROJECT = select(
    _LAST.scalar_subquery().label("last"),
    _LOAN.scalar_subquery().label("loan"),
    _ACCEPTED.scalar_subquery().label("accepted"),
    *(
        exists().where(BookEntry.project_id == Project.id, BookEntry.kind == kind).label(kind)
        for kind in _MAYBE_NONE
    ),
).where(Project.id == bindparam("of_id"))
# Unordered, or SQLite would rather go through all entries of the project by their number.
_ROWS = select(BookEntry.fields).where(_OF_PROJECT, BookEntry.kind == bindparam("of_kind"))
_ROWS_OF_PARTY = _ROWS.where(BookEntry.party == bindparam("of_party"))
_OF_AMOUNT = BookEntry.cents.in_([bindparam("of_cents"), bindparam("of_less")])
_NUMBERED = BookEntry.number == bindparam("of_number")
_ON_DAY = BookEntry.happened == bindparam("of_day")
IN_PARTIES = BookEntry.party.in_(bindparam("of_parties", expanding=True))
IN_DAYS = BookEntry.happened.between(bindparam("of_first"), bindparam("of_last"))
_NAMED = func.lower(BookEntry.document) == func.lower(bindparam("of_document", type_=String()))

# With what takes it back: the same amount with the other sign.
AMOUNT = Alike(
    lambda row: abs(row.cents),
    lambda cents: (abs(cents),),
    _OF_AMOUNT,
    lambda cents: {"of_cents": cents, "of_less": -cents},
)
NUMBER = Alike(
    lambda row: row.number.casefold(),
    lambda number: (number.casefold(),),
    _NAMED,
    lambda number: {"of_document": number},
)
DAY = Alike(lambda row: row.happened, lambda day: (day,), _ON_DAY, lambda day: {"of_day": day})
# From a day on.
WEEK = Alike(
    lambda row: row.happened,
    lambda day: [day + timedelta(n) for n in range(DAYS_IN_A_WEEK)],
    IN_DAYS,
    lambda day: {"of_first": day, "of_last": day + timedelta(DAYS_IN_A_WEEK - 1)},
)


@dataclass(frozen=True)
class Desk:
    """The books of a project, while somebody posts to them.

    Parameters
    ----------
    session : AccountSession
        Holds the turn to write.
    project_id : UUID
    at : datetime
        [UTC] Now, by the server's clock.
    """

    session: AccountSession
    project_id: UUID
    at: datetime

    @property
    def today(self) -> date:
        """The day of the server's clock, in UTC."""
        return self.at.date()

    @cached_property
    def number(self) -> int:
        """The number that the entry gets: one more than the last.

        Raises
        ------
        NotFound
            If the account has no such project.
        """
        return (self._project.last or 0) + 1

    @cached_property
    def loan_terms(self) -> LoanTerms | None:
        """The terms of the project's loan as it was closed, if it has one."""
        return None if self._project.loan is None else _terms_of(self._project.loan)

    @cached_property
    def _project(self) -> Row[Any]:
        project = self.session.rows(_PROJECT, of_id=self.project_id, known_on=self.at)
        if not project:
            raise not_found(Project, self.project_id)
        return project[0]

    def new_id(self) -> UUID:
        """Return the id that the entry gets."""
        return uuid4()

    @cached_property
    def baseline(self) -> Budget:
        """The budget as it was accepted."""
        return self._accepted[0]

    @cached_property
    def budget(self) -> Budget:
        """The budget as it is now."""
        return current_budget(self.baseline, self.rows("changes", Change), self.today, self.at)

    @cached_property
    def trades(self) -> frozenset[str]:
        """The trades whose hours the accepted estimate has."""
        return self._accepted[1]

    @property
    def _accepted(self) -> tuple[Budget, frozenset[str]]:
        if self._project.accepted is None:
            raise not_open()
        return budget_and_trades(self.session, self._project.accepted)

    @cached_property
    def work_starts(self) -> date | None:
        """The first planned day: by the schedule of the accepted scope, or as it was posted."""
        dated = with_planned_dates(self.budget, self.rows("plans", PlannedDates)).values()
        return min((one.start for one in dated if one.start is not None), default=None)

    def head(self, body: NewEntry) -> dict[str, Any]:
        """Return what every row of the library begins with."""
        return {"row": self.number, "happened": body.happened, "entered": self.at}

    def rows(
        self,
        kind: str,
        row_type: type[LibraryRow],
        party: str | None = None,
        *conditions: ColumnElement[bool],
        **values: object,
    ) -> list[LibraryRow]:
        """Return rows of a kind in the order of the books, all or those of one party.

        Conditions on the columns of `BookEntry`, with their values, leave out what is not looked
        for before it is read; like statements they are written once.
        """
        if kind in _MAYBE_NONE and not getattr(self._project, kind):
            return []
        of = {"of_project": self.project_id, "of_kind": kind, **values}
        if party is not None:
            of["of_party"] = party_key(party)
        rows = self.session.rows(_rows_where(party is not None, conditions), **of)
        listed: list[Any] = [library_row(one.fields, row_type) for one in rows]
        return sorted(listed, key=attrgetter("row"))

    def row_numbered(self, kind: str, row_type: type[LibraryRow], number: int) -> LibraryRow | None:
        """Return a row of a kind by its number, or None if that number is another kind's."""
        return next(iter(self.rows(kind, row_type, None, _NUMBERED, of_number=number)), None)

    def rows_alike(
        self, kind: str, row_type: type[LibraryRow], party: str | None, alike: Alike, value: Any
    ) -> Sequence[LibraryRow]:
        """Return the rows of a kind and a party that are alike in a value.

        Parameters
        ----------
        kind, row_type, party : str, type, str
            As for `rows`.
        alike : Alike
            What they are looked up by.
        value : object
            That of the row that they are like.
        """
        return self.rows(kind, row_type, party, alike.condition, **alike.values(value))

    def related(self, numbers: Iterable[int]) -> list[MoneyRow]:
        """Return rows by their numbers, those that moved their lines, and the reversals of all."""
        return related_rows(self.session, self.project_id, numbers)

    def keep(self, work: WritingSession, entry: PostedEntry, row: Any) -> None:
        """Add an entry to the books, with what it moves."""
        moved = moved_by(row, self.related)
        work.add_rows(BookEntry, [entry.columns()])
        store_movements(work, self.project_id, moved)


def opened_desk(work: WritingSession, project_id: UUID) -> Desk:
    """Return the desk of a project that is there.

    Raises
    ------
    NotFound
        If the account has no such project.
    """
    desk = Desk(work, project_id, work.at)
    _ = desk.number
    return desk


@lru_cache(maxsize=100)  # a stored loan never changes
def _terms_of(document: str) -> LoanTerms:
    from estimator.funding.loan_schedule import Loan

    return library_row(json.loads(document), Loan).terms


@lru_cache(maxsize=100)
def _rows_where(
    is_of_party: bool, conditions: tuple[ColumnElement[bool], ...]
) -> Select[tuple[dict[str, Any]]]:
    return (_ROWS_OF_PARTY if is_of_party else _ROWS).where(*conditions)


@lru_cache(maxsize=4_096)  # the same few vendors and people, row after row
def party_key(party: str) -> str:
    """Return a name as it is looked up by: without regard to case and blanks.

    Examples
    --------
    >>> party_key(" Ridge  Road QUARRY ")
    'ridge road quarry'
    """
    return " ".join(party.split()).casefold()
