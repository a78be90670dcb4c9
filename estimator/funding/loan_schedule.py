"""The schedule of values of a loan: frozen with it, and moved only by approved changes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal
from functools import partial

from estimator.errors import Faults, FundingFaulty, fault, quoted
from estimator.funding.draw_requests import (
    CONTINGENCY_LINE,
    INTEREST,
    LINE_KINDS,
    WORK,
    LineChange,
)
from estimator.funding.draws import BASES, COST
from estimator.funding.lender_schedule import LenderLine, schedule_of_values, spread_over_lines
from estimator.funding.loan_terms import FROM_RESERVE, LoanTerms, check_terms
from estimator.money import cents_money
from estimator.tracking.budget import Budget, Change, current_budget

THE_REST = "*"
_WHOLE = Decimal(1)


@dataclass(frozen=True)
class CodeShare:
    """A part of a cost code that a line bears: `share` 0.5 for half."""

    code: str
    share: Decimal


@dataclass(frozen=True)
class LoanLine:
    """A line of the schedule of a loan.

    Parameters
    ----------
    line, name, kind : str
        Number and name as the lender has them; `work`, `soft`, `contingency` or `interest`.
    codes : tuple of str
        Cost codes that it bears whole: a code, a phase for all its codes, `*` for the rest.
    shares : tuple of CodeShare
        Cost codes that several lines bear.
    amount_cents : int or None
        [0.01 $] Of an interest reserve that stands in no budget; else it bears cost codes.
    basis : str
        What it counts as done; empty for that of the loan, or of a soft cost: its cost.
    scheduled_cents : int
        [0.01 $] As frozen.
    """

    line: str
    name: str
    kind: str = WORK
    codes: tuple[str, ...] = ()
    shares: tuple[CodeShare, ...] = ()
    amount_cents: int | None = None
    basis: str = ""
    scheduled_cents: int = 0

    def basis_under(self, terms: LoanTerms) -> str:
        """Return what the line counts as done under the terms of a loan."""
        return self.basis or (COST if self.kind != WORK else terms.basis)


@dataclass(frozen=True)
class Loan:
    """A loan with its frozen schedule.

    Parameters
    ----------
    terms : LoanTerms
        What holds.
    lines : tuple of LoanLine
        In the lender's order, with their scheduled values.
    frozen_on : datetime
        [UTC] Changes that were entered later move the schedule.
    """

    terms: LoanTerms
    lines: tuple[LoanLine, ...]
    frozen_on: datetime

    @property
    def scheduled_cents(self) -> int:
        """The whole schedule as frozen [0.01 $]."""
        return sum(one.scheduled_cents for one in self.lines)


def frozen_loan(terms: LoanTerms, lines: Sequence[LoanLine], budget: Budget, now: datetime) -> Loan:
    """Return a loan with the scheduled value of each line, to the cent of the budget.

    Parameters
    ----------
    terms, lines : LoanTerms, sequence of LoanLine
        As they were written.
    budget : mapping of str to BudgetCode
        As it is now.
    now : datetime
        [UTC]

    Raises
    ------
    FundingFaulty
        With every fault: terms that contradict each other; a code in no line or in two; an
        interest reserve without reserve terms; loan and equity that do not cover the schedule.
    """
    faults = Faults()
    for check in (partial(check_terms, terms), partial(_check_lines, terms, lines)):
        try:
            check()
        except FundingFaulty as error:
            faults.take("", error)
    faults.raise_if_any(FundingFaulty)
    scheduled = {
        one.line: one.scheduled_cents for one in schedule_of_values(budget, bearing(lines, budget))
    }
    frozen = tuple(replace(one, scheduled_cents=_value(one, scheduled[one.line])) for one in lines)
    loan = Loan(terms, frozen, now)
    missing = loan.scheduled_cents - terms.commitment_cents - terms.equity_cents
    if missing > 0:
        what = f"the schedule comes to {cents_money(loan.scheduled_cents)}, which is "
        what += f"{cents_money(missing)} more than loan and equity"
        raise fault(FundingFaulty, what, "raise the equity, or cut the budget", "equity")
    return loan


def _value(line: LoanLine, of_budget: int) -> int:
    return of_budget if line.amount_cents is None else line.amount_cents


def _check_lines(terms: LoanTerms, lines: Sequence[LoanLine]) -> None:
    faults = Faults()
    for one in lines:
        where = f"line {quoted(one.line)}"
        if one.kind not in LINE_KINDS:
            faults.add(where, f"is of kind {one.kind!r}", f"one of {', '.join(LINE_KINDS)}")
        if one.basis and one.basis not in BASES:
            faults.add(where, f"has the basis {one.basis!r}", f"one of {', '.join(BASES)}")
        _check_bearing(one, where, faults)
    kinds = [one.kind for one in lines]
    if INTEREST not in kinds and terms.interest == FROM_RESERVE:
        faults.add("interest", f"is from a {FROM_RESERVE}", "add a line of kind interest")
    if any(one.amount_cents is not None for one in lines) and terms.interest != FROM_RESERVE:
        remedy = f"write {FROM_RESERVE}, or let its line bear cost codes"
        faults.add("interest", f"is {terms.interest}, and a line reserves an amount", remedy)
    for kind in (INTEREST, CONTINGENCY_LINE):
        if kinds.count(kind) > 1:
            faults.add("lines", f"{kinds.count(kind)} are of kind {kind}", "keep one")
    faults.raise_if_any(FundingFaulty)


def _check_bearing(line: LoanLine, where: str, faults: Faults) -> None:
    """Note a line that bears nothing, or bears as interest what is none."""
    if line.amount_cents is not None and line.kind != INTEREST:
        faults.add(where, "states an amount", "only an interest reserve does")
    if bool(line.codes or line.shares) == (line.amount_cents is not None):
        remedy = "an interest reserve states its amount where no cost code has it"
        faults.add(where, "has no cost codes, or too many", remedy)
    if line.kind == INTEREST and line.shares:
        faults.add(where, "bears shares of cost codes", "interest bears its codes whole")


def bearing(lines: Sequence[LoanLine], budget: Budget) -> list[LenderLine]:
    """Return the lines with the part of each code of a budget that they bear.

    Parameters
    ----------
    lines : sequence of LoanLine
        Of the loan.
    budget : mapping of str to BudgetCode
        As it is now: a code that a change made falls to the line of its phase, else to the rest.

    Raises
    ------
    FundingFaulty
        If two lines bear a code whole.

    Notes
    -----
    A code that is named goes before its phase, and a phase before `*`.
    """
    shared = {share.code for one in lines for share in one.shares}
    wanted: dict[str, list[str]] = defaultdict(list)
    for one in lines:
        for word in one.codes:
            wanted[word].append(one.line)
    faults, borne = Faults(), {one.line: _stated(one) for one in lines}
    for word, of in wanted.items():
        if len(of) > 1 or word in shared:
            faults.add(f"cost code {word}", "is borne whole by a line, and by another too")
        elif word not in budget and word != THE_REST and word not in _phases(budget):
            faults.add(f"line {quoted(of[0])}", f"there is no cost code or phase {quoted(word)}")
    faults.raise_if_any(FundingFaulty)
    for code, own in budget.items():
        words = [one for one in (code, own.phase, THE_REST) if one in wanted]
        if code not in shared and words:
            borne[wanted[words[0]][0]][code] = _WHOLE
    return [LenderLine(one.line, one.name, borne[one.line]) for one in lines]


def _stated(line: LoanLine) -> dict[str, Decimal]:
    return {share.code: share.share for share in line.shares}


def _phases(budget: Budget) -> set[str]:
    return {own.phase for own in budget.values()}


def revised_cents(loan: Loan, budget: Budget) -> Mapping[str, int]:
    """Return the value of each line with the approved changes of a budget [0.01 $].

    Parameters
    ----------
    loan : Loan
        With its frozen schedule.
    budget : mapping of str to BudgetCode
        The budget that it was frozen from, with the changes since.

    Raises
    ------
    FundingFaulty
        Naming a code that a change made and that falls to no line.
    """
    lines = bearing(loan.lines, budget)
    borne = {code for one in lines for code in one.shares}
    faults = Faults()
    for code, own in budget.items():
        if code not in borne and own.cents:
            faults.add(f"cost code {code}", "a change made it, and it falls to no line",
                       "transfer it to a code of the schedule")  # fmt: skip
    faults.raise_if_any(FundingFaulty)
    in_lines = {code: own.cents for code, own in budget.items() if code in borne}
    spread = spread_over_lines(in_lines, lines)
    return {one.line: _value(one, spread[one.line]) for one in loan.lines}


def line_changes(
    loan: Loan, baseline: Budget, changes: Iterable[Change], as_of: date, known_on: datetime
) -> tuple[LineChange, ...]:
    """Return what each change since the schedule was frozen did to each line, to the cent.

    Parameters
    ----------
    loan : Loan
        With its frozen schedule.
    baseline : mapping of str to BudgetCode
        The accepted estimate that it was frozen from.
    changes : iterable of Change
        All of the project, in the order of the books.
    as_of, known_on : date, datetime
        Happened by; entered by [UTC].
    """
    listed = list(changes)
    before = {one.line: one.scheduled_cents for one in loan.lines}
    rows: list[LineChange] = []
    for number, change in enumerate(listed, 1):
        if change.entered <= loan.frozen_on or change.entered > known_on or change.happened > as_of:
            continue
        after = revised_cents(loan, current_budget(baseline, listed[:number], as_of, known_on))
        rows += [
            LineChange(change.row, change.happened, change.reason, line, cents - before[line])
            for line, cents in after.items()
            if cents != before[line]
        ]
        before = dict(after)
    return tuple(rows)
