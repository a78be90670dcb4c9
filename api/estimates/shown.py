"""Stored estimates as they are shown: what was stored, and to a lender only if it is unaltered."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from json import JSONDecoder
from typing import TYPE_CHECKING, Any
from uuid import UUID

from sqlalchemy import func, select

from api.estimates.checks import check_lines
from api.estimates.made_again import made_differently
from api.estimates.rows import IS_COST, EstimateLine, EstimateStudy, StoredEstimate
from api.store.models import AuditRow
from api.store.sessions import AccountSession
from api.store.trail import state_after
from api.store.verify import damaged
from estimator.pricing.cost_line import CostLine

if TYPE_CHECKING:
    from estimator.pricing.printed_estimate import PrintedEstimate

# Of its key in a document; in a text of the user's its quotes would be escaped.
_RESTS_ON = '"rests_on": '
# What is paid, own value, sales of salvage: whether a line is paid, and whether it is a cost.
_SUMMED = ((True, True), (False, True), (False, False))


def shown_estimate(session: AccountSession, project_id: UUID, estimate_id: UUID) -> StoredEstimate:
    """Return a stored estimate that is handed to the caller.

    Raises
    ------
    NotFound
        If the caller sees no such estimate in that project.
    StoreFaulty
        If the caller is a lender, and a line or anything else of it is not as it was stored.
    """
    stored = session.existing(StoredEstimate, estimate_id, project_id=project_id)
    if session.caller.is_lender:
        check_lines(stored, lines_stored(session, estimate_id))
        check_states(session, [stored])
    return stored


def check_states(session: AccountSession, rows: Sequence[StoredEstimate | EstimateStudy]) -> None:
    """Compare rows that a lender is handed, to the byte, with what the audit trail says of them.

    Raises
    ------
    StoreFaulty
        If one differs.
    """
    if not session.caller.is_lender or not rows:
        return
    states = select(AuditRow.subject_id, AuditRow.after).where(
        AuditRow.subject == rows[0].__tablename__, AuditRow.subject_id.in_([row.id for row in rows])
    )
    with session.of_whole_account() as trail:
        stored = {row.subject_id: row.after for row in trail.execute(states)}
    for row in rows:
        if stored.get(row.id) != state_after(row):
            what = "it is not what the audit trail says it became"
            raise damaged(f"{row.__tablename__} {row.id}", what)


def check_totals(session: AccountSession, summaries: Iterable[Mapping[Any, Any]]) -> None:
    """Compare totals that are listed for a lender with the sums of the stored lines.

    Raises
    ------
    StoreFaulty
        If they differ.
    """
    names = "direct_cents", "own_cents", "sales_cents"
    listed = {one["id"]: [one[name] for name in names] for one in summaries}
    if not session.caller.is_lender or not listed:
        return
    line = EstimateLine
    groups = line.estimate_id, line.is_paid, IS_COST
    statement = select(*groups, func.sum(line.cents)).where(line.estimate_id.in_(listed))
    rows = session.execute(statement.group_by(*groups))
    sums = {(key, *group): int(cents) for key, *group, cents in rows}
    for key, totals in listed.items():
        added = [sums.get((key, *group), 0) for group in _SUMMED]
        if any(total not in (None, cents) for total, cents in zip(totals, added, strict=True)):
            raise damaged(f"estimates {key}", "its lines do not add up to its totals")


def lines_stored(
    session: AccountSession, estimate_id: UUID, item: str | None = None
) -> list[CostLine]:
    """Return the stored lines of an estimate, or of one of its items, in order."""
    columns = [getattr(EstimateLine, name) for name in CostLine._fields]
    statement = select(*columns).where(EstimateLine.estimate_id == estimate_id)
    if item is not None:
        statement = statement.where(EstimateLine.item == item)
    return [
        CostLine._make(row) for row in session.execute(statement.order_by(EstimateLine.position))
    ]


def grounds_json(document: str) -> dict[str, Any] | None:
    """Return what the totals of a stored estimate rest on, without reading all of its lines.

    None for an estimate that was stored before it was said.
    """
    _, key, rest = document.partition(_RESTS_ON)
    if not key:
        return None
    grounds: dict[str, Any] = JSONDecoder().raw_decode(rest)[0]
    return grounds


def printed(stored: StoredEstimate) -> PrintedEstimate:
    """Return an estimate as it was printed when it was stored.

    Raises
    ------
    MadeDifferently
        If that does not hold all that is shown of it today.
    """
    from estimator.pricing.estimate_json import estimate_from_json

    try:
        return estimate_from_json(stored.document)
    except (LookupError, TypeError, ValueError):
        raise made_differently(stored.document) from None
