"""What `verify` asks of estimates: lines and tables are as they were stored, sums add up."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from typing import Any

from sqlalchemy import Connection, select

from api.estimates.rows import EstimateLine, StoredEstimate, TableContent
from api.estimates.stored_estimates import cost_line_of
from api.store.models import table_of
from api.store.verify import checks_subject, damaged, grouped, streamed
from estimator.pricing.cost_line import CostLine, line_sums, lines_digest


@checks_subject
def check_estimates(connection: Connection) -> None:
    """Compare the lines of each estimate with its digest and its totals."""
    estimates = table_of(StoredEstimate)
    statement = select(
        estimates.c.id, estimates.c.lines_digest, estimates.c.direct_cents, estimates.c.own_cents
    )
    estimate_of = {row.id: row for row in connection.execute(statement)}
    with grouped(connection, table_of(EstimateLine), "estimate_id", "position") as wholes:
        for key, rows in wholes:
            check_lines(estimate_of.pop(key), [cost_line_of(row) for row in rows])
    for estimate in estimate_of.values():
        check_lines(estimate, [])


def check_lines(stored: Any, lines: Sequence[CostLine]) -> None:
    """Compare the lines of an estimate with its digest and its totals.

    Parameters
    ----------
    stored : row of `estimates`
    lines : sequence of CostLine
        All that are stored of it, in order.

    Raises
    ------
    StoreFaulty
        If one was altered, is missing or was added.
    """
    if lines_digest(lines) != stored.lines_digest:
        what = "were altered" if lines else "are missing"
        raise damaged(f"estimates {stored.id}", f"its lines {what}")
    sums = line_sums(lines)
    if (sums.paid, sums.own) != (stored.direct_cents, stored.own_cents):
        raise damaged(f"estimates {stored.id}", "its lines do not add up to its totals")


@checks_subject
def check_tables(connection: Connection) -> None:
    """Compare the tables that estimates were priced with with their digests."""
    with streamed(connection, select(table_of(TableContent))) as rows:
        for row in rows:
            if hashlib.sha256(row.files.encode()).hexdigest() != row.digest:
                raise damaged(f"table_contents {row.digest}", "the files were altered")
