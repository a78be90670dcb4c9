"""Keeping an estimate: what was priced, with what, what came out, line by line, exactly."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any
from uuid import UUID

from sqlalchemy import exists, func, select

from api.estimates.rows import (
    AcceptedEstimate,
    EstimateLine,
    EstimateStudy,
    EstimateTables,
    StoredEstimate,
    TableContent,
)
from api.projects.rows import Project
from api.store.columns import canonical_json
from api.store.errors import AlreadyThere
from api.store.refusals import TAKEN
from api.store.writing_session import WritingSession
from estimator.errors import fault
from estimator.money import to_cents
from estimator.pricing.cost_line import CostLine, lines_digest

if TYPE_CHECKING:
    from estimator.pricing.estimate import Estimate


@dataclass(frozen=True)
class ReadyEstimate:
    """An estimate as its rows will say it, but for whose they are and the number.

    Parameters
    ----------
    columns : mapping of str to object
        Of `StoredEstimate`.
    lines : sequence of mapping
        Columns of `EstimateLine`, in their order.
    tables : sequence of (str, str, str)
        Of each set, lowest first: name, digest, and its files as canonical JSON.
    """

    columns: Mapping[str, Any]
    lines: Sequence[Mapping[str, Any]]
    tables: Sequence[tuple[str, str, str]]


def ready_estimate(
    estimate: Estimate,
    scope: str,
    tables: Mapping[str, Mapping[str, str]],
    note: str | None = None,
) -> ReadyEstimate:
    """Return an estimate ready to store: all the slow work, done before the turn to write.

    Parameters
    ----------
    estimate : Estimate
        From `estimator.pricing.estimate.price`.
    scope : str
        The scope that was priced, as it was read.
    tables : mapping of str to mapping of str to str
        The sets it was priced with, lowest first: name, and text by file name.
    note : str, optional
        What it was made for, in the user's own words.
    """
    from estimator.pricing.estimate_json import grounds_fields

    lines = estimate.cost_lines
    columns = {
        "pricing_date": estimate.on,
        "note": note,
        "scope": scope,
        "lines_digest": lines_digest(lines),
        "line_count": len(lines),
        **_digests(estimate),
        **_totals(estimate),
        "rests_on": grounds_fields(estimate.rests_on),
        "planned_dates": _planned_dates(estimate),
    }
    rows = [{"position": n, **line._asdict()} for n, line in enumerate(lines, start=1)]
    texts = {name: canonical_json(dict(files)) for name, files in tables.items()}
    sets = [(name, hashlib.sha256(text.encode()).hexdigest(), text) for name, text in texts.items()]
    return ReadyEstimate(columns, rows, sets)


def _planned_dates(estimate: Estimate) -> dict[str, tuple[str, str]] | None:
    """Return first and last day of each item, where the scope says when work begins."""
    if estimate.scope.calendar.start is None:
        return None
    from api.calculations.size_limits import MOST_SCHEDULED
    from estimator.scheduling.dated_times import planned_days
    from estimator.scheduling.job_dates import job_schedule

    is_large = len(estimate.scope.items) > MOST_SCHEDULED
    dates = job_schedule(estimate, there={} if is_large else None)
    return {
        code: (first.isoformat(), last.isoformat())
        for code, (first, last) in planned_days(estimate, dates).items()
    }


def store_estimate(work: WritingSession, project: Project, ready: ReadyEstimate) -> StoredEstimate:
    """Store an estimate with the next number of its project, and return its row.

    Parameters
    ----------
    work : WritingSession
        The unit of work.
    project : Project
        What it is an estimate of.
    ready : ReadyEstimate
    """
    row = StoredEstimate(
        project_id=project.id,
        number=_next_number(work, StoredEstimate, project.id),
        created_at=work.at,
        created_by=work.caller.actor,
        **ready.columns,
    )
    work.add(row)
    whose = {"account_id": row.account_id, "project_id": project.id, "estimate_id": row.id}
    work.add_parts(EstimateLine, [{**whose, **line} for line in ready.lines])
    for position, (name, digest, text) in enumerate(ready.tables, start=1):
        if work.get(TableContent, (work.caller.account_id, digest)) is None:
            work.add(TableContent(digest=digest, files=text))
        work.add(EstimateTables(**whose, position=position, name=name, content_digest=digest))
    return row


def accept(work: WritingSession, estimate: StoredEstimate) -> AcceptedEstimate:
    """Return an estimate's acceptance as the budget of its project.

    Raises
    ------
    AlreadyThere
        If it was accepted before.
    """
    statement = exists().where(AcceptedEstimate.estimate_id == estimate.id)
    if work.scalar(select(statement)):
        what, remedy = TAKEN["uq_accepted_estimates_estimate_id"]
        raise fault(AlreadyThere, what, remedy)
    accepted = AcceptedEstimate(
        project_id=estimate.project_id,
        estimate_id=estimate.id,
        number=_next_number(work, AcceptedEstimate, estimate.project_id),
        accepted_at=work.at,
        accepted_by=work.caller.actor,
    )
    work.add(accepted)
    return accepted


def store_study(
    work: WritingSession,
    estimate: StoredEstimate,
    kind: str,
    body: Mapping[str, Any],
    document: str,
) -> EstimateStudy:
    """Store a study of an estimate, and return its row.

    Parameters
    ----------
    work : WritingSession
        The unit of work.
    estimate : StoredEstimate
    kind : str
        `comparison` or `ranges`; each has numbers of its own.
    body : mapping
        The request body, as plain JSON.
    document : str
        The answer, which is stored to the byte.
    """
    of_kind = (EstimateStudy.estimate_id == estimate.id, EstimateStudy.kind == kind)
    study = EstimateStudy(
        project_id=estimate.project_id,
        estimate_id=estimate.id,
        kind=kind,
        number=(work.scalar(select(func.max(EstimateStudy.number)).where(*of_kind)) or 0) + 1,
        created_at=work.at,
        created_by=work.caller.actor,
        body=dict(body),
        digest=hashlib.sha256(document.encode()).hexdigest(),
        document=document,
    )
    work.add(study)
    return study


def cost_line_of(row: Mapping[str, Any]) -> CostLine:
    """Return the cost line that the columns of a row hold."""
    return CostLine._make(row[name] for name in CostLine._fields)


def _next_number(
    work: WritingSession, model: type[StoredEstimate | AcceptedEstimate], project_id: UUID
) -> int:
    statement = select(func.max(model.number)).where(model.project_id == project_id)
    return (work.scalar(statement) or 0) + 1


def _digests(estimate: Estimate) -> dict[str, str]:
    from estimator.pricing.estimate_json import estimate_json

    return {
        "digest": estimate.digest,
        "scope_digest": estimate.scope_digest,
        "tables_digest": estimate.tables.digest,
        "document": estimate_json(estimate),
    }


def _totals(estimate: Estimate) -> dict[str, int]:
    return {
        "direct_cents": to_cents(estimate.direct_cost),
        "markup_cents": to_cents(estimate.cash_cost - estimate.direct_cost),
        "cash_cents": to_cents(estimate.cash_cost),
        "own_cents": to_cents(estimate.own_value),
        "full_cents": to_cents(estimate.full_cost),
        "sales_cents": to_cents(estimate.salvage_sales),
    }
