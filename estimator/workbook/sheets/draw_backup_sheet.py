"""The sheets that a draw's lines rest on: entries of the books, and approved changes, by line."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby

from estimator.funding.draw_package import proof_text
from estimator.funding.draw_requests import BackupPart, DrawRequest, LineChange
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE, CHANGES_TITLE = "Backup", "Changes"
COLUMNS = (
    Column("Row", 8), Column("Day", 11, True), Column("What", 10), Column("Vendor", 28),
    Column("Document", 16), Column("Share of\nthe line [$]", 13, True),
    Column("Drawn before\n[$]", 13, True), Column("Drawn now\n[$]", 13, True),
    Column("Left\n[$]", 13, True), Column("Paid\n[$]", 13, True), Column("Proof of payment", 32),
)  # fmt: skip
NOTE = (
    "What this draw takes of each entry in the books, line by line; all draws together never "
    "take more than the entry. The sheet Lines adds these up."
)
CHANGE_COLUMNS = (
    Column("Row", 8), Column("Approved", 11, True), Column("Reason", 60),
    Column("Amount\n[$]", 14, True),
)  # fmt: skip
CHANGE_NOTE = (
    "Approved changes and transfers since the schedule was frozen, line by line. The sheet Lines "
    "adds these up."
)
_BEARS, _BEFORE, _NOW, _LEFT, _PAID, _PROOF = range(6, 12)
_AMOUNT = 4


def write_backup(book: Book, request: DrawRequest, page: PageSetup) -> Mapping[str, str]:
    """Write the sheet and return where the sum of each line stands; that of all under no name."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.top(TITLE, NOTE)
    names = {one.line: one.name for one in request.lines}
    sums: dict[str, int] = {}
    for line, parts in groupby(request.backup, key=lambda one: one.line):
        pen.over(1, len(COLUMNS), f"Line {line} {names[line]}", "strong")
        pen.down()
        sums[line] = _write_parts(pen, line, list(parts))
    whole = sum(one.cents for one in request.backup)
    return _placed(pen, _NOW, sums, whole, page)


def _write_parts(pen: SheetPen, line: str, parts: Sequence[BackupPart]) -> int:
    first = pen.row
    for part in parts:
        _write_part(pen, part)
    return _write_sum(pen, _NOW, line, first, sum(one.cents for one in parts))


def _write_part(pen: SheetPen, part: BackupPart) -> None:
    pen.number(1, part.row, "plain number")
    pen.number(2, part.happened, "plain day")
    for column, words in enumerate((part.what, part.vendor, part.document), start=3):
        pen.text(column, words)
    sums = (part.entry_cents, part.drawn_before_cents, part.cents)
    for column, cents in enumerate(sums, start=_BEARS):
        pen.number(column, cents / 100, "plain money")
    left = sums[0] - sums[1] - sums[2]
    at = pen.at
    formula = f"ROUND({at(_BEARS)}-{at(_BEFORE)}-{at(_NOW)},2)"
    pen.formula(_LEFT, formula, left / 100, "plain money")
    pen.number(_PAID, part.paid_cents / 100, "plain money")
    pen.text(_PROOF, proof_text(part.proof))
    pen.down()


def write_changes(book: Book, request: DrawRequest, page: PageSetup) -> Mapping[str, str]:
    """Write the sheet and return where the sum of each line stands; that of all under no name."""
    pen = SheetPen(book, CHANGES_TITLE, CHANGE_COLUMNS)
    pen.top(CHANGES_TITLE, CHANGE_NOTE)
    sums: dict[str, int] = {}
    for line in request.lines:
        own = [one for one in request.changes if one.line == line.line]
        if own:
            pen.over(1, len(CHANGE_COLUMNS), f"Line {line.line} {line.name}", "strong")
            pen.down()
            sums[line.line] = _write_line_changes(pen, line.line, own)
    whole = sum(one.cents for one in request.changes)
    return _placed(pen, _AMOUNT, sums, whole, page)


def _write_line_changes(pen: SheetPen, line: str, changes: Iterable[LineChange]) -> int:
    first, whole = pen.row, 0
    for one in changes:
        pen.number(1, one.row, "plain number")
        pen.number(2, one.happened, "plain day")
        pen.text(3, one.reason)
        pen.number(_AMOUNT, one.cents / 100, "plain money")
        whole += one.cents
        pen.down()
    return _write_sum(pen, _AMOUNT, line, first, whole)


def _write_sum(pen: SheetPen, column: int, line: str, first: int, cents: int) -> int:
    """Write the sum of the rows of a line, and return its row."""
    pen.text(column - 1, f"Line {line}", "band")
    pen.sum(column, first, cents / 100, "band money")
    pen.fill("band")
    pen.down()
    pen.settle()
    return pen.row - 1


def _placed(
    pen: SheetPen, column: int, sums: Mapping[str, int], cents: int, page: PageSetup
) -> Mapping[str, str]:
    parts = "+".join(pen.at(column, row) for row in sums.values()) or "0"
    pen.text(column - 1, "All lines", "total")
    pen.formula(column, f"ROUND({parts},2)", cents / 100, "total money")
    pen.fill("total")
    placed = {line: pen.from_elsewhere(column, row) for line, row in sums.items()}
    placed[""] = pen.from_elsewhere(column)
    pen.finish(page)
    return placed
