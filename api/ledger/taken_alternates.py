"""An alternate of the accepted estimate that is taken later, posted as a change."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime
from uuid import UUID

from api.ledger.baselines import accepted_estimate
from api.ledger.money_entry_shapes import NewChange, NewChangePart
from api.ledger.outlooks import accepted_scope
from api.store.sessions import AccountSession
from estimator.errors import LedgerFaulty, fault
from estimator.money import dollars
from estimator.tracking.budget import MARKUP_KIND, ChangePart


def alternate_change(
    session: AccountSession, project_id: UUID, code: str, happened: date, known_on: datetime
) -> NewChange:
    """Return the change that takes an alternate, to be posted.

    Its number is the alternate's, so that it is not taken twice.

    Raises
    ------
    LedgerFaulty
        If the books are not open, the scope cannot be read by this version, or it has no such
        alternate.
    """
    from estimator.tracking.taken_alternates import alternate_parts

    accepted = accepted_scope(session, accepted_estimate(session, project_id, known_on))
    if accepted.scope is None or accepted.tables is None:
        what = "the scope of the accepted estimate cannot be read by this version"
        raise fault(LedgerFaulty, what, "post the change by its parts")
    parts = alternate_parts(accepted.scope, accepted.tables, accepted.estimate.on, code)
    name = next(one.name for one in accepted.scope.alternates if one.code == code)
    listed = [part for one in parts for part in _parts(one)]
    return NewChange(
        happened=happened, reason=f"alternate {code} taken: {name}", parts=listed,
        number=f"alternate {code}",
    )  # fmt: skip


def _parts(part: ChangePart) -> Iterator[NewChangePart]:
    """Yield a part for each kind; the quantity stands with the first."""
    quantity = part.quantity
    for kind, cents in part.cents_by_kind.items():
        yield NewChangePart(
            code=part.code, kind="" if kind == MARKUP_KIND else kind, amount=dollars(cents),
            quantity=quantity,
        )  # fmt: skip
        quantity -= quantity
