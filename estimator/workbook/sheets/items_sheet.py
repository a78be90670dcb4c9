"""The sheet of items: each piece of work with its quantity and cost, phase by phase."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from estimator.money import round_to_cent
from estimator.pricing.printed_estimate import PrintedEstimate, PrintedItem, PrintedPhase
from estimator.workbook.sheets.cost_line_sheet import LinesPlaced
from estimator.workbook.writing.book import Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Items"
COLUMNS = (
    Column("Cost code", 10),
    Column("Work", 46),
    Column("Quantity", 12, True),
    Column("Unit", 8),
    Column("Cash per unit\n[$]", 14, True),
    Column("Cash\n[$]", 15, True),
    Column("Unpaid value\n[$]", 14, True),
    Column("Credit", 8),
    Column("Note", 40),
)
_QUANTITY, _UNIT, _CASH, _OWN, _CREDIT = 3, 4, 6, 7, 8
NOTE = (
    "Cash is what is paid, before markups. Unpaid value is the owner's unpaid labor and own "
    "material, in no cash, draw or credit. Credit says whether the work normally counts toward "
    "the rehabilitation tax credit (yes, no, ask); a tax adviser decides in each case."
)


@dataclass(frozen=True)
class ItemsPlaced:
    """Addresses for the summary: subtotals by phase, totals, and the columns of credit and cash."""

    cash_of_phases: Sequence[str]
    own_of_phases: Sequence[str]
    cash_total: str
    own_total: str
    credit: str
    cash: str


def write_items(
    book: Book, estimate: PrintedEstimate, lines: LinesPlaced, page: PageSetup
) -> ItemsPlaced:
    """Write the sheet and return where its sums stand."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.top(TITLE, NOTE)
    first_row = pen.row
    cash_of_phases, own_of_phases = [], []
    position = 0
    for phase, items in estimate.items_by_phase():
        _write_phase(pen, phase, items, position, lines)
        cash_of_phases.append(pen.from_elsewhere(_CASH))
        own_of_phases.append(pen.from_elsewhere(_OWN))
        pen.down(2)
        position += len(items)
    _write_total(pen, estimate, first_row)
    placed = ItemsPlaced(
        cash_of_phases=cash_of_phases,
        own_of_phases=own_of_phases,
        cash_total=pen.from_elsewhere(_CASH),
        own_total=pen.from_elsewhere(_OWN),
        credit=pen.column_from_elsewhere(_CREDIT, first_row),
        cash=pen.column_from_elsewhere(_CASH, first_row),
    )
    pen.down()
    pen.finish(page)
    return placed


def _write_phase(
    pen: SheetPen,
    phase: PrintedPhase,
    items: Sequence[PrintedItem],
    position: int,
    lines: LinesPlaced,
) -> None:
    """Write a phase, whose first item has a position among all, and stay on its subtotal."""
    pen.text(1, phase.phase, "band")
    pen.text(2, phase.name, "band")
    pen.fill("band")
    pen.down()
    first = pen.row
    for number, item in enumerate(items, start=position):
        _write_item(pen, item, lines.cash_of_items[number], lines.own_of_items[number])
        pen.down()
    pen.text(2, f"Phase {phase.phase}, subtotal", "strong")
    for column, amount in ((_CASH, phase.cash), (_OWN, phase.own)):
        pen.sum(column, first, float(amount), "strong money")
    pen.fill("strong")


def _write_item(pen: SheetPen, item: PrintedItem, cash: str, own: str) -> None:
    decimals = -int(item.quantity.as_tuple().exponent)
    pen.text(1, item.item)
    pen.text(2, item.name)
    pen.number(_QUANTITY, float(item.quantity), f"plain quantity {decimals}")
    pen.text(_UNIT, item.unit)
    per_unit = f"ROUND({pen.at(_CASH)}/{pen.at(_QUANTITY)},2)"
    pen.formula(5, per_unit, float(round_to_cent(item.cash / item.quantity)), "plain money")
    pen.formula(_CASH, cash, float(item.cash), "plain money")
    pen.formula(_OWN, own, float(item.own), "plain money")
    pen.text(_CREDIT, item.credit)
    pen.text(9, item.note)


def _write_total(pen: SheetPen, estimate: PrintedEstimate, first_row: int) -> None:
    """Write the direct cost: the sum of the items, which are the rows that have a unit."""
    pen.text(2, "All phases: direct cost", "total")
    units = f"{pen.at(_UNIT, first_row)}:{pen.at(_UNIT, pen.row - 1)}"
    totals = ((_CASH, estimate.direct_cost), (_OWN, estimate.own_value))
    for column, amount in totals:
        parts = f"{pen.at(column, first_row)}:{pen.at(column, pen.row - 1)}"
        formula = f'ROUND(SUMIFS({parts},{units},"<>"),2)'
        pen.formula(column, formula, float(amount), "total money")
    pen.fill("total")
