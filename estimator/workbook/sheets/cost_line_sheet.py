"""The sheet of cost lines: under each item what it needs, orders and pays, line by line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby
from operator import attrgetter

from estimator.money import RATE_DECIMALS
from estimator.pricing.cost_line import CostLine, line_sums
from estimator.pricing.own_material import FROM_THE_JOB
from estimator.pricing.printed_estimate import PrintedEstimate, PrintedItem
from estimator.quantity.units import counted
from estimator.workbook.sheets.rates_sheet import RatesPlaced
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Cost lines"
COLUMNS = (
    Column("Cost code\n/ line", 11),
    Column("Resource", 46),
    Column("Kind", 12),
    Column("Net need", 12, True),
    Column("Waste", 11, True),
    Column("Left over", 11, True),
    Column("Ordered", 13, True),
    Column("Unit", 8),
    Column("Rate\n[$ per unit]", 12, True),
    Column("Rate\nno.", 6, True),
    Column("Cash\n[$]", 15, True),
    Column("Unpaid value\n[$]", 14, True),
)
SALES_COLUMN = Column("Sale\n[$]", 13, True)
_KIND, _NET, _LEFT_OVER, _ORDERED, _RATE, _CASH, _OWN, _SALE = 3, 4, 6, 7, 9, 11, 12, 13
NOTE = (
    "Ordered = net need + waste + left over; left over is what whole loads, half yards or a "
    "minimum charge bring beyond the need. Amount = ordered x rate, rounded half-up to the cent "
    "on each line. Unpaid value is the owner's unpaid labor and own "
    "material: no cash. Rate no. is the number of the rate on the sheet Rates. Each shaded row "
    "sums the lines below."
)
SALES_NOTE = " Sale is what salvage is sold for: a source of money, which reduces no cost."


@dataclass(frozen=True)
class LinesPlaced:
    """Addresses for other sheets: sums of each item, and the columns of kind, cash and sales."""

    cash_of_items: Sequence[str]
    own_of_items: Sequence[str]
    kinds: str
    cash: str
    sales: str


def write_cost_lines(
    book: Book, estimate: PrintedEstimate, rates: RatesPlaced, page: PageSetup
) -> LinesPlaced:
    """Write the sheet and return where its sums stand."""
    has_sales = any(line.is_sale for line in estimate.lines)
    pen = SheetPen(book, TITLE, (*COLUMNS, SALES_COLUMN) if has_sales else COLUMNS)
    pen.top(TITLE, NOTE + SALES_NOTE if has_sales else NOTE)
    first_row = pen.row
    cash_of_items, own_of_items = [], []
    lines_of = {code: list(lines) for code, lines in groupby(estimate.lines, attrgetter("item"))}
    for item in estimate.items:
        lines = lines_of.get(item.item, [])
        _write_item(pen, item, lines)
        cash_of_items.append(pen.from_elsewhere(_CASH))
        own_of_items.append(pen.from_elsewhere(_OWN))
        pen.down()
        for line in lines:
            _write_line(pen, line, rates)
            pen.down()
        pen.settle()
    pen.finish(page)
    kinds, cash = (pen.column_from_elsewhere(one, first_row) for one in (_KIND, _CASH))
    sales = pen.column_from_elsewhere(_SALE, first_row) if has_sales else ""
    return LinesPlaced(cash_of_items, own_of_items, kinds, cash, sales)


def _write_item(pen: SheetPen, item: PrintedItem, lines: Sequence[CostLine]) -> None:
    """Write the row of an item, which sums the lines that follow it."""
    pen.text(1, item.item, "band")
    pen.text(2, f"{item.name}: {counted(f'{item.quantity:,f}', item.unit)}", "band")
    first, last = pen.row + 1, pen.row + len(lines)
    for column, cents in zip((_CASH, _OWN), line_sums(lines)[:2], strict=True):
        if not lines:  # a sum would take in its own cell
            pen.number(column, 0.0, "band money")
            continue
        total = f"ROUND(SUM({pen.at(column, first)}:{pen.at(column, last)}),2)"
        pen.formula(column, total, cents / 100, "band money")
    pen.fill("band")


def _write_line(pen: SheetPen, line: CostLine, rates: RatesPlaced) -> None:
    quantity = f"plain quantity {line.decimals}"
    scale = 10**line.decimals
    pen.text(1, f"{line.item}/{line.line}")
    pen.text(2, line.name)
    pen.text(_KIND, line.kind)
    pen.number(_NET, line.net / scale, quantity)
    pen.number(5, line.waste / scale, quantity)
    pen.number(_LEFT_OVER, line.left_over / scale, quantity)
    parts = f"SUM({pen.at(_NET)}:{pen.at(_LEFT_OVER)})"
    pen.formula(_ORDERED, f"ROUND({parts},{line.decimals})", line.ordered / scale, quantity)
    pen.text(8, line.unit)
    key = line.resource, line.rate, line.source
    if line.source == FROM_THE_JOB:
        pen.number(_RATE, 0, "plain rate")
    else:
        rate = line.rate / 10**RATE_DECIMALS
        pen.formula(_RATE, rates.addresses[key], rate, "plain rate")
    number = rates.numbers.get(key, rates.of_resource.get(line.resource))
    pen.number(10, number, "plain number")
    sign = "-" if line.sign < 0 else ""
    amount = f"{sign}ROUND({pen.at(_ORDERED)}*{pen.at(_RATE)},2)"
    column = _SALE if line.is_sale else _CASH if line.is_paid else _OWN
    pen.formula(column, amount, line.cents / 100, "plain money")
    pen.fill("plain money")
