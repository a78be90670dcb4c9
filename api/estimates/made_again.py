"""A stored estimate priced again from what it was made of, so that it can be studied."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from typing import TYPE_CHECKING
from uuid import UUID

from sqlalchemy import select

from api.contract.services import Services
from api.estimates.rows import EstimateTables, StoredEstimate, TableContent
from api.estimates.to_price import ToPrice
from api.store.caller import Caller
from api.store.errors import MadeDifferently
from api.store.sessions import AccountSession
from estimator.errors import fault
from estimator.pricing.cost_line import lines_digest

if TYPE_CHECKING:
    from estimator.pricing.estimate import Estimate
    from estimator.scope.other_times import OtherTimes


def estimate_again(
    parts: Services,
    caller: Caller,
    project_id: UUID,
    estimate_id: UUID,
    times: OtherTimes | None = None,
) -> Estimate:
    """Return a stored estimate as the library has it.

    Parameters
    ----------
    parts, caller : Services, Caller
    project_id, estimate_id : UUID
        Which estimate.
    times : OtherTimes or None
        What goes before the times of its scope: then it is priced anew with them.

    Raises
    ------
    NotFound
        If the caller sees no such estimate in that project.
    MadeDifferently
        If its lines come out otherwise than they are stored.
    """
    with parts.store.reading(caller) as session:
        stored = session.existing(StoredEstimate, estimate_id, project_id=project_id)
        files = files_of(session, estimate_id)
        to_price, document = ToPrice(json.loads(stored.scope), files), stored.document
    estimate = to_price.priced(stored.pricing_date)
    if lines_digest(estimate.cost_lines) != stored.lines_digest:
        raise made_differently(document)
    if times is not None:
        return replace(to_price, times=times).priced(stored.pricing_date)
    return estimate


def files_of(session: AccountSession, estimate_id: UUID) -> Mapping[str, Mapping[str, str]]:
    """Return the sets of tables that an estimate was priced with: name, and texts by file name."""
    statement = (
        select(EstimateTables.name, TableContent.files)
        .join(TableContent, TableContent.digest == EstimateTables.content_digest)
        .where(EstimateTables.estimate_id == estimate_id)
        .order_by(EstimateTables.position)
    )
    return {name: json.loads(text) for name, text in session.execute(statement)}


def made_with(document: str) -> str:
    """Return in words which version of the program printed an estimate."""
    version = json.loads(document).get("made_with")
    return f"version {version}" if version else "an earlier version"


def made_differently(document: str) -> Exception:
    """Return the refusal of what needs an estimate that this program does not come to."""
    what = f"the estimate was made with {made_with(document)} of the program, and this one differs"
    return fault(MadeDifferently, what, "price the project again, and use the new estimate")
