"""Where an entry is posted: what the books know already, and the number that comes next."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from functools import cached_property
from typing import Any, TypeVar
from uuid import UUID

from sqlalchemy import ColumnElement, bindparam, func, select

from api.ledger.baselines import baseline_of
from api.ledger.kept_sums import keep_movements, moved_by, related_rows
from api.ledger.plain_rows import library_row
from api.ledger.rows import BookEntry
from api.store.sessions import AccountSession, WritingSession
from estimator.tracking.budget import Budget, Change, current_budget
from estimator.tracking.ledger_lines import MoneyRow
from estimator.tracking.ledger_rows import Cost
from estimator.tracking.planned_dates import PlannedDates

LibraryRow = TypeVar("LibraryRow")

# Written once: a statement that is put together for each entry takes longer than its answer.
_OF_PROJECT = BookEntry.project_id == bindparam("of_project")
_LAST = select(func.max(BookEntry.number)).where(_OF_PROJECT)
_ROWS = (
    select(BookEntry.fields)
    .where(_OF_PROJECT, BookEntry.kind == bindparam("of_kind"))
    .order_by(BookEntry.number)
)
_ROWS_OF_PARTY = _ROWS.where(BookEntry.party == bindparam("of_party"))


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
        """The number that the entry gets: one more than the last."""
        return (self.session.scalar(_LAST, {"of_project": self.project_id}) or 0) + 1

    @cached_property
    def budget(self) -> Budget:
        """The budget as it is now."""
        baseline = baseline_of(self.session, self.project_id, self.at)
        return current_budget(baseline, self.rows("changes", Change), self.today, self.at)

    @cached_property
    def work_starts(self) -> date | None:
        """The first planned day."""
        return min((one.start for one in self.rows("plans", PlannedDates)), default=None)

    def head(self, body: Any) -> dict[str, Any]:
        """Return what every row of the library begins with."""
        return {"row": self.number, "happened": body.happened, "entered": self.at}

    def rows(
        self,
        kind: str,
        row_type: type[LibraryRow],
        party: str | None = None,
        *conditions: ColumnElement[bool],
    ) -> list[LibraryRow]:
        """Return rows of a kind in the order of the books, all or those of one party.

        Conditions on the columns of `BookEntry` leave out what is not looked for before it is read.
        """
        of = {"of_project": self.project_id, "of_kind": kind}
        statement = _ROWS
        if party is not None:
            statement, of = _ROWS_OF_PARTY, of | {"of_party": party_key(party)}
        statement = statement.where(*conditions) if conditions else statement
        return [library_row(one, row_type) for one in self.session.scalars(statement, of)]

    def row_numbered(self, kind: str, row_type: type[LibraryRow], number: int) -> LibraryRow | None:
        """Return a row of a kind by its number, or None if that number is another kind's."""
        of = {"of_project": self.project_id, "of_kind": kind}
        row = self.session.scalar(_ROWS.where(BookEntry.number == number), of)
        return None if row is None else library_row(row, row_type)

    def costs_of_amount(self, vendor: str, cents: int) -> list[Cost]:
        """Return the costs of a vendor over an amount, or with it taken back."""
        return self.rows("costs", Cost, vendor, BookEntry.cents.in_((cents, -cents)))

    def related(self, numbers: Iterable[int]) -> list[MoneyRow]:
        """Return rows by their numbers, those that moved their lines, and the reversals of all."""
        return related_rows(self.session, self.project_id, numbers)

    def keep(self, work: WritingSession, entry: BookEntry, row: Any) -> None:
        """Add an entry to the books, with what it moves."""
        moved = moved_by(row, self.related)
        work.add(entry)
        keep_movements(work, self.project_id, moved)


def party_key(party: str) -> str:
    """Return a name as it is looked up by: without regard to case and blanks.

    Examples
    --------
    >>> party_key(" Ridge  Road QUARRY ")
    'ridge road quarry'
    """
    return " ".join(party.split()).casefold()
