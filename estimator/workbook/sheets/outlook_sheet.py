"""The sheet of the outlook: how sure the forecast is, and when the rest is done."""

from __future__ import annotations

from collections.abc import Mapping

from estimator.tracking.job_outlook import Outlook
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Outlook"
NOTE = (
    "P50 and P80 of the cost at completion: the chance of staying within them is 50 % and 80 %. "
    "Each phase has its own, and they do not add up."
)
COLUMNS = (
    Column("Code", 12), Column("Work", 40), Column("P50\n[$]", 15, True),
    Column("P80\n[$]", 15, True), Column("Done by", 12, True), Column("Planned", 12, True),
)  # fmt: skip


def write_outlook(book: Book, outlook: Outlook, names: Mapping[str, str], page: PageSetup) -> None:
    """Write the sheet.

    Parameters
    ----------
    book : Book
        The workbook.
    outlook : Outlook
        Where the job is going.
    names : mapping of str to str
        Of phases and codes.
    page : PageSetup
        How it prints.
    """
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.top("Outlook", NOTE)
    cost = outlook.cost
    for phase, (p50, p80) in cost.by_phase.items():
        pen.text(1, phase, "strong")
        pen.text(2, names.get(phase) or "Markups")
        pen.number(3, p50 / 100, "plain money")
        pen.number(4, p80 / 100, "plain money")
        pen.down()
    pen.over(1, 2, "The whole job", "total")
    pen.fill("total")
    pen.number(3, cost.p50_cents / 100, "total money")
    pen.number(4, cost.p80_cents / 100, "total money")
    pen.down(2)
    for words in (*cost.statements, outlook.all_done):
        pen.across(words)
    pen.down()
    for one in outlook.finishes:
        pen.text(1, one.code, "strong")
        pen.text(2, names.get(one.code, ""))
        if one.done_by is not None:
            pen.number(5, one.done_by, "plain day")
        else:
            pen.text(5, "unknown")
        if one.planned is not None:
            pen.number(6, one.planned, "plain day")
        pen.down()
    pen.finish(page)
