"""Each cost of the books as the file of the rehabilitation credit lists it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from estimator.tracking.books import Books
from estimator.tracking.budget import Budget
from estimator.tracking.credit_papers import (
    ASK_FIRST,
    BEFORE,
    NO,
    PART_1,
    PART_2,
    YES,
    Approval,
    CreditAnswer,
    standing_approvals,
)
from estimator.tracking.ledger_rows import Cost, Payment
from estimator.tracking.spent import paid_parts

NEEDED = (PART_1, PART_2, BEFORE)
"""Papers that stand behind a cost from the first day on."""


@dataclass(frozen=True)
class CreditEntry:
    """What a cost bears on one code, or a payment on it, and whether it counts.

    Parameters
    ----------
    row : int
        Of the cost in the books.
    day : date
        Incurred; or paid, for a taxpayer who keeps books by cash.
    vendor, document, code, kind : str
        Whose bill, its number, where it stands.
    cents : int
        [0.01 $]
    answer, reason : str
        `yes`, `no` or `ask`, and why.
    is_override : bool
        True where an answer of its own goes before that of its code.
    papers, missing : tuple of str
        Approvals and photographs behind it, and those that are not there.
    is_before_approval : bool
        True of work before part 2 of the application was approved for it, or while it is not.
    """

    row: int
    day: date
    vendor: str
    document: str
    code: str
    kind: str
    cents: int
    answer: str
    reason: str
    is_override: bool
    papers: tuple[str, ...]
    missing: tuple[str, ...]
    is_before_approval: bool


def answered_costs(
    known: Books, budget: Budget, *, is_cash_basis: bool = False
) -> tuple[CreditEntry, ...]:
    """Return each cost of the books with its answer and the papers behind it.

    Parameters
    ----------
    known : Books
        As known on a day: see `Books.known`.
    budget : mapping of str to BudgetCode
        Whose codes say whether they normally count.
    is_cash_basis : bool
        True for a taxpayer who keeps books by cash: what was paid, on the day of payment.

    Notes
    -----
    A reversal takes off what it takes back, with the same answer. What is paid on a bill is
    apportioned over its splits by the largest remainder of all that was paid on it, so that a bill
    paid in full counts in full on every code.
    """
    answers = {(one.cost, one.code): one for one in known.credit_answers}
    approvals = standing_approvals(known.approvals)
    parts = _paid(known) if is_cash_basis else _incurred(known.costs)
    return tuple(
        _entry(cost, place, day, cents, _answer(answers, cost, place), budget, approvals)
        for cost, place, day, cents in parts
    )


_Part = tuple[Cost, int, date, int]


def _incurred(costs: Sequence[Cost]) -> Iterator[_Part]:
    for cost in costs:
        for place, split in enumerate(cost.splits):
            yield cost, place, cost.happened, split.cents


def _paid(known: Books) -> Iterator[_Part]:
    payments: dict[int, list[Payment]] = defaultdict(list)
    for one in sorted(known.payments, key=lambda payment: (payment.happened, payment.row)):
        payments[one.cost].append(one)
    for cost in known.costs:
        before, to_date = [0] * len(cost.splits), 0
        for payment in payments[cost.row]:
            to_date += payment.cents
            parts = paid_parts(cost, to_date)
            for place, (now, then) in enumerate(zip(parts, before, strict=True)):
                if now != then:
                    yield cost, place, payment.happened, now - then
            before = parts


def _answer(
    answers: Mapping[tuple[int, str], CreditAnswer], cost: Cost, place: int
) -> CreditAnswer | None:
    """Return the answer for a split, else for its cost; a reversal follows what it takes back."""
    row = cost.row if cost.reverses is None else cost.reverses
    return answers.get((row, cost.splits[place].code)) or answers.get((row, ""))


def _entry(
    cost: Cost,
    place: int,
    day: date,
    cents: int,
    stated: CreditAnswer | None,
    budget: Budget,
    approvals: Sequence[Approval],
) -> CreditEntry:
    split = cost.splits[place]
    behind = [one for one in approvals if one.covers(split.code)]
    holding = [one for one in behind if one.holds]
    there = {one.paper for one in holding}
    approved = [one.happened for one in holding if one.paper == PART_2]
    if stated is None:
        answer, reason = _of_code(split.code, budget)
    else:
        answer, reason = stated.answer, f"{stated.reason} ({stated.decides}, row {stated.row})"
    return CreditEntry(
        row=cost.row,
        day=day,
        vendor=cost.vendor,
        document=cost.document,
        code=split.code,
        kind=split.kind,
        cents=cents,
        answer=answer,
        reason=reason,
        is_override=stated is not None,
        papers=tuple(f"{one.title} {one.state} {one.happened}" for one in behind),
        missing=tuple(one for one in NEEDED if one not in there),
        is_before_approval=not approved or cost.happened < min(approved),
    )


def _of_code(code: str, budget: Budget) -> tuple[str, str]:
    """Return what the code of a cost says, and the words for it."""
    if code not in budget:
        return ASK_FIRST, f"the budget has no code {code}"
    answer = budget[code].credit
    words = {YES: "normally counts", NO: "does not count"}.get(answer, "is to be asked about")
    return answer, f"{code} {words}"
