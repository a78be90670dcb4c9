"""The entries of the books, which never change, and the sums that are kept of them."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any, NamedTuple
from uuid import UUID

from sqlalchemy import (
    ColumnElement,
    ForeignKeyConstraint,
    Index,
    UniqueConstraint,
    func,
    literal_column,
)
from sqlalchemy.orm import Mapped, mapped_column

from api.store.columns import Flag, IntRange, Json, ShortText, UtcTime
from api.store.models.base import (
    CODE_LENGTH,
    HIGHEST_POSITION,
    NAME_LENGTH,
    Base,
    OfSite,
    WithId,
)
from api.store.models.partial_index import partial_index

# Of a ticket whose load was placed as it came; in JSON of one form a text of a user has \" for ".
_FIELDS: ColumnElement[str] = literal_column("fields")
IS_PLACED = func.replace(
    _FIELDS, literal_column("""'"is_placed":true'"""), literal_column("''")
).bool_op("<>")(_FIELDS)
_LOOKED_UP = ("project_id", "kind", "party", "cents", "document", "happened", "number")


class BookEntry(WithId, OfSite, Base):
    """One row of the books; a crew sees no money of it, and a lender what a draw shows.

    `fields` is the library's row as JSON; what lists and checks look for stands in columns too.
    `notes` say what was accepted although it is unusual.
    """

    __tablename__ = "book_entries"
    is_final = True

    number: Mapped[int] = mapped_column(IntRange(1, HIGHEST_POSITION))
    kind: Mapped[str] = mapped_column(ShortText(CODE_LENGTH))
    happened: Mapped[date] = mapped_column()
    entered_at: Mapped[datetime] = mapped_column(UtcTime())
    entered_by: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    party: Mapped[str] = mapped_column(ShortText(NAME_LENGTH, least=0))
    document: Mapped[str] = mapped_column(ShortText(NAME_LENGTH, least=0))
    reverses: Mapped[int | None] = mapped_column(IntRange(1, HIGHEST_POSITION))
    cents: Mapped[int | None] = mapped_column(IntRange())
    notes: Mapped[list[str]] = mapped_column(Json())
    fields: Mapped[dict[str, Any]] = mapped_column(Json())

    __table_args__ = (
        UniqueConstraint("project_id", "number"),
        ForeignKeyConstraint(["account_id", "project_id"], ["projects.account_id", "projects.id"]),
        Index("ix_book_entries_lookup", *_LOOKED_UP),
        Index(None, "project_id", "reverses"),
        partial_index("ix_book_entries_placed", "project_id", condition=IS_PLACED),
    )  # fmt: skip


class PostedEntry(NamedTuple):
    """An entry that is posted: the columns of `BookEntry`, and the row of the library in it."""

    id: UUID
    account_id: UUID
    project_id: UUID
    number: int
    kind: str
    happened: date
    entered_at: datetime
    entered_by: str
    party: str
    document: str
    reverses: int | None
    cents: int | None
    notes: list[str]
    row: Any

    @property
    def fields(self) -> dict[str, Any]:
        """The row as plain JSON."""
        from api.ledger.plain_rows import plain_row

        return plain_row(self.row)

    def columns(self) -> dict[str, Any]:
        """Return the values of the columns of `BookEntry`."""
        columns = dict(zip(self._fields, self, strict=True))
        del columns["row"]
        columns["fields"] = self.fields
        return columns


class _Amounts:
    """What is added up of the ledger; hours in millionths."""

    billed_cents: Mapped[int] = mapped_column(IntRange())
    net_cents: Mapped[int] = mapped_column(IntRange())
    accrued_cents: Mapped[int] = mapped_column(IntRange())
    paid_cents: Mapped[int] = mapped_column(IntRange())
    hours: Mapped[int] = mapped_column(IntRange())


class LedgerMovement(_Amounts, OfSite, Base):
    """By how much an entry moves a line of the ledger, from a day on: see `Movement`.

    It follows from the entry, which the trail has.
    """

    __tablename__ = "ledger_movements"
    is_part = True
    is_audited = False
    is_final = True

    project_id: Mapped[UUID] = mapped_column(primary_key=True, sort_order=-2)
    number: Mapped[int] = mapped_column(
        IntRange(1, HIGHEST_POSITION), primary_key=True, sort_order=-1
    )
    position: Mapped[int] = mapped_column(
        IntRange(1, HIGHEST_POSITION), primary_key=True, sort_order=-1
    )
    of_number: Mapped[int] = mapped_column(IntRange(1, HIGHEST_POSITION), sort_order=-1)
    day: Mapped[date] = mapped_column(sort_order=-1)
    worked_on: Mapped[date] = mapped_column(sort_order=-1)
    entered_at: Mapped[datetime] = mapped_column(UtcTime(), sort_order=-1)
    code: Mapped[str] = mapped_column(ShortText(2 * CODE_LENGTH + 1), sort_order=-1)
    kind: Mapped[str] = mapped_column(ShortText(CODE_LENGTH), sort_order=-1)
    order_number: Mapped[str] = mapped_column(ShortText(NAME_LENGTH, least=0), sort_order=-1)
    is_once: Mapped[bool] = mapped_column(Flag(), sort_order=-1)

    __table_args__ = (
        ForeignKeyConstraint(
            ["project_id", "number"], ["book_entries.project_id", "book_entries.number"]
        ),
        Index(None, "project_id", "of_number"),
        Index(None, "project_id", "day"),
        Index(None, "project_id", "entered_at"),
    )


class LedgerSum(_Amounts, OfSite, Base):
    """All movements of a project added up by what their lines are added up by."""

    __tablename__ = "ledger_sums"
    is_audited = False

    project_id: Mapped[UUID] = mapped_column(primary_key=True, sort_order=-2)
    code: Mapped[str] = mapped_column(
        ShortText(2 * CODE_LENGTH + 1), primary_key=True, sort_order=-1
    )
    kind: Mapped[str] = mapped_column(ShortText(CODE_LENGTH), primary_key=True, sort_order=-1)
    order_number: Mapped[str] = mapped_column(
        ShortText(NAME_LENGTH, least=0), primary_key=True, sort_order=-1
    )
    is_once: Mapped[bool] = mapped_column(Flag(), primary_key=True, sort_order=-1)

    __table_args__ = (
        ForeignKeyConstraint(["account_id", "project_id"], ["projects.account_id", "projects.id"]),
    )


class OpenHours(OfSite, Base):
    """Paid hours of a day that no payroll covers: see `LedgerSums.open_hours`."""

    __tablename__ = "open_hours"
    is_audited = False

    project_id: Mapped[UUID] = mapped_column(primary_key=True, sort_order=-2)
    worked_on: Mapped[date] = mapped_column(primary_key=True, sort_order=-1)
    accrued_cents: Mapped[int] = mapped_column(IntRange())
    hours: Mapped[int] = mapped_column(IntRange())

    __table_args__ = (
        ForeignKeyConstraint(["account_id", "project_id"], ["projects.account_id", "projects.id"]),
    )
