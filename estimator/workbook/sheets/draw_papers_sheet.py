"""The sheets of a draw besides its figures: payees, evidence, waivers, and the walk sheet."""

from __future__ import annotations

from collections.abc import Iterable

from estimator.funding.draw_package import (
    NOT_BEGUN,
    claimed_codes,
    proof_text,
    rows_text,
    waiver_kind,
)
from estimator.funding.draw_requests import MISSING, CodeProgress, DrawRequest
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

PAYEES, EVIDENCE, WAIVERS, WALK = "Payees", "Evidence", "Waivers", "Walk"
_PAYEES = (
    Column("Payee", 34), Column("How", 20), Column("Before retainage\n[$]", 16, True),
    Column("Rows", 24), Column("Proof of payment", 44),
)  # fmt: skip
_EVIDENCE = (
    Column("Paper", 22), Column("", 11), Column("Which", 46), Column("Issued", 12, True),
    Column("Valid\nthrough", 12, True),
)  # fmt: skip
_WAIVERS = (
    Column("Payee", 34), Column("Draw", 7, True), Column("Waiver", 24),
    Column("For\n[$]", 14, True), Column("", 12), Column("Note", 40),
)  # fmt: skip
_WALK = (
    Column("Code", 11), Column("Work", 27), Column("Where to look", 28),
    Column("In place", 11, True), Column("Of", 11, True), Column("Unit", 7),
    Column("Claimed\n[%]", 9, True), Column("Passed, may be covered up;\npicture before", 34),
    Column("Inspector\n[%]", 11, True), Column("Note", 18),
)  # fmt: skip


def write_payees(book: Book, request: DrawRequest, page: PageSetup) -> str:
    """Write the sheet of payees and return where its sum stands."""
    pen = SheetPen(book, PAYEES, _PAYEES)
    pen.top(PAYEES, "Who gets how much of what is billed, before retainage.")
    first = pen.row
    for one in request.payees:
        pen.text(1, one.name)
        pen.text(2, one.way)
        pen.number(3, one.cents / 100, "plain money")
        pen.text(4, rows_text(one.rows))
        pen.text(5, proof_text(one.proof))
        pen.down()
    _none(pen, request.payees)
    pen.text(1, "All payees", "total")
    pen.sum(3, first, sum(one.cents for one in request.payees) / 100, "total money")
    pen.fill("total")
    placed = pen.from_elsewhere(3)
    pen.finish(page)
    return placed


def write_evidence(book: Book, request: DrawRequest, page: PageSetup) -> None:
    """Write the sheet of papers, of stored material, and of entries that are not requested."""
    pen = SheetPen(book, EVIDENCE, _EVIDENCE)
    pen.top(
        EVIDENCE,
        "Papers the terms ask for, and whether they are there on the last day of the draw.",
    )
    for one in request.evidence:
        for column, words in enumerate((one.kind, one.state, one.note), start=1):
            pen.text(column, words)
        pen.number(4, one.issued, "plain day")
        pen.number(5, one.expires, "plain day")
        pen.down()
    _none(pen, request.evidence)
    stored = [(f"row {one.row}, line {one.line}", one.place, one.cents) for one in request.stored]
    left = [(f"row {one.row}", one.reason, one.cents) for one in request.left_out]
    for title, rows in (
        ("Stored material and deposits", stored),
        ("Entries that this draw leaves out", left),
    ):
        _write_amounts(pen, title, rows)
    pen.finish(page)


def _write_amounts(pen: SheetPen, title: str, rows: list[tuple[str, str, int]]) -> None:
    if rows:
        pen.section(title, ["Entry", "", "", "[$]", ""])
    for entry, words, cents in rows:
        pen.text(1, entry)
        pen.over(2, 3, words)
        pen.number(4, cents / 100, "plain money")
        pen.fill("plain")
        pen.down()


def write_waivers(book: Book, request: DrawRequest, page: PageSetup) -> None:
    """Write the sheet of lien waivers that are due."""
    pen = SheetPen(book, WAIVERS, _WAIVERS)
    pen.top(
        WAIVERS,
        "Waivers due with this draw. State law may set their form: ask the lender or a lawyer "
        "for it.",
    )
    for one in request.waivers:
        pen.text(1, one.payee)
        pen.number(2, one.draw, "plain number")
        pen.text(3, waiver_kind(one))
        pen.number(4, one.cents / 100, "plain money")
        pen.text(5, one.state, "warning" if one.state == MISSING else "plain")
        pen.text(6, one.note)
        pen.down()
    _none(pen, request.waivers)
    pen.finish(page)


def write_walk(book: Book, request: DrawRequest, page: PageSetup) -> None:
    """Write the walk sheet for the inspector, with cells for their figure."""
    pen = SheetPen(book, WALK, _WALK)
    pen.top(
        WALK,
        "For the inspector: what is claimed, where to look, and room for the figure on site. "
        f"Post it as the inspector's, and the next version of the draw follows it. {NOT_BEGUN}",
    )
    for line in request.lines:
        codes = claimed_codes(line)
        if codes:
            pen.over(1, 6, f"Line {line.line} {line.name}", "strong")
            pen.number(7, float(line.figures.state.percent), "strong quantity 2")
            pen.fill("strong")
            pen.down()
        for code in codes:
            _write_code(pen, code)
    for words in (*request.holds, *request.differences):
        pen.across(words, "warning")
    pen.finish(page)


def _write_code(pen: SheetPen, code: CodeProgress) -> None:
    for column, words in enumerate((code.code, code.name, code.where), start=1):
        pen.text(column, words)
    pen.number(4, float(code.quantity), "plain quantity 2")
    pen.number(5, float(code.expected), "plain quantity 2")
    pen.text(6, code.unit)
    pen.number(7, float(code.percent), "plain quantity 2")
    pen.text(8, "\n".join(code.covered))
    pen.number(9, None, "input quantity 2")
    pen.number(10, None, "input")
    pen.down()


def _none(pen: SheetPen, rows: Iterable[object]) -> None:
    if not rows:
        pen.text(1, "none")
        pen.down()
