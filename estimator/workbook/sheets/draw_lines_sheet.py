"""The sheet of a draw's lines: live formulas over backup and changes, and what stands beside."""

from __future__ import annotations

from collections.abc import Mapping

from estimator.funding.draw_requests import PROGRESS, WORK, DrawRequest, RequestLine
from estimator.funding.draws import COST, PERCENT, draw_line
from estimator.funding.retainage import RetainageTerms
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Lines"
NOTE = (
    "Each line to date. Done is what counts as done, by the line's basis, and never more than "
    "its value today. Retainage is figured on what is done to date. Backup and changes add up "
    "their sheets."
)
_MONEY = "money"


def _money(heading: str) -> Column:
    return Column(f"{heading}\n[$]", 14, True)


COLUMNS = (
    Column("Line", 8), Column("Work", 30), Column("Kind", 11), Column("Basis", 9),
    _money("Scheduled"), _money("Changes"), _money("Value\ntoday"),
    Column("In place\n[%]", 9, True), _money("Billed to\ndate"), _money("Done before"),
    _money("Done to date"), _money("Done this\nperiod"), _money("Stored before"),
    _money("Stored now"), _money("Done and\nstored"), Column("Of its\nvalue", 8, True),
    Column("Held of\nwork", 8, True), Column("Held of\nstored", 8, True),
    _money("Held before"), _money("Retainage"), _money("Held this\nperiod"),
    _money("Less\nretainage"), _money("Left to\nfinish"), _money("This draw"),
    _money("With receipts"), _money("Without\nreceipts"), _money("Earned in\nthe budget"),
    _money("Incurred"), _money("Paid"), _money("Earned less\nincurred"), _money("Still to pay"),
    _money("Cut by\nthe lender"), Column("Why", 30),
)  # fmt: skip
(
    SCHEDULED, CHANGES, VALUE, IN_PLACE, BILLED, DONE_BEFORE, DONE, DONE_NOW, STORED_BEFORE, STORED,
    DONE_AND_STORED, SHARE, OF_WORK, OF_STORED, HELD_BEFORE, HELD, HELD_NOW, NET, TO_FINISH,
    THIS_DRAW, BACKED, UNBACKED, EARNED, INCURRED, PAID, VARIANCE, UNPAID, CUT, WHY,
) = range(5, 34)  # fmt: skip
_NOT_SUMMED = (IN_PLACE, SHARE, OF_WORK, OF_STORED, WHY)
_SUMMED = [column for column in range(SCHEDULED, WHY) if column not in _NOT_SUMMED]


def write_lines(
    book: Book,
    request: DrawRequest,
    backup: Mapping[str, str],
    changes: Mapping[str, str],
    page: PageSetup,
) -> Mapping[int, str]:
    """Write the sheet and return where the totals of its columns of money stand."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.top(TITLE, NOTE, names=2)
    first, sums = pen.row, dict.fromkeys(_SUMMED, 0)
    for line in request.lines:
        figures = line_figures(line)
        _write_line(pen, request, line, (backup.get(line.line, "0"), changes.get(line.line, "0")))
        for column in _SUMMED:
            sums[column] += figures[column]
    pen.over(1, 4, "The whole job", "total")
    for column, cents in sums.items():
        pen.sum(column, first, cents / 100, f"total {_MONEY}")
    pen.fill("total")
    totals = {column: pen.from_elsewhere(column) for column in _SUMMED}
    pen.finish(page)
    pen.sheet.page_setup.fitToWidth = 3
    return totals


def line_figures(line: RequestLine) -> Mapping[int, int]:
    """Return the figures of a line by column [0.01 $]."""
    own, state = line.figures, line.figures.state
    return {
        SCHEDULED: state.scheduled_cents, CHANGES: state.change_cents, VALUE: state.revised_cents,
        BILLED: state.incurred_cents, DONE_BEFORE: state.done_before_cents, DONE: own.done_cents,
        DONE_NOW: own.done_this_period_cents, STORED_BEFORE: state.stored_before_cents,
        STORED: own.stored_cents, DONE_AND_STORED: own.done_and_stored_cents,
        HELD_BEFORE: state.retainage_before_cents, HELD: own.retainage_cents,
        HELD_NOW: own.retainage_this_period_cents, NET: own.earned_cents,
        TO_FINISH: own.balance_to_finish_cents, THIS_DRAW: own.billed_cents,
        BACKED: own.billed_cents - line.unbacked_cents, UNBACKED: line.unbacked_cents,
        EARNED: line.earned_cents, INCURRED: line.incurred_cents, PAID: line.paid_cents,
        VARIANCE: line.earned_cents - line.incurred_cents,
        UNPAID: line.incurred_cents - line.paid_cents, CUT: line.cut_cents,
    }  # fmt: skip


def _write_line(
    pen: SheetPen, request: DrawRequest, line: RequestLine, sums: tuple[str, str]
) -> None:
    figures = line_figures(line)
    for column, words in enumerate((line.line, line.name, line.kind, line.basis), start=1):
        pen.text(column, words, "strong" if column == 1 else "plain")
    for column, cents in figures.items():
        pen.number(column, cents / 100, f"plain {_MONEY}")
    pen.number(IN_PLACE, float(line.figures.state.percent), "plain quantity 2")
    formulas = _formulas(pen, *sums)
    if _is_by_basis(request, line):
        formulas[DONE] = _done(pen, line.basis)
    if _is_held_plainly(request, line):
        terms = request.terms.retainage
        pen.number(OF_WORK, float(terms.work_fraction), "plain percent")
        pen.number(OF_STORED, float(terms.stored_fraction), "plain percent")
        at = pen.at
        formulas[HELD] = f"ROUND({at(OF_WORK)}*{at(DONE)}+{at(OF_STORED)}*{at(STORED)},2)"
    for column, formula in formulas.items():
        pen.formula(column, formula, figures[column] / 100, f"plain {_MONEY}")
    _write_share(pen, line)
    pen.text(WHY, line.cut_reason)
    pen.fill("plain")
    pen.down()


def _formulas(pen: SheetPen, backup: str, changes: str) -> dict[int, str]:
    def sum_of(first: int, *others: int) -> str:
        """Return the first column with the others, those below zero taken off."""
        parts = "".join(f"{'-' if one < 0 else '+'}{pen.at(abs(one))}" for one in others)
        return f"ROUND({pen.at(first)}{parts},2)"

    return {
        CHANGES: changes,
        VALUE: sum_of(SCHEDULED, CHANGES),
        DONE_NOW: sum_of(DONE, -DONE_BEFORE),
        DONE_AND_STORED: sum_of(DONE, STORED),
        HELD_NOW: sum_of(HELD, -HELD_BEFORE),
        NET: sum_of(DONE_AND_STORED, -HELD),
        TO_FINISH: sum_of(VALUE, -NET),
        THIS_DRAW: sum_of(DONE_AND_STORED, -DONE_BEFORE, -STORED_BEFORE),
        BACKED: backup,
        UNBACKED: sum_of(THIS_DRAW, -BACKED),
        VARIANCE: sum_of(EARNED, -INCURRED),
        UNPAID: sum_of(INCURRED, -PAID),
    }


def _is_by_basis(request: DrawRequest, line: RequestLine) -> bool:
    """Tell whether a line's work is what its basis gives: not after a cut, not of a release."""
    plain = draw_line(line.figures.state, RetainageTerms(), line.basis)
    return request.kind == PROGRESS and plain.done_cents == line.figures.done_cents


def _done(pen: SheetPen, basis: str) -> str:
    value, billed = pen.at(VALUE), pen.at(BILLED)
    measured = f"ROUND({value}*{pen.at(IN_PLACE)}/100,2)"
    counted = {COST: billed, PERCENT: measured}.get(basis, f"MIN({billed},{measured})")
    return f"MAX(MIN({counted},{value}),0)"


def _is_held_plainly(request: DrawRequest, line: RequestLine) -> bool:
    """Tell whether what is held is a fixed part of the line: no reduction, no release."""
    terms = request.terms.retainage
    is_plain = line.kind == WORK and not line.is_released and not terms.effect
    return is_plain and not terms.of_whole and request.kind == PROGRESS


def _write_share(pen: SheetPen, line: RequestLine) -> None:
    value = line.figures.state.revised_cents
    if value > 0:
        share = line.figures.done_and_stored_cents / value
        formula = f"{pen.at(DONE_AND_STORED)}/{pen.at(VALUE)}"
        pen.formula(SHARE, formula, share, "plain share")
