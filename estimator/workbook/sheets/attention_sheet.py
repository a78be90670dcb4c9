"""The sheet that opens the workbook: where the job stands, and what needs attention."""

from __future__ import annotations

from collections.abc import Mapping

from estimator.tracking.job_track import Track
from estimator.workbook.sheets import track_items_sheet as items
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Attention"
COLUMNS = (
    Column("At stake\n[$]", 15, True),
    Column("Code", 13),
    Column("What needs attention", 84),
)
_SHOWN = (
    ("Budget as accepted", items.BASELINE), ("Approved changes", items.CHANGES),
    ("Budget", items.BUDGET), ("On order, with tax", items.ORDERED),
    ("Billed", items.BILLED), ("Accrued, not yet billed", items.ACCRUED),
    ("Incurred", items.INCURRED), ("Paid", items.PAID), ("Open", items.OPEN),
    ("Planned value", items.PLANNED), ("Earned value", items.EARNED),
    ("Cost variance", items.VARIANCE), ("Forecast at completion", items.FORECAST),
    ("Forecast over budget", items.OVER),
)  # fmt: skip


def write_attention(
    book: Book, track: Track, totals: Mapping[int, str], name: str, page: PageSetup
) -> None:
    """Write the sheet; its figures are those of the sheet of items."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.across(f"{name}, as of {track.as_of}", "title")
    figures = [items.code_figures(track, one) for one in track.status.codes]
    for words, column in _SHOWN:
        value = sum(one[column] for one in figures) / 100
        pen.formula(1, totals[column], value, "plain money")
        pen.over(2, 3, words)
        pen.down()
    pen.section("What needs attention, worst first", [one.heading for one in COLUMNS])
    for one in track.attention:
        pen.number(1, one.cents / 100 if one.cents else None, "plain money")
        pen.text(2, one.code, "strong")
        pen.text(3, one.sentence)
        pen.down()
    if not track.attention:
        pen.text(3, "nothing")
        pen.down()
    pen.finish(page)
