"""Keeping an estimate: what was priced, with what, what came out, line by line, exactly."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, Any
from uuid import UUID

from sqlalchemy import exists, func, insert, select

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
from api.store.sessions import WritingSession
from estimator.errors import fault
from estimator.money import fixed_point

if TYPE_CHECKING:
    from estimator.pricing.estimate import Estimate
    from estimator.pricing.priced_lines import PricedLines

UNDIGESTED = ("account_id", "project_id", "estimate_id")


def keep_estimate(
    work: WritingSession,
    project: Project,
    estimate: Estimate,
    scope: str,
    tables: Mapping[str, Mapping[str, str]],
    note: str | None = None,
) -> StoredEstimate:
    """Return an estimate as it is kept from now on, with the next number of its project.

    Parameters
    ----------
    work : WritingSession
        The unit of work.
    project : Project
        What it is an estimate of.
    estimate : Estimate
        From `estimator.pricing.estimate.price`.
    scope : str
        The scope that was priced, as it was read.
    tables : mapping of str to mapping of str to str
        The sets it was priced with, lowest first: name, and text by file name.
    note : str, optional
        What it was made for, in words of whoever asked.
    """
    lines = _lines(estimate)
    kept = StoredEstimate(
        project_id=project.id,
        number=_next_number(work, StoredEstimate, project.id),
        created_at=work.at,
        created_by=work.caller.actor,
        pricing_date=estimate.on,
        note=note,
        scope=scope,
        lines_digest=lines_digest(lines),
        line_count=len(lines),
        **_digests(estimate),
        **_totals(estimate),
    )
    work.add(kept)
    whose = {"account_id": kept.account_id, "project_id": project.id, "estimate_id": kept.id}
    if lines:
        work.connection().execute(insert(EstimateLine), [whose | line for line in lines])
    for position, (name, files) in enumerate(tables.items(), start=1):
        digest = _kept_content(work, files)
        work.add(EstimateTables(**whose, position=position, name=name, content_digest=digest))
    return kept


def accept(work: WritingSession, estimate: StoredEstimate) -> AcceptedEstimate:
    """Return an estimate's acceptance as the budget of its project.

    Raises
    ------
    AlreadyThere
        If it was accepted before.
    """
    asked = exists().where(AcceptedEstimate.estimate_id == estimate.id)
    if work.scalar(select(asked)):
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


def keep_study(
    work: WritingSession,
    estimate: StoredEstimate,
    kind: str,
    asked: Mapping[str, Any],
    document: str,
) -> EstimateStudy:
    """Return what was found out of an estimate as it is kept from now on.

    Parameters
    ----------
    work : WritingSession
        The unit of work.
    estimate : StoredEstimate
    kind : str
        `comparison` or `ranges`; each has numbers of its own.
    asked : mapping
        What was asked, as plain JSON.
    document : str
        The answer, which is kept to the byte.
    """
    of_kind = (EstimateStudy.estimate_id == estimate.id, EstimateStudy.kind == kind)
    study = EstimateStudy(
        project_id=estimate.project_id,
        estimate_id=estimate.id,
        kind=kind,
        number=(work.scalar(select(func.max(EstimateStudy.number)).where(*of_kind)) or 0) + 1,
        created_at=work.at,
        created_by=work.caller.actor,
        asked=dict(asked),
        digest=hashlib.sha256(document.encode()).hexdigest(),
        document=document,
    )
    work.add(study)
    return study


def lines_digest(lines: Sequence[Mapping[str, Any]]) -> str:
    """Return the SHA-256 of lines in their order, by columns, without whose they are."""
    said = [{key: line[key] for key in line if key not in UNDIGESTED} for line in lines]
    return hashlib.sha256(canonical_json(said).encode()).hexdigest()


def line_totals(lines: Sequence[Mapping[str, Any]]) -> tuple[int, int]:
    """Return direct and own cost of lines, in cents."""
    paid = sum(line["cents"] for line in lines if line["is_paid"])
    return paid, sum(line["cents"] for line in lines) - paid


def _next_number(
    work: WritingSession, model: type[StoredEstimate | AcceptedEstimate], project_id: UUID
) -> int:
    asked = select(func.max(model.number)).where(model.project_id == project_id)
    return (work.scalar(asked) or 0) + 1


def _digests(estimate: Estimate) -> dict[str, str]:
    from estimator.pricing.estimate_json import estimate_json

    return {
        "digest": estimate.digest,
        "scope_digest": estimate.scope.digest,
        "tables_digest": estimate.tables.digest,
        "document": estimate_json(estimate),
    }


def _totals(estimate: Estimate) -> dict[str, int]:
    markup_cents = sum(one.amount_cents for one in estimate.markups)
    return {
        "direct_cents": _cents(estimate.direct_cost),
        "markup_cents": markup_cents,
        "cash_cents": _cents(estimate.cash_cost),
        "own_cents": _cents(estimate.own_value),
        "full_cents": _cents(estimate.full_cost),
    }


def _cents(amount: Decimal) -> int:
    return fixed_point(amount, 2)


def _lines(estimate: Estimate) -> list[dict[str, Any]]:
    """Return the cost lines as the columns of their rows."""
    lines, scope = estimate.priced.lines, estimate.scope
    phases = [phase.code for phase in scope.phases for _ in phase.items]
    columns = zip(
        lines.item.tolist(), lines.number.tolist(), lines.kind_of_line.tolist(),
        lines.decimals.tolist(), lines.net.tolist(), lines.waste.tolist(),
        lines.ordered.tolist(), lines.cents.tolist(), strict=True,
    )  # fmt: skip
    found: list[dict[str, Any]] = []
    for item, number, kind_of_line, decimals, net, waste, ordered, cents in columns:
        whole = {
            "position": len(found) + 1,
            "phase": phases[item],
            "item": scope.items[item].code,
            "line": number,
            "decimals": decimals,
            "net": net,
            "waste": waste,
            "left_over": ordered - net - waste,
            "ordered": ordered,
            "cents": cents,
        }
        found.append(whole | _said_of_line(lines, kind_of_line))
    return found


def _said_of_line(lines: PricedLines, kind_of_line: int) -> dict[str, Any]:
    """Return what lines of one assembly line have in common: resource, rate and source."""
    from estimator.money import RATE_DECIMALS

    rate, (assembly, _) = lines.rates[kind_of_line], lines.assembly_lines[kind_of_line]
    return {
        "assembly": assembly.code,
        "resource": rate.code,
        "name": rate.name,
        "kind": rate.kind,
        "unit": rate.unit.name,
        "rate": fixed_point(rate.rate, RATE_DECIMALS),
        "source": rate.source,
        "rate_row": str(rate.origin),
        "is_paid": rate.is_paid,
    }


def _kept_content(work: WritingSession, files: Mapping[str, str]) -> str:
    """Keep the files of a set, unless they are kept already, and return their digest."""
    text = canonical_json(dict(files))
    digest = hashlib.sha256(text.encode()).hexdigest()
    if work.get(TableContent, (work.caller.account_id, digest)) is None:
        work.add(TableContent(digest=digest, files=text))
    return digest
