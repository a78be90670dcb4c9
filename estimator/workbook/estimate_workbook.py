"""The printed estimate as a workbook with live formulas, laid out for paper.

Six sheets: summary, items, cost lines, rates, cautions, assumptions; one more where own material is
used or recovered. A rate stands once, on the
sheet of rates; lines refer to it, items sum lines, phases sum items, the summary sums phases and
takes the markups. Each formula carries the value it comes to, so that a viewer that does not
calculate shows the same cents.
"""

from __future__ import annotations

from pathlib import Path

from estimator.money import exact_arithmetic
from estimator.pricing.estimate import Estimate
from estimator.pricing.printed_estimate import PrintedEstimate, printed_estimate
from estimator.studies.risk.job_risk import JobRisk
from estimator.workbook.sheets import (
    basis_sheet,
    caution_sheet,
    cost_line_sheet,
    items_sheet,
    own_material_sheet,
    rates_sheet,
    risk_sheet,
    summary_sheet,
)
from estimator.workbook.writing.book import DIGEST_SHOWN, Book, PageSetup
from estimator.written_files import write_files

SHEETS = (
    summary_sheet.TITLE,
    items_sheet.TITLE,
    cost_line_sheet.TITLE,
    rates_sheet.TITLE,
    caution_sheet.TITLE,
    basis_sheet.TITLE,
)


def write_estimate(
    estimate: Estimate, path: Path, risk: JobRisk | None = None, *, force: bool = False
) -> None:
    """Write an estimate as a workbook; the same estimate gives the same bytes.

    Parameters
    ----------
    estimate : Estimate
        From `price`.
    path : Path
        The file; its folder must exist. One that the program wrote before is replaced once the new
        one is whole, and stays as it was if anything fails.
    risk : JobRisk or None
        How sure it is, on a sheet of its own.
    force : bool
        Whether to write over a file that the program did not make, or that was changed since.

    Raises
    ------
    FileNotWritten
        If the file cannot or may not be written.
    WorkbookRefused
        If a text is longer than a cell holds, or the lines are more
        than a sheet holds.

    Notes
    -----
    Texts of the scope and the tables are written as text, whatever they look like.
    """
    write_files({path: estimate_bytes(estimate, risk)}, force=force)


def estimate_bytes(estimate: Estimate, risk: JobRisk | None = None) -> bytes:
    """Return the workbook of an estimate as the bytes of a file."""
    return printed_bytes(printed_estimate(estimate), risk)


@exact_arithmetic
def printed_bytes(estimate: PrintedEstimate, risk: JobRisk | None = None) -> bytes:
    """Return the workbook of an estimate as it was printed once, as the bytes of a file."""
    titles = list(SHEETS)
    if estimate.own_material:
        titles.insert(titles.index(rates_sheet.TITLE), own_material_sheet.TITLE)
    if risk is not None:
        titles.insert(1, risk_sheet.TITLE)
    book = Book(titles)
    wide, upright = _page(estimate, is_wide=True), _page(estimate, is_wide=False)
    rates = rates_sheet.write_rates(book, estimate, wide)
    lines = cost_line_sheet.write_cost_lines(book, estimate, rates, wide)
    items = items_sheet.write_items(book, estimate, lines, wide)
    summary_sheet.write_summary(book, estimate, lines, items, upright)
    if estimate.own_material:
        own_material_sheet.write_own_material(book, estimate, wide)
    caution_sheet.write_cautions(book, estimate, wide)
    basis_sheet.write_basis(book, estimate, upright)
    if risk is not None:
        risk_sheet.write_risk(book, risk, upright)
    book.workbook.calculation.fullCalcOnLoad = True
    book.workbook.properties.title = f"Estimate of {estimate.on:%Y-%m-%d}"
    return book.content(estimate.on)


def _page(estimate: PrintedEstimate, *, is_wide: bool) -> PageSetup:
    digest = estimate.digest[:DIGEST_SHOWN]
    middle = f"Rates of {estimate.on:%Y-%m-%d}, digest {digest}"
    return PageSetup(is_wide, estimate.project, middle)
