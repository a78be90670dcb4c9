"""What it costs: estimates as they were made, their lines, and those accepted as the budget.

An estimate is never changed: what becomes of it afterwards, and what is found out of it, stands in
tables of its own.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Any
from uuid import UUID

from sqlalchemy import CheckConstraint, ForeignKey, ForeignKeyConstraint, UniqueConstraint, or_
from sqlalchemy.orm import Mapped, mapped_column

from api.store.columns import (
    MOST_DECIMALS,
    Digest,
    Document,
    Flag,
    IntRange,
    Json,
    OneOf,
    ShortText,
    UtcTime,
)
from api.store.models.base import (
    CODE_LENGTH,
    HIGHEST_POSITION,
    NAME_LENGTH,
    NOTE_LENGTH,
    Base,
    OfProject,
    Private,
    WithId,
)
from estimator.rates.kinds import SALVAGE

COMPARISON, RANGES = "comparison", "ranges"

_BY_DIGEST = {"by_digest": True}
_LATER = {"later": True}


class StoredEstimate(WithId, OfProject, Base):
    """A priced snapshot of a project's scope, with all it was made from.

    `document` is the estimate as JSON, to the byte; `scope` what was priced, as it was read;
    `planned_dates` first and last day of each item by the schedule, where the scope says when work
    begins.
    """

    __tablename__ = "estimates"
    is_final = True

    number: Mapped[int] = mapped_column(IntRange(1, HIGHEST_POSITION))
    created_at: Mapped[datetime] = mapped_column(UtcTime())
    created_by: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    pricing_date: Mapped[date] = mapped_column()
    note: Mapped[str | None] = mapped_column(ShortText(NOTE_LENGTH))
    digest: Mapped[str] = mapped_column(Digest())
    scope_digest: Mapped[str] = mapped_column(Digest())
    tables_digest: Mapped[str] = mapped_column(Digest())
    lines_digest: Mapped[str] = mapped_column(Digest())
    line_count: Mapped[int] = mapped_column(IntRange(0, HIGHEST_POSITION))
    direct_cents: Mapped[int] = mapped_column(IntRange())
    markup_cents: Mapped[int] = mapped_column(IntRange())
    cash_cents: Mapped[int] = mapped_column(IntRange())
    own_cents: Mapped[int] = mapped_column(IntRange())
    full_cents: Mapped[int] = mapped_column(IntRange())
    sales_cents: Mapped[int | None] = mapped_column(IntRange(), info=_LATER)
    rests_on: Mapped[Any | None] = mapped_column(Json(), info=_LATER)
    planned_dates: Mapped[Any | None] = mapped_column(Json(), info=_LATER)
    # long, and seldom needed
    scope: Mapped[str] = mapped_column(Document(), info=_BY_DIGEST, deferred=True)
    document: Mapped[str] = mapped_column(Document(), info=_BY_DIGEST, deferred=True)

    __table_args__ = (
        UniqueConstraint("project_id", "number"),
        UniqueConstraint("account_id", "project_id", "id"),
        CheckConstraint("cash_cents = direct_cents + markup_cents", name="cash_adds_up"),
        CheckConstraint("full_cents = cash_cents + own_cents", name="full_adds_up"),
        ForeignKeyConstraint(["account_id", "project_id"], ["projects.account_id", "projects.id"]),
    )


class EstimateLine(OfProject, Base):
    """A cost line of an estimate.

    `net`, `waste`, `ordered` and `left_over` are whole numbers of their last printed decimal, of
    which there are `decimals`; `rate` is in ten-thousandths of a dollar per unit.
    """

    __tablename__ = "estimate_lines"
    is_part = True
    is_audited = False
    is_final = True

    estimate_id: Mapped[UUID] = mapped_column(primary_key=True, sort_order=-1)
    position: Mapped[int] = mapped_column(
        IntRange(1, HIGHEST_POSITION), primary_key=True, sort_order=-1
    )
    phase: Mapped[str] = mapped_column(ShortText(CODE_LENGTH))
    item: Mapped[str] = mapped_column(ShortText(2 * CODE_LENGTH + 1))
    line: Mapped[int] = mapped_column(IntRange(1, HIGHEST_POSITION))
    assembly: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    resource: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    name: Mapped[str] = mapped_column(ShortText(NOTE_LENGTH))
    kind: Mapped[str] = mapped_column(ShortText(CODE_LENGTH))
    unit: Mapped[str] = mapped_column(ShortText(CODE_LENGTH))
    decimals: Mapped[int] = mapped_column(IntRange(0, MOST_DECIMALS))
    net: Mapped[int] = mapped_column(IntRange())
    waste: Mapped[int] = mapped_column(IntRange())
    left_over: Mapped[int] = mapped_column(IntRange())
    ordered: Mapped[int] = mapped_column(IntRange())
    rate: Mapped[int] = mapped_column(IntRange())
    source: Mapped[str] = mapped_column(ShortText(NOTE_LENGTH, least=0))
    rate_row: Mapped[str] = mapped_column(ShortText(NOTE_LENGTH, least=0))
    is_paid: Mapped[bool] = mapped_column(Flag())
    cents: Mapped[int] = mapped_column(IntRange())

    __table_args__ = (
        UniqueConstraint("estimate_id", "item", "line"),
        CheckConstraint("ordered = net + waste + left_over", name="order_adds_up"),
        ForeignKeyConstraint(
            ["account_id", "project_id", "estimate_id"],
            ["estimates.account_id", "estimates.project_id", "estimates.id"],
        ),
    )


# False for what salvage is sold for. In estimates that were stored when a sale still reduced the
# cost it is paid or negative, and counts.
IS_COST = or_(EstimateLine.kind != SALVAGE, EstimateLine.is_paid, EstimateLine.cents < 0)


class TableContent(Private, Base):
    """The files of a set of tables as they were when something was priced, by their digest."""

    __tablename__ = "table_contents"
    is_part = True
    is_audited = False
    is_final = True

    account_id: Mapped[UUID] = mapped_column(
        ForeignKey("accounts.id"), primary_key=True, sort_order=-3
    )
    digest: Mapped[str] = mapped_column(Digest(), primary_key=True)
    files: Mapped[str] = mapped_column(Document())


class EstimateTables(OfProject, Base):
    """Which sets of tables an estimate was priced with, lowest first."""

    __tablename__ = "estimate_tables"
    is_part = True
    is_audited = False
    is_final = True

    estimate_id: Mapped[UUID] = mapped_column(primary_key=True, sort_order=-1)
    position: Mapped[int] = mapped_column(
        IntRange(1, HIGHEST_POSITION), primary_key=True, sort_order=-1
    )
    name: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    content_digest: Mapped[str] = mapped_column(Digest())

    __table_args__ = (
        ForeignKeyConstraint(
            ["account_id", "project_id", "estimate_id"],
            ["estimates.account_id", "estimates.project_id", "estimates.id"],
        ),
        ForeignKeyConstraint(
            ["account_id", "content_digest"],
            ["table_contents.account_id", "table_contents.digest"],
        ),
    )


class AcceptedEstimate(WithId, OfProject, Base):
    """An estimate that became the budget; the one with the highest number is the budget now."""

    __tablename__ = "accepted_estimates"
    is_final = True

    estimate_id: Mapped[UUID] = mapped_column()
    number: Mapped[int] = mapped_column(IntRange(1, HIGHEST_POSITION))
    accepted_at: Mapped[datetime] = mapped_column(UtcTime())
    accepted_by: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))

    __table_args__ = (
        UniqueConstraint("estimate_id"),
        UniqueConstraint("project_id", "number"),
        ForeignKeyConstraint(
            ["account_id", "project_id", "estimate_id"],
            ["estimates.account_id", "estimates.project_id", "estimates.id"],
        ),
    )


class EstimateStudy(WithId, OfProject, Base):
    """A further result from an estimate: methods compared, or a cost range.

    `body` is that of the request, `document` the answer, to the byte.
    """

    __tablename__ = "estimate_studies"
    is_final = True

    estimate_id: Mapped[UUID] = mapped_column()
    kind: Mapped[str] = mapped_column(OneOf(COMPARISON, RANGES))
    number: Mapped[int] = mapped_column(IntRange(1, HIGHEST_POSITION))
    created_at: Mapped[datetime] = mapped_column(UtcTime())
    created_by: Mapped[str] = mapped_column(ShortText(NAME_LENGTH))
    body: Mapped[dict[str, Any]] = mapped_column(Json(), info={"formerly": "asked"})
    digest: Mapped[str] = mapped_column(Digest())
    document: Mapped[str] = mapped_column(Document(), info=_BY_DIGEST)

    __table_args__ = (
        UniqueConstraint("estimate_id", "kind", "number"),
        ForeignKeyConstraint(
            ["account_id", "project_id", "estimate_id"],
            ["estimates.account_id", "estimates.project_id", "estimates.id"],
        ),
    )
