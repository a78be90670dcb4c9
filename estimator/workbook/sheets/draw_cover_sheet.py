"""The sheet that opens the workbook of a draw: what is requested, by which rules, and checks."""

from __future__ import annotations

from collections.abc import Mapping

from estimator.funding.draw_package import LENDERS_FORM, DrawPackage, cover_figures, split_figures
from estimator.funding.loan_rules import rules_of
from estimator.workbook.sheets import draw_lines_sheet as lines
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Cover"
COLUMNS = (Column("", 46), Column("[$]", 18, True), Column("", 46))
_RESULTS = {True: ("strong", "strong money"), False: ("plain", "plain money")}


def write_cover(
    book: Book,
    package: DrawPackage,
    totals: Mapping[int, str],
    backup: str,
    payees: str,
    page: PageSetup,
) -> None:
    """Write the sheet; its figures are sums of the other sheets.

    Parameters
    ----------
    book, package, page : Book, DrawPackage, PageSetup
        What is written, and how its page prints.
    totals : mapping of int to str
        Where the totals of the columns of lines stand.
    backup, payees : str
        Where the sums of backup and payees stand.
    """
    pen = SheetPen(book, TITLE, COLUMNS)
    _write_head(pen, package)
    requested = _write_figures(pen, package, totals)
    _write_split(pen, package, requested)
    _write_checks(pen, totals, backup, payees)
    for title, sentences in _lists(package):
        if sentences:
            pen.down()
            pen.across(title, "section")
        for words in sentences:
            pen.across(words, "plain")
    pen.finish(page)


def _write_head(pen: SheetPen, package: DrawPackage) -> None:
    request = package.request
    pen.across(f"{request.project}: {package.title}", "title")
    if package.mark:
        pen.across(package.mark, "warning")
    pen.across(f"{request.since} to {request.through}. Lender: {request.terms.lender}.", "strong")
    digest = f", digest {package.digest}" if package.digest else ": its figures may still move"
    pen.across(f"State: {package.state}{digest}.")
    pen.across(f"Entered by {request.known_on:%Y-%m-%d %H:%M} UTC.")
    pen.across(LENDERS_FORM)
    pen.down()
    pen.heading()


def _write_figures(pen: SheetPen, package: DrawPackage, totals: Mapping[int, str]) -> int:
    """Write what is requested and return its row."""
    first = pen.row
    formulas = [
        totals[lines.SCHEDULED], totals[lines.CHANGES], f"ROUND(B{first}+B{first + 1},2)",
        totals[lines.DONE], totals[lines.STORED], f"ROUND(B{first + 3}+B{first + 4},2)",
        f"-{totals[lines.HELD]}", f"ROUND(B{first + 5}+B{first + 6},2)", "",
        f"ROUND(B{first + 7}+B{first + 8},2)",
    ]  # fmt: skip
    for one, formula in zip(cover_figures(package.request), formulas, strict=True):
        _write_figure(pen, one.label, one.cents, formula, is_result=one.is_result)
    short = package.request.totals.short_funded_cents
    if short:
        pen.text(1, "of that, granted before and not funded")
        pen.number(2, short / 100, "plain money")
        pen.down()
    return first + len(formulas) - 1


def _write_split(pen: SheetPen, package: DrawPackage, requested: int) -> None:
    pen.section("Where the money comes from", ["", "[$]", ""])
    first = pen.row
    formulas = [
        "", "", f"-ROUND(B{requested}+B{first + 6},2)",
        f"ROUND(B{first}+B{first + 1}+B{first + 2},2)",
        "", "", "", f"ROUND(B{first + 4}+B{first + 5}+B{first + 6},2)",
    ]  # fmt: skip
    for one, formula in zip(split_figures(package.request), formulas, strict=True):
        _write_figure(pen, one.label, one.cents, formula, is_result=one.is_result)


def _write_checks(pen: SheetPen, totals: Mapping[int, str], backup: str, payees: str) -> None:
    pen.section("Checks: each must be zero", ["", "[$]", ""])
    receipts = f"ROUND({totals[lines.BACKED]}-{backup},2)"
    for label, formula in (
        ("Lines with receipts, less the backup", receipts),
        ("Backup, less the payees", f"ROUND({backup}-{payees},2)"),
    ):
        _write_figure(pen, label, 0, formula)


def _write_figure(
    pen: SheetPen, label: str, cents: int, formula: str, *, is_result: bool = False
) -> None:
    words, money = _RESULTS[is_result]
    pen.text(1, label, words)
    if formula:
        pen.formula(2, formula, cents / 100, money)
    else:
        pen.number(2, cents / 100, money)
    pen.down()


def _lists(package: DrawPackage) -> tuple[tuple[str, tuple[str, ...]], ...]:
    rules = tuple(
        f"{one.name}: {one.words}{' (default)' if one.is_default else ''}"
        for one in rules_of(package.request.terms)
    )
    return (
        ("Rules of the loan", rules),
        ("What became of it", package.steps),
        ("What the lender will ask about", package.notes),
    )
