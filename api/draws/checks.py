"""What `verify` asks of draws: documents are what their digests say, and rows what they say."""

from __future__ import annotations

import json
from typing import Any

from sqlalchemy import Connection, func, select

from api.draws.rows import (
    CUT,
    DRAWN,
    GRANTED,
    DrawBackup,
    DrawLineRow,
    DrawStep,
    StoredAmendment,
    StoredDraw,
    StoredLoan,
)
from api.store.models import table_of
from api.store.verify import checks_subject, damaged, streamed
from estimator.digests import canonical_digest

_FORMS = ((StoredLoan, "loan 1"), (StoredAmendment, "amendment 1"), (StoredDraw, "draw 1"))


@checks_subject
def check_draws(connection: Connection) -> None:
    """Compare each loan and draw with its digest, and the rows of a draw with its document."""
    for model, form in _FORMS:
        table = table_of(model)
        with streamed(connection, select(table)) as rows:
            for row in rows:
                document = json.loads(row.document)
                if canonical_digest(form, document) != row.digest:
                    raise damaged(f"{table.name} {row.id}", "it is not what its digest says")
                if model is StoredDraw:
                    _check_parts(connection, row, document)


def _check_parts(connection: Connection, draw: Any, document: dict[str, Any]) -> None:
    lines, backup = table_of(DrawLineRow), table_of(DrawBackup)
    stored = connection.execute(select(lines).where(lines.c.draw_id == draw.id))
    documented = {one["figures"]["state"]["line"]: one["figures"] for one in document["lines"]}
    here = {row.line: row for row in stored}
    for line in documented.keys() | here.keys():
        row, figures = here.get(line), documented.get(line)
        names = ("done_cents", "stored_cents", "retainage_cents")
        if not row or not figures or any(getattr(row, n) != figures[n] for n in names):
            raise damaged(f"draws {draw.id}", f"line {line} is not what its document says")
    taken = select(func.sum(backup.c.cents)).where(
        backup.c.draw_id == draw.id, backup.c.cause == DRAWN
    )
    _check_sum(draw, document, connection.scalar(taken))
    _check_granted(connection, draw)


def _check_granted(connection: Connection, draw: Any) -> None:
    steps, backup = table_of(DrawStep), table_of(DrawBackup)
    step = connection.execute(
        select(steps).where(steps.c.draw_id == draw.id, steps.c.state == GRANTED)
    ).first()
    if step is not None:
        left = select(func.sum(backup.c.cents)).where(
            backup.c.draw_id == draw.id, backup.c.cause.in_((DRAWN, CUT))
        )
        _check_sum(draw, json.loads(step.document), connection.scalar(left))


def _check_sum(draw: Any, document: dict[str, Any], cents: int | None) -> None:
    if int(cents or 0) != sum(one["cents"] for one in document["backup"]):
        raise damaged(f"draws {draw.id}", "its receipts do not add up to its document")
