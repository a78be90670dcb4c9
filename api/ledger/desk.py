"""Where an entry is posted: what the books know already, and the number that comes next."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from functools import cached_property
from typing import Any, TypeVar
from uuid import UUID

from sqlalchemy import ColumnElement, func, select

from api.ledger.baselines import baseline_of
from api.ledger.plain_rows import library_row
from api.ledger.rows import BookEntry
from api.store.sessions import AccountSession
from estimator.tracking.budget import Budget, Change, current_budget

LibraryRow = TypeVar("LibraryRow")


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
        statement = select(func.max(BookEntry.number)).where(
            BookEntry.project_id == self.project_id
        )
        return (self.session.scalar(statement) or 0) + 1

    @cached_property
    def budget(self) -> Budget:
        """The budget as it is now."""
        baseline = baseline_of(self.session, self.project_id, self.at)
        return current_budget(baseline, self.rows("changes", Change), self.today, self.at)

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
        statement = select(BookEntry).where(
            BookEntry.project_id == self.project_id, BookEntry.kind == kind
        )
        if party is not None:
            statement = statement.where(BookEntry.party == party_key(party))
        entries = self.session.scalars(statement.where(*conditions).order_by(BookEntry.number))
        return [library_row(one.fields, row_type) for one in entries]

    def row_numbered(self, kind: str, row_type: type[LibraryRow], number: int) -> LibraryRow | None:
        """Return a row of a kind by its number, or None if that number is another kind's."""
        statement = select(BookEntry).where(
            BookEntry.project_id == self.project_id,
            BookEntry.kind == kind,
            BookEntry.number == number,
        )
        entry = self.session.scalar(statement)
        return None if entry is None else library_row(entry.fields, row_type)


def party_key(party: str) -> str:
    """Return a name as it is looked up by: without regard to case and blanks.

    Examples
    --------
    >>> party_key(" Ridge  Road QUARRY ")
    'ridge road quarry'
    """
    return " ".join(party.split()).casefold()
