"""The summary of a stored estimate: totals, digests, whether it is the budget."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any
from uuid import UUID

from sqlalchemy import bindparam, case, select

from api.contract.fields import moment_text
from api.contract.lists import page_of
from api.contract.services import Services
from api.estimates.estimate_shapes import EstimateQuery
from api.estimates.rows import AcceptedEstimate, StoredEstimate
from api.estimates.shown import check_totals, grounds_json, shown_estimate
from api.projects.rows import Project
from api.store.caller import Caller
from api.store.sessions import AccountSession, not_found
from estimator.money import cents_text

_COLUMNS = (
    StoredEstimate.id,
    StoredEstimate.number,
    StoredEstimate.created_at,
    StoredEstimate.created_by,
    StoredEstimate.pricing_date,
    StoredEstimate.note,
    StoredEstimate.digest,
    StoredEstimate.scope_digest,
    StoredEstimate.tables_digest,
    StoredEstimate.lines_digest,
    StoredEstimate.line_count,
    StoredEstimate.direct_cents,
    StoredEstimate.markup_cents,
    StoredEstimate.cash_cents,
    StoredEstimate.own_cents,
    StoredEstimate.full_cents,
    StoredEstimate.sales_cents,
    StoredEstimate.rests_on,
)
_ACCEPTANCE = (
    AcceptedEstimate.number.label("accepted_number"),
    AcceptedEstimate.accepted_at,
    AcceptedEstimate.accepted_by,
)

# Estimates with what became of them, column by column: their documents are long and not needed.
SUMMARIES = select(*_COLUMNS, *_ACCEPTANCE).outerjoin(
    AcceptedEstimate, AcceptedEstimate.estimate_id == StoredEstimate.id
)
# Only an estimate from before what it rests on was stored needs its document for that.
_DOCUMENT = case((StoredEstimate.rests_on.is_(None), StoredEstimate.document)).label("document")
_ONE = SUMMARIES.add_columns(_DOCUMENT).where(
    StoredEstimate.id == bindparam("key"), StoredEstimate.project_id == bindparam("project")
)


def path_of(project_id: UUID, estimate_id: UUID) -> str:
    """Return the path of a stored estimate."""
    return f"/v1/projects/{project_id}/estimates/{estimate_id}"


def find_summary(
    parts: Services, caller: Caller, project_id: UUID, estimate_id: UUID
) -> Mapping[str, Any]:
    """Return the columns of a stored estimate's summary, and its document where that is needed.

    Raises
    ------
    NotFound
        If the caller sees no such estimate in that project.
    """
    if caller.is_lender:
        with parts.store.reading(caller) as session:
            shown_estimate(session, project_id, estimate_id)
    row = parts.store.row(caller, _ONE, key=estimate_id, project=project_id)
    if row is None:
        raise not_found(StoredEstimate, estimate_id)
    return dict(row._mapping)


def page_of_summaries(
    parts: Services, caller: Caller, project_id: UUID, query: EstimateQuery, key: bytes
) -> dict[str, Any]:
    """Return a page of the estimates of a project, newest first.

    Parameters
    ----------
    parts, caller : Services, Caller
    project_id : UUID
        The project.
    query : EstimateQuery
    key : bytes
        What cursors are signed with.

    Raises
    ------
    NotFound
        If the caller sees no such project.
    """
    statement = SUMMARIES.where(StoredEstimate.project_id == project_id)
    if query.accepted is not None:
        number = AcceptedEstimate.number
        is_wanted = number.is_not(None) if query.accepted == "true" else number.is_(None)
        statement = statement.where(is_wanted)
    with parts.store.reading(caller) as session:
        session.existing(Project, project_id)
        page = page_of(
            session, statement, (StoredEstimate.number,), query, key, is_newest_first=True
        )
        estimates = listed_summaries(session, [row._mapping for row in page.rows])
    return {"estimates": estimates, "next": page.next}


def listed_summaries(
    session: AccountSession, rows: Sequence[Mapping[Any, Any]]
) -> list[dict[str, Any]]:
    """Return the summaries of a list; a lender reads what totals rest on with each estimate.

    Raises
    ------
    StoreFaulty
        If the caller is a lender, and lines do not add up to the totals.
    """
    check_totals(session, rows)
    hidden = {"rests_on": None} if session.caller.is_lender else {}
    return [summary_json(row) | hidden for row in rows]


def summary_json(row: Mapping[str, Any]) -> dict[str, Any]:
    """Return an estimate's summary from a row of `SUMMARIES`."""
    return {
        "id": str(row["id"]),
        "number": row["number"],
        "created_at": moment_text(row["created_at"]),
        "created_by": row["created_by"],
        "on": row["pricing_date"].isoformat(),
        "note": row["note"],
        "digest": row["digest"],
        "scope_digest": row["scope_digest"],
        "tables_digest": row["tables_digest"],
        "lines_digest": row["lines_digest"],
        "line_count": row["line_count"],
        "totals": {
            "direct_cost": cents_text(row["direct_cents"]),
            "markups": cents_text(row["markup_cents"]),
            "cash_cost": cents_text(row["cash_cents"]),
            "own_value": cents_text(row["own_cents"]),
            "full_cost": cents_text(row["full_cents"]),
            "salvage_sales": None if row["sales_cents"] is None else cents_text(row["sales_cents"]),
        },
        "accepted": _acceptance_json(row),
        "rests_on": row["rests_on"],
    }


def whole_summary_json(row: Mapping[str, Any]) -> dict[str, Any]:
    """Return an estimate's summary; of one from before it was stored, from its document too."""
    if row["rests_on"] is not None:
        return summary_json(row)
    return summary_json(row) | {"rests_on": grounds_json(row["document"])}


def new_summary_json(estimate: StoredEstimate) -> dict[str, Any]:
    """Return the summary of an estimate that was just made."""
    own = {column.key: getattr(estimate, column.key) for column in _COLUMNS}
    own |= {"accepted_number": None, "document": estimate.document}
    return whole_summary_json(own)


def summary_tag(row: Mapping[str, Any]) -> str:
    """Return the tag of a summary, which changes once only: when the estimate is accepted."""
    return f"{row['digest'][:32]}-{row['accepted_number'] or 0}"


def _acceptance_json(row: Mapping[str, Any]) -> dict[str, Any] | None:
    if row["accepted_number"] is None:
        return None
    return {
        "number": row["accepted_number"],
        "at": moment_text(row["accepted_at"]),
        "by": row["accepted_by"],
    }
