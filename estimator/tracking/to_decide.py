"""What the owner is to decide: changes that wait for approval, allowances to reconcile."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from estimator.money import cents_money
from estimator.pricing.printed_estimate import PrintedEstimate
from estimator.tracking.attention import Attention
from estimator.tracking.budget import Change, latest_changes
from estimator.tracking.change_states import DRAFT, SUBMITTED
from estimator.tracking.status import CodeStatus, JobStatus

_ALLOWANCE = "allowance"


def waiting_changes(changes: Iterable[Change]) -> list[Attention]:
    """Return a sentence for each change that is neither approved nor rejected.

    Parameters
    ----------
    changes : iterable of Change
        As known: see `as_known`.
    """
    return [
        Attention(abs(one.cents), "", _waiting(one))
        for one in latest_changes(changes)
        if one.state in (DRAFT, SUBMITTED)
    ]


def _waiting(change: Change) -> str:
    state = "a draft" if change.state == DRAFT else "submitted and waits for approval"
    side = "more" if change.cents >= 0 else "less"
    sum_of = f"{cents_money(abs(change.cents))} {side}" if change.cents else "a transfer"
    return f"change {change.number} is {state}: {sum_of}, {change.reason}; it is in no budget yet"


def allowance_codes(estimate: PrintedEstimate) -> set[str]:
    """Return the cost codes that the estimate has as allowances."""
    stated = {one.code for one in estimate.rates if one.form == _ALLOWANCE}
    return {line.item for line in estimate.lines if line.resource in stated}


def open_allowances(status: JobStatus, estimate: PrintedEstimate) -> list[Attention]:
    """Return a sentence for each allowance that is done and whose budget is not its cost.

    Parameters
    ----------
    status : JobStatus
        Where the job stands.
    estimate : PrintedEstimate
        The accepted one.
    """
    codes = allowance_codes(estimate)
    return [one for code in status.codes if code.code in codes for one in _to_reconcile(code)]


def _to_reconcile(code: CodeStatus) -> Iterator[Attention]:
    left = code.budget_cents - code.spent.incurred_cents
    if code.percent < 100 or not left:
        return
    way = "to" if left > 0 else "from"
    yield Attention(
        abs(left),
        code.code,
        f"{code.code} {code.name}: the allowance of {cents_money(code.baseline_cents)}, now "
        f"{cents_money(code.budget_cents)}, came to {cents_money(code.spent.incurred_cents)}; "
        f"reconcile it by a change of {cents_money(abs(left))} {way} the contingency",
    )
