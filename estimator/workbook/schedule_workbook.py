"""The dates of a job as a workbook: bars in cells, and the dates with a chart."""

from __future__ import annotations

from datetime import date

from estimator.money import exact_arithmetic
from estimator.scheduling.job_bars import JobBars
from estimator.workbook.sheets import bars_sheet, dates_sheet
from estimator.workbook.writing.book import DIGEST_SHOWN, Book, PageSetup


@exact_arithmetic
def schedule_bytes(bars: JobBars, on: date, digest: str) -> bytes:
    """Return the workbook as the bytes of a file; the same dates give the same bytes.

    Parameters
    ----------
    bars : JobBars
        From `bars_of`.
    on : date
        The pricing date of the estimate.
    digest : str
        Of the estimate.

    Raises
    ------
    WorkbookRefused
        If the rows are more than a sheet holds.

    Notes
    -----
    Texts of the scope and the tables are written as text, whatever they look like.
    """
    book = Book((bars_sheet.TITLE, dates_sheet.TITLE))
    middle = f"Rates of {on:%Y-%m-%d}, digest {digest[:DIGEST_SHOWN]}"
    bars_sheet.write_bars(book, bars, PageSetup(True, bars.project, middle))
    dates_sheet.write_dates(book, bars, PageSetup(False, bars.project, middle))
    book.workbook.properties.title = f"Schedule of {on:%Y-%m-%d}"
    return book.content(on)
