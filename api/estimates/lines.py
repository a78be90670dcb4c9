"""The cost lines of a stored estimate: some of them, and what they come to."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from sqlalchemy import func, select

from api.contract.lists import page_of
from api.contract.services import Services
from api.estimates.estimate_shapes import LineQuery
from api.estimates.rows import IS_COST, EstimateLine
from api.estimates.shown import shown_estimate
from api.estimates.stored_estimates import cost_line_of
from api.store.caller import Caller
from api.store.sessions import AccountSession
from estimator.money import cents_text, fixed_point
from estimator.pricing.cost_line import line_fields

_SAME = ("phase", "item", "kind", "resource", "assembly")


def page_of_lines(
    parts: Services,
    caller: Caller,
    project_id: UUID,
    estimate_id: UUID,
    query: LineQuery,
    key: bytes,
) -> dict[str, Any]:
    """Return a page of the lines that the filters select, and what all of these come to.

    Parameters
    ----------
    parts, caller : Services, Caller
    project_id, estimate_id : UUID
        Which estimate.
    query : LineQuery
    key : bytes
        What cursors are signed with.

    Raises
    ------
    NotFound
        If the caller sees no such estimate in that project.
    """
    with parts.store.reading(caller) as session:
        shown_estimate(session, project_id, estimate_id)
        statement = _selected(select(EstimateLine), estimate_id, query)
        page = page_of(session, statement, (EstimateLine.position,), query, key)
        selected = _totals(session, estimate_id, query)
    return {"lines": [line_json(row) for row in page.rows], "selected": selected, "next": page.next}


def line_json(row: EstimateLine) -> dict[str, Any]:
    """Return a line with the names of the library's JSON."""
    place = {"position": row.position, "phase": row.phase, "assembly": row.assembly}
    return place | line_fields(cost_line_of(vars(row)))


def _selected(lines: Any, estimate_id: UUID, query: LineQuery) -> Any:
    lines = lines.where(EstimateLine.estimate_id == estimate_id)
    for name in _SAME:
        if (wanted := getattr(query, name)) is not None:
            lines = lines.where(getattr(EstimateLine, name) == wanted)
    if query.paid is not None:
        lines = lines.where(EstimateLine.is_paid == (query.paid == "true"))
    if query.least is not None:
        lines = lines.where(EstimateLine.cents >= fixed_point(query.least, 2))
    if query.most is not None:
        lines = lines.where(EstimateLine.cents <= fixed_point(query.most, 2))
    return lines


def _totals(session: AccountSession, estimate_id: UUID, query: LineQuery) -> dict[str, Any]:
    """Return how many lines there are and what they come to: paid, unpaid, sales of salvage."""
    groups = EstimateLine.is_paid, IS_COST
    columns = select(*groups, func.count(), func.sum(EstimateLine.cents))
    rows = session.execute(_selected(columns, estimate_id, query).group_by(*groups))
    counts, sums = 0, {"cash": 0, "own": 0, "sales": 0}
    for is_paid, is_cost, count, cents in rows:
        counts += count
        sums["sales" if not is_cost else "cash" if is_paid else "own"] += int(cents)
    return {"count": counts} | {name: cents_text(cents) for name, cents in sums.items()}
