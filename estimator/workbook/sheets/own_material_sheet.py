"""The sheet of own material: recovered, had before, used, sold and left, each counted once."""

from __future__ import annotations

from estimator.pricing.printed_estimate import PrintedEstimate
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Own material"
COLUMNS = (
    Column("Material", 40),
    Column("Unit", 8),
    Column("Recovered", 13, True),
    Column("Had before", 13, True),
    Column("Used", 13, True),
    Column("Sold", 13, True),
    Column("Left", 13, True),
    Column("Short", 13, True),
    Column("Bought in its place", 30),
    Column("Worth\n[$ per unit]", 12, True),
)
_LEFT = 7
NOTE = (
    "Left = recovered + had before - used - sold. What the job recovers is paid for where it is "
    "taken up; reusing it costs nothing more. What you had before counts at its worth, as unpaid "
    "value. Anything used beyond both has to be bought."
)


def write_own_material(book: Book, estimate: PrintedEstimate, page: PageSetup) -> None:
    """Write the sheet."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.top(TITLE, NOTE)
    for one in estimate.own_material:
        style = f"plain quantity {max(-int(one.recovered.as_tuple().exponent), 0)}"
        pen.text(1, one.name)
        pen.text(2, one.unit)
        for column, amount in enumerate((one.recovered, one.before, one.used, one.sold), start=3):
            pen.number(column, float(amount), style)
        left = f"{pen.at(3)}+{pen.at(4)}-{pen.at(5)}-{pen.at(6)}"
        pen.formula(_LEFT, f"ROUND({left},4)", float(one.left), style)
        pen.number(8, float(one.short) if one.short else None, style)
        pen.text(9, one.bought_as if one.short else "")
        pen.number(10, float(one.value), "plain rate")
        pen.down()
    pen.finish(page)
