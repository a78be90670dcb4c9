"""The sheets of a draw as tables of text: lines, backup, payees, papers, changes, walk."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from estimator.funding.draw_package import (
    CoverFigure,
    claimed_codes,
    proof_text,
    rows_text,
    share_text,
    waiver_kind,
)
from estimator.funding.draw_requests import BackupPart, DrawRequest, RequestLine
from estimator.funding.loan_balance import SOURCE, USE, LoanBalance
from estimator.money import cents_money
from estimator.printed.page_pen import GROUP, PLAIN, STRONG, TOTAL, PrintColumn, PrintRow
from estimator.quantity.units import counted

BALANCE = (PrintColumn("", 3), PrintColumn("P50 [$]", 1, True), PrintColumn("P80 [$]", 1, True))
BLANK = 12 * "_"
WALK_PAD_PT = 5.0
FIGURES = (PrintColumn("", 3.0), PrintColumn("[$]", 1, is_number=True))
LINES = (
    PrintColumn("Line", 0.5), PrintColumn("Work", 1.9), PrintColumn("Scheduled [$]", 1, True),
    PrintColumn("Changes [$]", 0.9, True), PrintColumn("Value today [$]", 1, True),
    PrintColumn("Done before [$]", 1, True), PrintColumn("Done this period [$]", 1, True),
    PrintColumn("Stored now [$]", 0.9, True), PrintColumn("Done and stored [$]", 1, True),
    PrintColumn("[%]", 0.55, True), PrintColumn("Retainage [$]", 0.9, True),
    PrintColumn("Less retainage [$]", 1, True), PrintColumn("Left to finish [$]", 1, True),
)  # fmt: skip
BESIDE = (
    PrintColumn("Line", 0.5), PrintColumn("Basis", 0.7), PrintColumn("In place [%]", 0.6, True),
    PrintColumn("This draw [$]", 1, True), PrintColumn("With receipts [$]", 1, True),
    PrintColumn("Without receipts [$]", 1, True), PrintColumn("Earned in the budget [$]", 1, True),
    PrintColumn("Incurred [$]", 1, True), PrintColumn("Paid [$]", 1, True),
    PrintColumn("Earned less incurred [$]", 1, True), PrintColumn("Still to pay [$]", 1, True),
    PrintColumn("Cut [$]", 0.9, True), PrintColumn("Why", 1.6),
)  # fmt: skip
BACKUP = (
    PrintColumn("Row", 0.5), PrintColumn("Day", 0.85), PrintColumn("What", 0.7),
    PrintColumn("Vendor", 1.8), PrintColumn("Document", 1.1),
    PrintColumn("Share of the line [$]", 1, True), PrintColumn("Drawn before [$]", 1, True),
    PrintColumn("Drawn now [$]", 1, True), PrintColumn("Left [$]", 0.9, True),
    PrintColumn("Paid [$]", 1, True), PrintColumn("Proof of payment", 2.7),
)  # fmt: skip
PAYEES = (
    PrintColumn("Payee", 2), PrintColumn("How", 1.3), PrintColumn("Before retainage [$]", 1, True),
    PrintColumn("Rows", 1.6), PrintColumn("Proof of payment", 2.6),
)  # fmt: skip
EVIDENCE = (
    PrintColumn("Paper", 1.2), PrintColumn("", 0.7), PrintColumn("Which", 2.6),
    PrintColumn("Issued", 0.8), PrintColumn("Valid through", 0.8),
)  # fmt: skip
STORED = (
    PrintColumn("Row", 0.5), PrintColumn("Line", 0.6), PrintColumn("Stored [$]", 1, True),
    PrintColumn("Where", 2),
)  # fmt: skip
LEFT_OUT = (
    PrintColumn("Row", 0.5), PrintColumn("Not requested [$]", 1, True), PrintColumn("Why", 3),
)  # fmt: skip
CHANGES = (
    PrintColumn("Row", 0.5), PrintColumn("Approved", 0.8), PrintColumn("Line", 0.6),
    PrintColumn("Reason", 3), PrintColumn("[$]", 1, True),
)  # fmt: skip
WAIVERS = (
    PrintColumn("Payee", 2), PrintColumn("Draw", 0.5), PrintColumn("Waiver", 1.3),
    PrintColumn("For [$]", 1, True), PrintColumn("", 0.8), PrintColumn("Note", 2),
)  # fmt: skip
WALK = (
    PrintColumn("Code", 0.8), PrintColumn("Work", 1.8), PrintColumn("Where to look", 1.8),
    PrintColumn("In place", 1.4, True), PrintColumn("Claimed [%]", 0.8, True),
    PrintColumn("Passed, may be covered up; picture before", 2.4),
    PrintColumn("Inspector [%]", 0.9, True), PrintColumn("Note", 1.0),
)  # fmt: skip


def money(cents: int) -> str:
    """Return cents as a column of dollars has them.

    Examples
    --------
    >>> money(-123450)
    '-1,234.50'
    """
    return cents_money(cents).replace("$", "")


def figure_rows(figures: Iterable[CoverFigure]) -> Iterator[PrintRow]:
    """Yield figures of the cover."""
    for one in figures:
        yield PrintRow((one.label, money(one.cents)), STRONG if one.is_result else PLAIN)


def line_rows(request: DrawRequest) -> Iterator[PrintRow]:
    """Yield the lines and their total."""
    for line in request.lines:
        figures, state = line.figures, line.figures.state
        yield PrintRow((
            line.line, line.name, money(state.scheduled_cents), money(state.change_cents),
            money(state.revised_cents), money(state.done_before_cents),
            money(figures.done_this_period_cents), money(figures.stored_cents),
            money(figures.done_and_stored_cents), share_text(figures),
            money(figures.retainage_cents), money(figures.earned_cents),
            money(figures.balance_to_finish_cents),
        ))  # fmt: skip
    names = ("scheduled", "change", "revised", "done_before", "done_this_period", "stored",
             "done_and_stored", "", "retainage", "earned", "balance_to_finish")  # fmt: skip
    sums = [money(request.sum_cents(f"{name}_cents")) if name else "" for name in names]
    yield PrintRow(("", "The whole job", *sums), TOTAL)


def beside_rows(request: DrawRequest) -> Iterator[PrintRow]:
    """Yield what stands beside the lines, and its total."""
    sums = [0] * 9
    for line in request.lines:
        figures = _beside(line)
        sums = [before + own for before, own in zip(sums, figures, strict=True)]
        shown = (line.line, line.basis, f"{line.figures.state.percent:f}")
        yield PrintRow((*shown, *map(money, figures), line.cut_reason))
    yield PrintRow(("", "", "", *map(money, sums), ""), TOTAL)


def _beside(line: RequestLine) -> tuple[int, ...]:
    billed = line.figures.billed_cents
    return (
        billed, billed - line.unbacked_cents, line.unbacked_cents,
        line.earned_cents, line.incurred_cents, line.paid_cents,
        line.earned_cents - line.incurred_cents, line.incurred_cents - line.paid_cents,
        line.cut_cents,
    )  # fmt: skip


def backup_rows(request: DrawRequest) -> Iterator[PrintRow]:
    """Yield the entries behind each line, with the sum of the line and of all."""
    names = {one.line: one.name for one in request.lines}
    for line, parts in groupby(request.backup, key=lambda one: one.line):
        own = list(parts)
        yield PrintRow((f"Line {line} {names[line]}", *[""] * 10), GROUP)
        yield from map(_part_row, own)
        yield _sum_row(f"Line {line}", own, STRONG)
    yield _sum_row("All lines", request.backup, TOTAL)


def _part_row(part: BackupPart) -> PrintRow:
    left = part.entry_cents - part.drawn_before_cents - part.cents
    return PrintRow((
        str(part.row), part.happened.isoformat(), part.what, part.vendor, part.document,
        money(part.entry_cents), money(part.drawn_before_cents), money(part.cents), money(left),
        money(part.paid_cents), proof_text(part.proof),
    ))  # fmt: skip


def _sum_row(words: str, parts: Sequence[BackupPart], manner: str) -> PrintRow:
    drawn = money(sum(one.cents for one in parts))
    return PrintRow(("", "", "", words, "", "", "", drawn, "", "", ""), manner)


def payee_rows(request: DrawRequest) -> Iterator[PrintRow]:
    """Yield who gets which part of what is billed, and the sum."""
    for one in request.payees:
        cells = (money(one.cents), rows_text(one.rows), proof_text(one.proof))
        yield PrintRow((one.name, one.way, *cells))
    yield PrintRow(("All payees", "", money(sum(one.cents for one in request.payees)), "", ""),
                   TOTAL)  # fmt: skip


def evidence_rows(request: DrawRequest) -> Iterator[PrintRow]:
    """Yield the papers that the lender wants to see."""
    for one in request.evidence:
        days = (day.isoformat() if day else "" for day in (one.issued, one.expires))
        yield PrintRow((one.kind, one.state, one.note, *days))


def stored_rows(request: DrawRequest) -> Iterator[PrintRow]:
    """Yield what is stored and not yet built in."""
    for one in request.stored:
        yield PrintRow((str(one.row), one.line, money(one.cents), one.place))


def left_out_rows(request: DrawRequest) -> Iterator[PrintRow]:
    """Yield entries that the draw does not ask for."""
    for one in request.left_out:
        yield PrintRow((str(one.row), money(one.cents), one.reason))


def approved_change_rows(request: DrawRequest) -> Iterator[PrintRow]:
    """Yield approved changes and transfers by line, and their sum."""
    for one in request.changes:
        day = one.happened.isoformat()
        yield PrintRow((str(one.row), day, one.line, one.reason, money(one.cents)))
    whole = money(sum(one.cents for one in request.changes))
    yield PrintRow(("", "", "", "All changes", whole), TOTAL)


def waiver_rows(request: DrawRequest) -> Iterator[PrintRow]:
    """Yield the lien waivers that are due."""
    for one in request.waivers:
        cells = (str(one.draw), waiver_kind(one), money(one.cents), one.state, one.note)
        yield PrintRow((one.payee, *cells))


def walk_rows(request: DrawRequest) -> Iterator[PrintRow]:
    """Yield what the inspector looks at, line by line, with a blank for their figure."""
    for line in request.lines:
        codes = claimed_codes(line)
        if not codes:
            continue
        percent = f"{line.figures.state.percent:f}"
        yield PrintRow((f"Line {line.line} {line.name}", "", "", "", percent, "", "", ""), GROUP)
        for code in codes:
            expected = counted(f"{code.expected:,f}", code.unit)
            in_place = f"{code.quantity:,f} of {expected}".rstrip()
            yield PrintRow((
                code.code, code.name, code.where, in_place, f"{code.percent:f}",
                "; ".join(code.covered), BLANK, BLANK,
            ))  # fmt: skip


def balance_rows(balance: LoanBalance) -> Iterator[PrintRow]:
    """Yield sources and uses line by line, their sums, and what is over or short."""
    for side, title in ((SOURCE, "Sources"), (USE, "Uses")):
        for one in balance.lines:
            if one.side == side:
                yield PrintRow((one.name, money(one.p50_cents), money(one.p80_cents)))
        yield PrintRow((title, *map(money, balance.sums(side))), STRONG)
    yield PrintRow(("Sources less uses", *map(money, balance.surplus_cents)), TOTAL)
