"""The sheet of cautions: what can hurt somebody, who decides, and which work it belongs to."""

from __future__ import annotations

from collections.abc import Sequence

from estimator.pricing.printed_estimate import PrintedEstimate
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Cautions"
COLUMNS = (
    Column("No.", 5, True),
    Column("Caution", 66),
    Column("Who decides", 26),
    Column("Source", 32),
    Column("Applies to", 28),
)
NOTE = (
    "The usual cautions for this work, not all of them. Local codes and licensed people decide: an "
    "engineer about structure and shoring, a licensed contractor about asbestos and lead, a tax "
    "adviser about the credit, an attorney about contracts and liens. Nothing here replaces them."
)
MOST_CODES = 60


def write_cautions(book: Book, estimate: PrintedEstimate, page: PageSetup) -> None:
    """Write the sheet."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.top(TITLE, NOTE)
    for number, note in enumerate(estimate.cautions, start=1):
        pen.number(1, number, "plain number")
        pen.text(2, note.caution.caution)
        pen.text(3, note.caution.defer_to)
        pen.text(4, note.caution.source)
        pen.text(5, _codes(note.items))
        pen.down()
    if not estimate.cautions:
        pen.text(2, "No caution in the tables applies to the work of this scope.")
        pen.fill("plain")
        pen.down()
    pen.finish(page)


def _codes(items: Sequence[str]) -> str:
    listed = ", ".join(items[:MOST_CODES])
    more = len(items) - MOST_CODES
    return f"{listed} and {more:,} more" if more > 0 else listed
