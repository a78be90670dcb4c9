"""What a body for the file of the credit says, as a row of the library that was checked."""

from __future__ import annotations

from api.ledger.credit_shapes import NewAnswer, NewApproval, NewBasis
from api.ledger.desk import Desk
from estimator.money import to_cents
from estimator.tracking.credit_papers import (
    Approval,
    BasisRow,
    CreditAnswer,
    check_approval,
    check_credit_answer,
)
from estimator.tracking.entry_checks import check_day
from estimator.tracking.ledger_rows import Cost


def credit_answer_row(desk: Desk, body: NewAnswer) -> tuple[CreditAnswer, list[str]]:
    """Return an answer about a cost that is there."""
    answer = CreditAnswer(
        **desk.head(body), cost=body.cost, answer=body.answer, reason=body.reason,
        decides=body.decides, code=body.code,
    )  # fmt: skip
    check_credit_answer(answer, desk.row_numbered("costs", Cost, body.cost), desk.today)
    return answer, []


def approval_row(desk: Desk, body: NewApproval) -> tuple[Approval, list[str]]:
    """Return a paper about codes that are there."""
    approval = Approval(
        **desk.head(body), paper=body.paper, state=body.state, name=body.name,
        codes=tuple(body.codes), note=body.note,
    )  # fmt: skip
    codes = [*desk.budget, *(one.phase for one in desk.budget.values() if one.phase)]
    check_approval(approval, codes, desk.today)
    return approval, []


def basis_row(desk: Desk, body: NewBasis) -> tuple[BasisRow, list[str]]:
    """Return a basis as it is stated."""
    check_day(body.happened, desk.today)
    return BasisRow(**desk.head(body), cents=to_cents(body.amount), note=body.note), []
