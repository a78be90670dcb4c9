"""What must agree before a draw is submitted, to the cent; and what is said of it besides."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator

from estimator.errors import Faults, FundingFaulty
from estimator.funding.change_limits import beyond_limits
from estimator.funding.draw_requests import (
    CONTINGENCY_LINE,
    INTEREST,
    MISSING,
    PROGRESS,
    RELEASE,
    THERE,
    DrawRequest,
    RequestLine,
)
from estimator.funding.draws import PERCENT
from estimator.money import cents_money

Wrong = tuple[str, str]


def check_draw(request: DrawRequest) -> None:
    """Refuse a draw of which two figures disagree by a cent, or that the terms do not allow.

    Parameters
    ----------
    request : DrawRequest
        As it would be submitted.

    Raises
    ------
    FundingFaulty
        With every line, sheet and entry that does not agree, and by how much.
    """
    faults = Faults()
    checks: tuple[Callable[[DrawRequest], Iterator[Wrong]], ...] = (
        _lines, _backup, _entries, _payees, _totals, _terms, beyond_limits, _last,
    )  # fmt: skip
    for check in checks:
        for where, what in check(request):
            faults.add(where, what)
    faults.raise_if_any(FundingFaulty)


def _apart(first: str, cents: int, second: str, other: int) -> str:
    apart = cents_money(abs(cents - other))
    return f"{first} {cents_money(cents)} and {second} {cents_money(other)}: {apart} apart"


def _lines(request: DrawRequest) -> Iterator[Wrong]:
    for line in request.lines:
        figures, where = line.figures, f"line {line.line}"
        value = max(figures.state.revised_cents, 0)
        if figures.done_and_stored_cents > value and request.kind == PROGRESS:
            yield where, _apart("done and stored come to", figures.done_and_stored_cents,
                                "its scheduled value is", value)  # fmt: skip
        if not 0 <= figures.retainage_cents <= max(figures.done_and_stored_cents, 0):
            yield where, f"holds {cents_money(figures.retainage_cents)} of what is done"


def _backup(request: DrawRequest) -> Iterator[Wrong]:
    behind: dict[str, int] = defaultdict(int)
    for part in request.backup:
        behind[part.line] += part.cents
    for line in request.lines:
        billed = line.figures.billed_cents
        if behind[line.line] + line.unbacked_cents != billed:
            receipts = behind[line.line] + line.unbacked_cents
            yield f"line {line.line}", _apart("it bills", billed, "its backup comes to", receipts)
        elif line.unbacked_cents and not _may_be_unbacked(line):
            cents = cents_money(line.unbacked_cents)
            yield f"line {line.line}", f"{cents} of what it bills has no receipt"


def _may_be_unbacked(line: RequestLine) -> bool:
    return line.kind == INTEREST or line.basis == PERCENT


def _entries(request: DrawRequest) -> Iterator[Wrong]:
    for part in request.backup:
        drawn = part.drawn_before_cents + part.cents
        low, high = min(part.entry_cents, 0), max(part.entry_cents, 0)
        if not low <= drawn <= high:
            where = f"row {part.row}, line {part.line}"
            yield where, _apart("drawn in all", drawn, "the entry comes to", part.entry_cents)


def _payees(request: DrawRequest) -> Iterator[Wrong]:
    paid = sum(one.cents for one in request.payees)
    backed = sum(one.cents for one in request.backup)
    if paid != backed:
        yield "payees", _apart("they come to", paid, "the backup to", backed)


def _totals(request: DrawRequest) -> Iterator[Wrong]:
    totals = request.totals
    for name, own in (("earned", totals.earned_cents), ("retainage", totals.retainage_cents)):
        of_lines = request.sum_cents(f"{name}_cents")
        if own != of_lines:
            yield f"total {name}", _apart("it is", own, "the lines come to", of_lines)
    parts = totals.equity_cents + totals.loan_cents
    if parts != totals.requested_cents:
        yield "request", _apart("equity and loan come to", parts, "it is", totals.requested_cents)


def _terms(request: DrawRequest) -> Iterator[Wrong]:
    smallest, requested = request.terms.smallest_cents, request.totals.requested_cents
    if request.kind == PROGRESS and not request.is_last and 0 <= requested < smallest:
        yield "request", _apart("it is", requested, "the smallest draw", smallest)
    if request.kind == RELEASE and requested == request.totals.short_funded_cents:
        yield "request", "no retainage is held on these lines"


def _last(request: DrawRequest) -> Iterator[Wrong]:
    """Yield lines that the last draw does not end at their scheduled value; the contingency may."""
    for line in request.lines if request.is_last else ():
        figures = line.figures
        left = figures.state.revised_cents - figures.done_and_stored_cents
        if left and line.kind not in (CONTINGENCY_LINE, INTEREST):
            words = f"ends {cents_money(left)} under its scheduled value in the last draw"
            yield f"line {line.line}", f"{words}; transfer that to the contingency first"


def notes_on(request: DrawRequest) -> tuple[str, ...]:
    """Return what the lender will ask about: papers, waivers, holds, differences, over-billing.

    Parameters
    ----------
    request : DrawRequest
        As it stands.
    """
    notes = [f"{one.kind} {'are' if one.kind.endswith('s') else 'is'} {one.state}"
             f"{f' ({one.note})' if one.note else ''}"
             for one in request.evidence if one.state != THERE]  # fmt: skip
    notes += [
        f"no {'conditional' if one.is_conditional else 'unconditional'} waiver from {one.payee} "
        f"for draw {one.draw}, {cents_money(one.cents)}"
        for one in request.waivers
        if one.state == MISSING
    ]
    notes += [*request.holds, *request.differences]
    notes += [
        f"line {one.line} was billed {cents_money(one.figures.over_billed_cents)} over its value "
        "today: recovered in this draw"
        for one in request.lines
        if one.figures.over_billed_cents
    ]
    return tuple(notes)
