"""Where a job stands, as a workbook: estimate against actual, and sheets to fill in.

The sheet of items adds up the ledger by live formulas, each with the value it comes to. The last
sheets are for typing in entries without a connection; `groundsill books import` reads them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from estimator.money import exact_arithmetic
from estimator.tracking.books import Books
from estimator.tracking.job_outlook import Outlook
from estimator.tracking.job_track import Track
from estimator.tracking.ledger_lines import SettledRow, lines_of_ledger
from estimator.tracking.measured_points import point_courses
from estimator.tracking.monthly_movements import MonthMovement
from estimator.tracking.weekly_course import WeekPoint
from estimator.workbook.entries.entry_layouts import ENTRY_SHEETS
from estimator.workbook.entries.entry_sheets import LISTS, write_entry_sheets
from estimator.workbook.entries.ledger_names import LedgerNames
from estimator.workbook.sheets import (
    attention_sheet,
    course_sheet,
    ledger_sheet,
    months_sheet,
    outlook_sheet,
    points_sheet,
    track_groups_sheet,
    track_items_sheet,
    track_measures_sheet,
)
from estimator.workbook.writing.book import Book, PageSetup

SHEETS = (
    attention_sheet.TITLE,
    track_items_sheet.TITLE,
    track_measures_sheet.TITLE,
    track_groups_sheet.TITLE,
    outlook_sheet.TITLE,
    course_sheet.TITLE,
    months_sheet.TITLE,
    points_sheet.TITLE,
    ledger_sheet.TITLE,
    *(one.title for one in ENTRY_SHEETS),
    LISTS,
)


@exact_arithmetic
def tracking_bytes(
    books: Books,
    ledger: Iterable[SettledRow],
    track: Track,
    course: tuple[WeekPoint, ...],
    name: str,
    outlook: Outlook | None = None,
    months: Sequence[MonthMovement] = (),
) -> bytes:
    """Return the workbook as the bytes of a file; the same report gives the same bytes.

    Parameters
    ----------
    books : Books
        The rows of the project; no payments, tickets, hours or progress are looked at, and of the
        costs none.
    ledger : iterable of rows, each with what is known of it
        See `settled_rows`; it is read once, row by row.
    track : Track
        Where the job stands.
    course : tuple of WeekPoint
        See `course_by_week`.
    name : str
        Of the project.
    outlook : Outlook or None
        Where the job is going; without it the workbook has no such sheet.
    months : sequence of MonthMovement
        See `movements_by_month`.

    Raises
    ------
    WorkbookRefused
        If a text is longer than a cell holds, or the lines are more than a sheet holds.
    """
    known = books.known(track.as_of, track.known_on)
    courses = point_courses(known.points, known.readings)
    empty = {outlook_sheet.TITLE: outlook is None, points_sheet.TITLE: not courses}
    book = Book([one for one in SHEETS if not empty.get(one)])
    wide = PageSetup(True, name, f"As of {track.as_of:%Y-%m-%d}")
    upright = PageSetup(False, name, wide.middle)
    names = LedgerNames()
    lines = lines_of_ledger(names.noted(ledger), track.rents)
    placed = ledger_sheet.write_ledger(book, lines, wide)
    hours = () if outlook is None else outlook.hours
    totals = track_items_sheet.write_track_items(book, track, placed, hours, wide)
    track_measures_sheet.write_measures(book, track, wide)
    track_groups_sheet.write_groups(book, track, placed, wide)
    attention_sheet.write_attention(book, track, totals, name, upright)
    if outlook is not None:
        outlook_sheet.write_outlook(book, outlook, _names(track), upright)
    course_sheet.write_course(book, course, upright)
    months_sheet.write_months(book, months, upright)
    if courses:
        points_sheet.write_points(book, courses, upright)
    write_entry_sheets(book, known, names, track.status, wide)
    book.workbook.calculation.fullCalcOnLoad = True
    book.workbook.properties.title = f"Tracking as of {track.as_of:%Y-%m-%d}"
    return book.content(track.as_of)


def _names(track: Track) -> dict[str, str]:
    phases = {one.code: one.name for one in track.status.by_phase()}
    return phases | {one.code: one.name for one in track.status.codes}
