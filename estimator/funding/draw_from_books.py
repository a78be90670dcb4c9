"""A draw request made from the books: every line, its backup, its papers and what it asks for."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from estimator.errors import FundingFaulty, fault
from estimator.funding.draw_backup import attached
from estimator.funding.draw_day import DrawDay
from estimator.funding.draw_papers import Papers, evidence_list, waiver_list
from estimator.funding.draw_payees import payees_of
from estimator.funding.draw_requests import (
    INTEREST,
    RELEASE,
    WORK,
    BackupPart,
    DrawRequest,
    RequestLine,
)
from estimator.funding.drawings import DrawHistory, Drawing, check_drawing
from estimator.funding.draws import (
    DrawLine,
    DrawTotals,
    EquityTerms,
    LineState,
    draw_line,
    draw_totals,
)
from estimator.funding.lender_schedule import LenderLine
from estimator.funding.loan_schedule import Loan, LoanLine, line_changes
from estimator.funding.loan_terms import OWNER, LoanTerms
from estimator.funding.retainage import RetainageTerms, retainage_held
from estimator.money import apportion, cents_money
from estimator.tracking.books import Books
from estimator.tracking.budget import Budget
from estimator.tracking.hold_points import open_holds


def draw_from_books(
    project: str,
    loan: Loan,
    baseline: Budget,
    books: Books,
    drawing: Drawing,
    history: DrawHistory,
    papers: Papers,
    known_on: datetime,
) -> DrawRequest:
    """Return the draw request that the books give on a day.

    Parameters
    ----------
    project : str
        Its name.
    loan : Loan
        With its frozen schedule.
    baseline : mapping of str to BudgetCode
        The accepted estimate that the schedule was frozen from.
    books : Books
        All rows of the project.
    drawing : Drawing
        What the owner says.
    history : DrawHistory
        What earlier draws came to.
    papers : Papers
        Waivers and evidence that came in.
    known_on : datetime
        [UTC] What was entered by then counts.

    Raises
    ------
    FundingFaulty
        With every fault of the draw: see `check_drawing`; stored material over its entry; a draw
        over the commitment.

    Notes
    -----
    A line counts what was billed, or its value times the percent in place, or the lesser. Where the
    inspector has looked since the draw before, the percent is theirs; our own measure and forecast
    stay as they are, and the difference is said.
    """
    check_drawing(loan, drawing, history)
    known = books.known(drawing.through, known_on)
    day = DrawDay(loan, baseline, known, drawing, history, known_on, papers)
    lines = _lines(day)
    backup = _backup(day, lines)
    lines = _with_unbacked(lines, backup)
    before = history.backup if drawing.number > 1 else ()
    terms = loan.terms
    return DrawRequest(
        project=project,
        number=drawing.number,
        issue=drawing.issue,
        kind=drawing.kind,
        is_last=drawing.is_last,
        since=day.since + timedelta(1) if day.since else terms.drawable_from,
        through=drawing.through,
        known_on=known_on,
        terms=terms,
        lines=lines,
        backup=backup,
        payees=payees_of(backup, terms.vendors),
        evidence=evidence_list(
            terms.evidence, papers.evidence, drawing.number, drawing.through, day.stored
        ),
        waivers=waiver_list(
            terms, papers.waivers, drawing.number, backup, before, is_last=drawing.is_last
        ),
        changes=line_changes(loan, baseline, books.changes, drawing.through, known_on),
        stored=day.stored,
        left_out=(*day.entries.left_out, *day.not_stored),
        holds=_holds(day, lines),
        differences=_differences(lines),
        totals=_totals(loan, [one.figures for one in lines], history),
    )


def _lines(day: DrawDay) -> tuple[RequestLine, ...]:
    lines = tuple(
        _line(day, line, bears) for line, bears in zip(day.loan.lines, day.bearing, strict=True)
    )
    return lines if day.drawing.kind == RELEASE else held_of_lines(lines, day.loan.terms.retainage)


def _line(day: DrawDay, line: LoanLine, bears: LenderLine) -> RequestLine:
    state, name = day.state(line), line.line
    before = day.history.lines.get(name)
    is_released = (
        day.drawing.is_last
        or name in day.drawing.released
        or (before is not None and before.is_released)
    )
    basis = line.basis_under(day.loan.terms)
    if day.drawing.kind == RELEASE:
        figures = _released(state, is_released=is_released)
    else:
        figures = draw_line(state, day.loan.terms.retainage, basis, is_last=True)  # held below
    _check_reserve(line, state)
    return RequestLine(
        figures=figures,
        kind=line.kind,
        basis=basis,
        earned_cents=day.beside.earned[name],
        incurred_cents=day.beside.incurred[name],
        paid_cents=day.beside.paid[name],
        codes=day.codes(bears),
        is_released=is_released,
    )


def _released(state: LineState, *, is_released: bool) -> DrawLine:
    """Return a line as the draw before left it, with its retainage requested or not."""
    held = 0 if is_released else state.retainage_before_cents
    return DrawLine(state, state.done_before_cents, state.stored_before_cents, held)


def _check_reserve(line: LoanLine, state: LineState) -> None:
    if line.kind == INTEREST and state.incurred_cents > state.revised_cents:
        left = cents_money(state.revised_cents - state.done_before_cents)
        what = f"line {line.line} has {left} left for interest"
        raise fault(FundingFaulty, what, "the owner pays the rest", "interest")


def held_of_lines(lines: Sequence[RequestLine], terms: RetainageTerms) -> tuple[RequestLine, ...]:
    """Return lines with what is held back of each, to date.

    Parameters
    ----------
    lines : sequence of RequestLine
        Of a draw.
    terms : RetainageTerms
        Of the loan.

    Notes
    -----
    Where the terms look at the whole, what is held of all lines of work together is split by what
    each has done and stored, by the largest remainder.
    """
    held_of = [one for one in lines if one.kind == WORK and not one.is_released]
    figures = [one.figures for one in held_of]
    if terms.of_whole:
        held = _held_of_whole(figures, terms)
    else:
        held = [retainage_held(terms, one.state.revised_cents, one.done_cents, one.stored_cents)
                for one in figures]  # fmt: skip
    cents = {one.line: part for one, part in zip(held_of, held, strict=True)}
    return tuple(
        replace(one, figures=replace(one.figures, retainage_cents=cents.get(one.line, 0)))
        for one in lines
    )


def _held_of_whole(lines: Sequence[DrawLine], terms: RetainageTerms) -> list[int]:
    weights = [one.done_and_stored_cents for one in lines]
    if not sum(weights):
        return [0] * len(weights)
    value = sum(one.state.revised_cents for one in lines)
    done, stored = (sum(one.done_cents for one in lines), sum(one.stored_cents for one in lines))
    return apportion(retainage_held(terms, value, done, stored), weights)


def _backup(day: DrawDay, lines: Sequence[RequestLine]) -> tuple[BackupPart, ...]:
    return tuple(
        part
        for line in lines
        if line.kind != INTEREST and line.figures.billed_cents
        for part in attached(line.figures.billed_cents, day.parts.get(line.line, ()))
    )


def _with_unbacked(
    lines: Sequence[RequestLine], backup: Sequence[BackupPart]
) -> tuple[RequestLine, ...]:
    backed: dict[str, int] = defaultdict(int)
    for part in backup:
        backed[part.line] += part.cents
    return tuple(
        replace(one, unbacked_cents=one.figures.billed_cents - backed[one.line]) for one in lines
    )


def _totals(loan: Loan, lines: Sequence[DrawLine], history: DrawHistory) -> DrawTotals:
    return draw_totals(
        lines,
        equity_terms(loan.terms, lines),
        history.equity_cents,
        history.funded_cents,
        history.granted_cents,
    )


def equity_terms(terms: LoanTerms, lines: Sequence[DrawLine]) -> EquityTerms:
    """Return the owner's part and the loan, with approved changes beyond the contingency.

    Parameters
    ----------
    terms : LoanTerms
        Who bears them.
    lines : sequence of DrawLine
        Whose changes, together, are what goes beyond the contingency.
    """
    beyond = max(sum(one.state.change_cents for one in lines), 0)
    owners = beyond if terms.changes == OWNER else 0
    return EquityTerms(
        terms.equity_cents + owners, terms.commitment_cents + beyond - owners, terms.equity_order
    )


def _holds(day: DrawDay, lines: Sequence[RequestLine]) -> tuple[str, ...]:
    billed = {one.line for one in lines if one.figures.billed_cents > 0}
    line_of = {code: one.line for one in day.bearing for code in one.shares if one.line in billed}
    return tuple(
        f"line {line_of[hold.code]}: {hold.code} {hold.name} is open; it needs {hold.needs}, and "
        f"{hold.decider} decides"
        for hold in open_holds(day.known.holds, day.known.results)
        if hold.code in line_of
    )


def _differences(lines: Sequence[RequestLine]) -> tuple[str, ...]:
    return tuple(
        f"line {line.line}: the inspector has {code.inspector_percent:f} % of {code.code} in "
        f"place, our own measure {code.percent:f} %; the draw follows the inspector"
        for line in lines
        for code in line.codes
        if code.inspector_percent is not None and code.inspector_percent != code.percent
    )
