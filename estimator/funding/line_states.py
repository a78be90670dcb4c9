"""What each line of a loan's schedule rests on, on the day of a draw."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from estimator.errors import Faults, FundingFaulty
from estimator.funding.draw_backup import entry_parts, without_reversed
from estimator.funding.draw_requests import (
    DEPOSIT,
    OFF_SITE,
    ON_SITE,
    BackupPart,
    CodeProgress,
    LeftOut,
    StoredPart,
)
from estimator.funding.drawings import DrawHistory, Drawing
from estimator.funding.lender_schedule import LenderLine, spread_over_lines
from estimator.funding.loan_schedule import Loan
from estimator.funding.loan_terms import LoanTerms
from estimator.money import exact_arithmetic, rounded
from estimator.tracking.books import Books
from estimator.tracking.job_track import Track
from estimator.tracking.ledger_rows import Cost
from estimator.tracking.progress import Progress
from estimator.tracking.status import CodeStatus

_PERCENT_DECIMALS = 2
_ALL = Decimal(100)


@dataclass(frozen=True)
class Drawable:
    """The entries of the books that a draw may take, and those that it leaves.

    Parameters
    ----------
    parts : tuple of BackupPart
        What each line bears of each entry, nothing drawn yet.
    left_out : tuple of LeftOut
        With the reason.
    """

    parts: tuple[BackupPart, ...]
    left_out: tuple[LeftOut, ...]


def drawable_entries(
    loan: Loan,
    lines: Sequence[LenderLine],
    known: Books,
    drawing: Drawing,
    history: DrawHistory,
) -> Drawable:
    """Return the bills, credits and weeks of payroll that a draw may take, by line.

    Parameters
    ----------
    loan, lines : Loan, sequence of LenderLine
        With the part of each code that the lines bear now.
    known : Books
        As of the day of the draw: see `Books.known`.
    drawing, history : Drawing, DrawHistory
        What the owner says, and what came before.

    Raises
    ------
    FundingFaulty
        With every row to leave out that is no cost.

    Notes
    -----
    Accruals are not drawn: a ticket, a running rent and an open week are when they are billed or
    closed. The owner's own labor and own material are in no bill, so they are never drawn.
    """
    _check_left_out(known.costs, drawing)
    reasons = _reasons(loan.terms, known.costs, drawing)
    drawable = [one for one in known.costs if one.row not in reasons]
    parts = entry_parts(drawable, known.payments, lines, history.drawn)
    borne: dict[int, int] = defaultdict(int)
    for part in parts:
        borne[part.row] += part.entry_cents
    left = [LeftOut(row, cents, reason) for row, (cents, reason) in reasons.items()]
    left += [
        LeftOut(one.row, one.cents - borne[one.row], "its cost code is on no line")
        for one in drawable
        if one.cents != borne[one.row]
    ]
    reversing = {one.reverses: one.row for one in known.costs if one.reverses is not None}
    return Drawable(tuple(without_reversed(parts, reversing)), tuple(left))


def _check_left_out(costs: Iterable[Cost], drawing: Drawing) -> None:
    faults = Faults()
    for row in sorted({*drawing.left_out} - {one.row for one in costs}):
        faults.add("left_out", f"row {row} is not a cost through {drawing.through}", "name its row")
    faults.raise_if_any(FundingFaulty)


def _reasons(
    terms: LoanTerms, costs: Iterable[Cost], drawing: Drawing
) -> dict[int, tuple[int, str]]:
    """Return the entries that are left out whole; what takes one of them back goes with it."""
    reasons: dict[int, tuple[int, str]] = {}
    for cost in costs:
        if cost.happened < terms.drawable_from:
            why = f"incurred before {terms.drawable_from}"
        elif cost.row in drawing.left_out:
            why = "the owner leaves it out"
        elif cost.reverses in reasons:
            why = f"it takes back row {cost.reverses}, which is left out"
        else:
            continue
        reasons[cost.row] = (cost.cents, why)
    return reasons


def split_stored(
    terms: LoanTerms, stored: Iterable[StoredPart]
) -> tuple[tuple[StoredPart, ...], tuple[LeftOut, ...]]:
    """Return the stored material that the terms let be drawn, and the rest with the reason.

    Parameters
    ----------
    terms : LoanTerms
        Of the loan.
    stored : iterable of StoredPart
        As the owner says.
    """
    may = {ON_SITE: terms.stored_on_site, OFF_SITE: terms.stored_off_site, DEPOSIT: terms.deposits}
    listed = tuple(stored)
    drawn = tuple(one for one in listed if may[one.place])
    return drawn, tuple(
        LeftOut(one.row, one.cents, f"the terms do not draw it: {one.place}")
        for one in listed
        if not may[one.place]
    )


@exact_arithmetic
def line_percents(
    codes: Iterable[CodeStatus], lines: Sequence[LenderLine], revised: Mapping[str, int]
) -> Mapping[str, Decimal]:
    """Return how much of each line is done, of its value, to two decimals [%].

    Parameters
    ----------
    codes : iterable of CodeStatus
        Where each cost code stands, by our own measure or the inspector's.
    lines : sequence of LenderLine
        With the part of each code that they bear.
    revised : mapping of str to int
        [0.01 $] Value of each line.

    Notes
    -----
    Earned value of its codes over the value of the line, rounded half-up once: the sheet shows the
    percent that is multiplied.
    """
    earned = _on_lines({one.code: one.earned_cents for one in codes}, lines)
    percents = {}
    for line, value in revised.items():
        percent = Fraction(100 * earned[line], value) if value > 0 else Fraction(0)
        exact = Decimal(percent.numerator) / percent.denominator
        percents[line] = min(max(rounded(exact, _PERCENT_DECIMALS), Decimal(0)), _ALL)
    return percents


def _on_lines(cents_by_code: Mapping[str, int], lines: Sequence[LenderLine]) -> Mapping[str, int]:
    borne = {code for one in lines for code in one.shares}
    return spread_over_lines(
        {code: cents for code, cents in cents_by_code.items() if code in borne}, lines
    )


@dataclass(frozen=True)
class Beside:
    """What stands beside the lines: earned, incurred and paid, by line [0.01 $]."""

    earned: Mapping[str, int]
    incurred: Mapping[str, int]
    paid: Mapping[str, int]


def beside_lines(report: Track, lines: Sequence[LenderLine]) -> Beside:
    """Return earned value, cost incurred with accruals, and what was paid, by line.

    Parameters
    ----------
    report : Track
        By our own measure.
    lines : sequence of LenderLine
        With the part of each code that they bear.
    """
    codes = report.status.codes
    return Beside(
        _on_lines({one.code: one.earned_cents for one in codes}, lines),
        _on_lines({one.code: one.spent.incurred_cents for one in codes}, lines),
        _on_lines({one.code: one.spent.paid_cents for one in codes}, lines),
    )


def inspected(books: Books, since: date | None) -> Books:
    """Return the books with the inspector's figures in the place of our own, where there are any.

    Parameters
    ----------
    books : Books
        As known on the day of a draw.
    since : date or None
        The end of the draw before: the inspector's figure counts if it was measured later.
    """
    theirs = [
        replace(one, is_inspector=False)
        for one in books.progress
        if one.is_inspector and _is_later(one, since)
    ]
    looked_at = {one.code for one in theirs}
    own = [one for one in books.progress if not one.is_inspector and one.code not in looked_at]
    return replace(books, progress=[*own, *theirs])


def _is_later(row: Progress, since: date | None) -> bool:
    return since is None or row.happened > since


def codes_of_line(
    line: LenderLine, own: Mapping[str, CodeStatus], theirs: Mapping[str, CodeStatus]
) -> tuple[CodeProgress, ...]:
    """Return the cost codes of a line with both measures.

    Parameters
    ----------
    line : LenderLine
        With the part of each code that it bears.
    own, theirs : mapping of str to CodeStatus
        By our own measure, and where the inspector has looked.
    """
    return tuple(
        CodeProgress(
            code, own[code].name, own[code].unit, own[code].quantity, own[code].expected,
            _percent(own[code]), _percent(theirs[code]) if code in theirs else None,
        )
        for code in line.shares
        if code in own and own[code].phase
    )  # fmt: skip


@exact_arithmetic
def _percent(code: CodeStatus) -> Decimal:
    return rounded(code.percent, _PERCENT_DECIMALS)
