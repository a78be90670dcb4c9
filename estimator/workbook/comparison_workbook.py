"""A comparison of methods as a workbook: the table, the curve and the inputs."""

from __future__ import annotations

from pathlib import Path

from estimator.money import exact_arithmetic
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.findings import Findings
from estimator.workbook.sheets import curve_sheet, map_sheet, method_inputs_sheet, methods_sheet
from estimator.workbook.writing.book import Book, PageSetup
from estimator.written_files import write_files


def write_comparison(
    comparison: Comparison, findings: Findings, path: Path, *, force: bool = False
) -> None:
    """Write a comparison as a workbook; the same comparison gives the same bytes.

    Parameters
    ----------
    comparison : Comparison
        The methods, priced.
    findings : Findings
        The request it answers.
    path : Path
        The file; its folder must exist. One that the program wrote before is replaced once the new
        one is whole, and stays as it was if anything fails.
    force : bool
        Whether to write over a file that the program did not make, or that was changed since.

    Raises
    ------
    FileNotWritten
        If the file cannot be written.
    WorkbookRefused
        If a text is longer than a cell holds.

    Notes
    -----
    Texts of the scope and the tables are written as text, whatever they look like.
    """
    write_files({path: comparison_bytes(comparison, findings)}, force=force)


@exact_arithmetic
def comparison_bytes(comparison: Comparison, findings: Findings) -> bytes:
    """Return the workbook of a comparison as the bytes of a file."""
    titles = [methods_sheet.TITLE, method_inputs_sheet.TITLE]
    if findings.cost_map is not None:
        titles.insert(1, map_sheet.TITLE)
    elif findings.curves is not None:
        titles.insert(1, curve_sheet.TITLE)
    book = Book(titles)
    middle = f"Item {comparison.item.code}, rates of {comparison.on:%Y-%m-%d}"
    page = PageSetup(is_wide=True, left=comparison.project, middle=middle)
    methods_sheet.write_methods(book, comparison, findings, page)
    if findings.cost_map is not None:
        map_sheet.write_map(book, comparison, findings.cost_map, page)
    elif findings.curves is not None:
        curve_sheet.write_curve(book, comparison, findings.curves, findings.cheapest[0], page)
    method_inputs_sheet.write_method_inputs(book, comparison, page)
    book.workbook.calculation.fullCalcOnLoad = True
    book.workbook.properties.title = f"Methods of item {comparison.item.code}"
    return book.content(comparison.on)
