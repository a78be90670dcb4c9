"""What the lender makes of a draw: granted, cut line by line, funded in full or short."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from estimator.errors import Faults, FundingFaulty, quoted
from estimator.funding.draw_backup import cut_from
from estimator.funding.draw_from_books import equity_terms, held_of_lines
from estimator.funding.draw_payees import payees_of
from estimator.funding.draw_requests import BackupPart, DrawRequest, RequestLine
from estimator.funding.draws import draw_totals
from estimator.funding.loan_terms import WITHHELD
from estimator.money import cents_money


@dataclass(frozen=True)
class Cut:
    """What the lender takes off a line.

    Parameters
    ----------
    line, reason : str
        Which, and why.
    cents : int
        [0.01 $] Of what it bills in this draw.
    """

    line: str
    cents: int
    reason: str


def granted(request: DrawRequest, cuts: Iterable[Cut]) -> DrawRequest:
    """Return a draw as the lender grants it; what is cut goes back to undrawn.

    Parameters
    ----------
    request : DrawRequest
        As it was submitted.
    cuts : iterable of Cut
        One for a line at most; lines that are not named are granted whole.

    Raises
    ------
    FundingFaulty
        With every cut of a line that is not there, twice, or of more than it bills.

    Notes
    -----
    A cut comes off the work of the period first, then off what is stored. Retainage is held of what
    is granted.
    """
    by_line = _checked(request, list(cuts))
    lines = [_cut(line, by_line[line.line]) if line.line in by_line else line
             for line in request.lines]  # fmt: skip
    held = held_of_lines(lines, request.terms.retainage) if by_line else tuple(lines)
    backup = _cut_backup(request, by_line)
    figures, before = [one.figures for one in held], request.totals
    return replace(
        request,
        lines=held,
        backup=backup,
        payees=payees_of(backup, request.terms.vendors),
        totals=draw_totals(
            figures,
            equity_terms(request.terms, figures),
            before.equity_before_cents,
            before.funded_before_cents,
            before.granted_before_cents,
        ),
    )


def _checked(request: DrawRequest, cuts: list[Cut]) -> Mapping[str, Cut]:
    faults, bills = Faults(), {one.line: one.figures.billed_cents for one in request.lines}
    for number, cut in enumerate(cuts):
        if cut.line not in bills:
            faults.add("cuts", f"there is no line {quoted(cut.line)}")
        elif cut.line in (one.line for one in cuts[:number]):
            faults.add("cuts", f"line {cut.line} is cut twice", "state its cut once")
        elif not 0 < cut.cents <= bills[cut.line]:
            what = f"line {cut.line} bills {cents_money(bills[cut.line])}"
            faults.add("cuts", what, f"{cents_money(cut.cents)} of it cannot be cut")
    faults.raise_if_any(FundingFaulty)
    return {one.line: one for one in cuts}


def _cut(line: RequestLine, cut: Cut) -> RequestLine:
    figures = line.figures
    of_work = min(max(figures.done_this_period_cents, 0), cut.cents)
    reduced = replace(
        figures,
        done_cents=figures.done_cents - of_work,
        stored_cents=figures.stored_cents - (cut.cents - of_work),
    )
    unbacked = max(line.unbacked_cents - cut.cents, 0)
    return replace(
        line, figures=reduced, unbacked_cents=unbacked, cut_cents=cut.cents, cut_reason=cut.reason
    )


def _cut_backup(request: DrawRequest, cuts: Mapping[str, Cut]) -> tuple[BackupPart, ...]:
    parts: list[BackupPart] = []
    for line in request.lines:
        own = [one for one in request.backup if one.line == line.line]
        cut = cuts.get(line.line)
        off = cut.cents - min(line.unbacked_cents, cut.cents) if cut else 0
        parts += cut_from(own, off) if off else own
    return tuple(parts)


@dataclass(frozen=True)
class Funding:
    """What came of a granted draw.

    Parameters
    ----------
    number : int
        Of the draw.
    day : date
        On which the lender paid; interest runs from it.
    equity_cents : int
        [0.01 $] The owner's part of it.
    paid_cents, fees_cents : int
        [0.01 $] What the lender paid out, and fees that were withheld: both are loan.
    short_cents : int
        [0.01 $] Granted and not funded; requested in the next draw without its receipts again.
    """

    number: int
    day: date
    equity_cents: int
    paid_cents: int
    fees_cents: int
    short_cents: int

    @property
    def loan_cents(self) -> int:
        """What the balance of the loan rises by [0.01 $]."""
        return self.paid_cents + self.fees_cents


def funding_of(request: DrawRequest, day: date, paid_cents: int, fees_cents: int = 0) -> Funding:
    """Return what came of a granted draw.

    Parameters
    ----------
    request : DrawRequest
        As it was granted.
    day : date
        On which the lender paid.
    paid_cents, fees_cents : int
        [0.01 $] Paid out; withheld as fees.

    Raises
    ------
    FundingFaulty
        If that is more than the lender's part, or fees are not withheld under the terms.
    """
    loan, faults = request.totals.loan_cents, Faults()
    short = loan - paid_cents - fees_cents
    if short < 0 or (loan < 0 and short):
        what = f"with fees comes to {cents_money(paid_cents + fees_cents)}"
        limit = "at most" if short < 0 else "all of"
        faults.add("amount", what, f"{limit} the lender's part, {cents_money(loan)}, is paid")
    if fees_cents and request.terms.fees != WITHHELD:
        faults.add("fees", "are paid by the owner under the terms", "post them as a cost")
    if day < request.through:
        faults.add("day", f"{day} is before the end of the draw, {request.through}")
    faults.raise_if_any(FundingFaulty)
    return Funding(request.number, day, request.totals.equity_cents, paid_cents, fees_cents, short)
