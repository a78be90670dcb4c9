"""A loan with a draw, a row in each of their tables; all of it is invented."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any
from uuid import UUID

from api.draws.rows import (
    DrawBackup,
    DrawDraft,
    DrawLineRow,
    DrawStep,
    LoanPaper,
    PaperWithdrawal,
    StoredAmendment,
    StoredDraw,
    StoredLoan,
)
from api.ledger.plain_rows import plain_row
from api.ledger.rows import BookEntry
from api.ledger.stored_sums import store_movements
from api.store.columns import canonical_json
from estimator.digests import canonical_digest
from estimator.tracking.ledger_movements import movements
from estimator.tracking.ledger_rows import Cost, CostSplit

if TYPE_CHECKING:
    from datetime import datetime

    from api.store.writing_session import WritingSession

LINE = {"state": {"line": "1"}, "done_cents": 400, "stored_cents": 0, "retainage_cents": 40}
DRAW = {"lines": [{"figures": LINE}], "backup": [{"cents": 400}]}


def add_draws(work: WritingSession, project_id: UUID, at: datetime) -> None:
    """Add a loan, a draw that was granted, the next one open, and a paper."""
    loan: dict[str, Any] = {"terms": {}}
    work.add(
        StoredLoan(
            project_id=project_id, frozen_on=at, frozen_by="owner",
            digest=canonical_digest("loan 1", loan), document=canonical_json(loan),
        )
    )  # fmt: skip
    draw = StoredDraw(
        project_id=project_id, number=1, issue=1, through=at.date(), submitted_at=at,
        submitted_by="owner", digest=canonical_digest("draw 1", DRAW),
        document=canonical_json(DRAW),
    )  # fmt: skip
    work.add(draw)
    row = Cost(2, at.date(), at, "Quarry", "Q-1", "", (CostSplit("20.010", "material", 900, 0),))
    entry = _entry(project_id, row)
    work.add(entry)
    store_movements(work, project_id, movements(row))
    of = {"account_id": work.caller.account_id, "project_id": project_id, "draw_id": draw.id}
    figures = {key: value for key, value in LINE.items() if key != "state"}
    work.add_parts(DrawLineRow, [of | {"line": "1", "value_cents": 900} | figures])
    taken = {"entry_id": entry.id, "line": "1", "cause": "drawn", "row": 2, "cents": 400}
    work.add_parts(DrawBackup, [of | taken])
    work.add(
        DrawStep(
            project_id=project_id, draw_id=draw.id, step=1, state="granted", at=at, by="bank",
            fields={"cuts": []}, document=canonical_json(DRAW),
        )
    )  # fmt: skip
    work.add(DrawDraft(project_id=project_id, opened_at=at, fields={"through": "2026-03-31"}))
    work.add(
        LoanPaper(
            project_id=project_id, number=1, kind="evidence", entered_at=at, entered_by="owner",
            fields={"kind": "permit"},
        )
    )  # fmt: skip
    work.flush()


def add_amendments(work: WritingSession, project_id: UUID, at: datetime) -> None:
    """Add an amendment of the loan, and what takes its paper back."""
    amendment: dict[str, Any] = {"terms": {}}
    work.add(
        StoredAmendment(
            project_id=project_id, number=1, entered_at=at, entered_by="owner",
            digest=canonical_digest("amendment 1", amendment),
            document=canonical_json(amendment),
        )
    )  # fmt: skip
    work.add(
        PaperWithdrawal(project_id=project_id, number=1, at=at, by="owner", reason="of another job")
    )


def _entry(project_id: UUID, row: Cost) -> BookEntry:
    return BookEntry(
        project_id=project_id, number=2, kind="costs", happened=row.happened,
        entered_at=row.entered, entered_by="owner", party="quarry", document="Q-1", cents=900,
        notes=[], fields=plain_row(row),
    )  # fmt: skip
