"""A draw as a workbook with live formulas, laid out for paper.

The sheet of lines takes the sums of backup and changes, the cover those of the lines; two cells of
the cover must be zero. Each formula carries the value it comes to.
"""

from __future__ import annotations

from estimator.funding.draw_package import DrawPackage
from estimator.money import exact_arithmetic
from estimator.workbook.sheets import (
    draw_backup_sheet as backup_sheet,
)
from estimator.workbook.sheets import (
    draw_balance_sheet as balance_sheet,
)
from estimator.workbook.sheets import (
    draw_cover_sheet as cover_sheet,
)
from estimator.workbook.sheets import (
    draw_lines_sheet as lines_sheet,
)
from estimator.workbook.sheets import (
    draw_papers_sheet as papers_sheet,
)
from estimator.workbook.writing.book import Book, PageSetup

SHEETS = (
    cover_sheet.TITLE,
    lines_sheet.TITLE,
    backup_sheet.TITLE,
    papers_sheet.PAYEES,
    papers_sheet.EVIDENCE,
    backup_sheet.CHANGES_TITLE,
    papers_sheet.WAIVERS,
    papers_sheet.WALK,
)


@exact_arithmetic
def draw_bytes(package: DrawPackage) -> bytes:
    """Return a draw as the bytes of a workbook; the same draw gives the same bytes.

    Parameters
    ----------
    package : DrawPackage
        Any draw, also one that is open.

    Raises
    ------
    WorkbookRefused
        If a text is longer than a cell holds, or the entries are more than a sheet holds.
    """
    balance = package.balance
    titles = SHEETS if balance is None else (*SHEETS, balance_sheet.TITLE)
    request, book = package.request, Book(titles)
    left = f"{package.mark}: {request.project}" if package.mark else request.project
    wide, upright = (PageSetup(one, left, package.standing) for one in (True, False))
    backup = backup_sheet.write_backup(book, request, wide)
    changes = backup_sheet.write_changes(book, request, upright)
    totals = lines_sheet.write_lines(book, request, backup, changes, wide)
    payees = papers_sheet.write_payees(book, request, wide)
    cover_sheet.write_cover(book, package, totals, backup[""], payees, upright)
    papers_sheet.write_evidence(book, request, upright)
    papers_sheet.write_waivers(book, request, wide)
    papers_sheet.write_walk(book, request, wide)
    if balance is not None:
        balance_sheet.write_balance(book, balance, upright)
    book.workbook.calculation.fullCalcOnLoad = True
    book.workbook.properties.title = f"{package.title}, {request.through}"
    return book.content(request.through)
