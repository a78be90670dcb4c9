"""A stored estimate made again from what it was made of, to show the working of its figures."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING
from uuid import UUID

from sqlalchemy import select

from api.contract.services import Services
from api.estimates.asked import ToPrice
from api.estimates.rows import EstimateTables, StoredEstimate, TableContent
from api.store.caller import Caller
from api.store.errors import StoreFaulty
from api.store.sessions import AccountSession
from estimator.errors import fault

if TYPE_CHECKING:
    from estimator.pricing.estimate import Estimate

MOST_KEPT = 4


@dataclass(frozen=True)
class _Stored:
    """What a stored estimate was made of, and the digest that it must have again."""

    estimate_id: UUID
    digest: str
    on: date = field(compare=False)
    scope: str = field(compare=False)
    files: Mapping[str, Mapping[str, str]] = field(compare=False)


def estimate_again(
    parts: Services, caller: Caller, project_id: UUID, estimate_id: UUID
) -> Estimate:
    """Return a stored estimate as the library has it.

    Who sees an estimate may see all that it was made of, a lender too: a figure that cannot be
    explained is of no use to them.

    Parameters
    ----------
    parts, caller : Services, Caller
    project_id, estimate_id : UUID
        Which estimate.

    Raises
    ------
    NotKept
        If the caller sees no such estimate in that project.
    StoreFaulty
        If what comes out is another estimate than the stored one.
    """
    with parts.store.reading(caller) as session:
        session.existing(StoredEstimate, estimate_id, project_id=project_id)
    with parts.store.reading(Caller(caller.account_id)) as session:
        return _made(_stored(session, estimate_id))


def _stored(session: AccountSession, estimate_id: UUID) -> _Stored:
    kept = session.existing(StoredEstimate, estimate_id)
    used = select(EstimateTables.name, TableContent.files).join(
        TableContent, TableContent.digest == EstimateTables.content_digest
    )
    named = session.execute(
        used.where(EstimateTables.estimate_id == estimate_id).order_by(EstimateTables.position)
    )
    files = {name: json.loads(text) for name, text in named}
    return _Stored(kept.id, kept.digest, kept.pricing_date, kept.scope, files)


@lru_cache(MOST_KEPT)
def _made(stored: _Stored) -> Estimate:
    estimate = ToPrice(json.loads(stored.scope), stored.files).priced(stored.on)
    if estimate.digest != stored.digest:
        raise fault(
            StoreFaulty,
            f"estimate {stored.estimate_id} does not come out again as it is stored",
            "read its document, which is as it was; run 'groundsill database verify'",
        )
    return estimate
