"""The sheet of items: each piece of work with its quantity and cost, phase by phase."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from estimator.money import dollars, round_to_cent
from estimator.pricing.estimate import Estimate
from estimator.scope.scope import Phase
from estimator.workbook.sheets.cost_line_sheet import LinesPlaced
from estimator.workbook.writing.book import Book, Page
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Items"
COLUMNS = (
    Column("Cost code", 10),
    Column("Work", 46),
    Column("Quantity", 12, True),
    Column("Unit", 8),
    Column("Cash per unit\n[$]", 14, True),
    Column("Cash\n[$]", 15, True),
    Column("Own value\n[$]", 14, True),
    Column("Credit", 8),
    Column("Note", 40),
)
_QUANTITY, _UNIT, _CASH, _OWN, _CREDIT = 3, 4, 6, 7, 8
NOTE = (
    "Cash is what is paid, before markups. Own value is the owner's unpaid labor and own material, "
    "which is no part of cash, draws or credit. Credit says whether the work normally counts "
    "toward the rehabilitation tax credit (yes, no, ask); a tax adviser decides in each case."
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


def write_items(book: Book, estimate: Estimate, lines: LinesPlaced, page: Page) -> ItemsPlaced:
    """Write the sheet and return where its sums stand."""
    pen = SheetPen(book, TITLE, COLUMNS)
    pen.top(TITLE, NOTE)
    first_row = pen.row
    rows = estimate.items.to_dict("records")
    cash_of_phases, own_of_phases = [], []
    position = 0
    for phase in estimate.scope.phases:
        positions = range(position, position + len(phase.items))
        _write_phase(pen, phase, rows, positions, lines)
        cash_of_phases.append(pen.from_elsewhere(_CASH))
        own_of_phases.append(pen.from_elsewhere(_OWN))
        pen.down(2)
        position += len(phase.items)
    _write_total(pen, estimate, first_row)
    placed = ItemsPlaced(
        cash_of_phases=cash_of_phases,
        own_of_phases=own_of_phases,
        cash_total=pen.from_elsewhere(_CASH),
        own_total=pen.from_elsewhere(_OWN),
        credit=_column(pen, _CREDIT, first_row),
        cash=_column(pen, _CASH, first_row),
    )
    pen.down()
    pen.finish(page)
    return placed


def _column(pen: SheetPen, column: int, first_row: int) -> str:
    letter = pen.letters[column - 1]
    return f"'{TITLE}'!${letter}${first_row}:${letter}${pen.row - 1}"


def _write_phase(
    pen: SheetPen,
    phase: Phase,
    rows: Sequence[dict[Any, Any]],
    positions: range,
    lines: LinesPlaced,
) -> None:
    """Write a phase, and stay on the row of its subtotal."""
    pen.text(1, phase.code, "band")
    pen.text(2, phase.name, "band")
    pen.fill("band")
    pen.down()
    first = pen.row
    for item, position in zip(phase.items, positions, strict=True):
        cash, own = lines.cash_of_items[position], lines.own_of_items[position]
        _write_item(pen, rows[position], item.note, cash, own)
        pen.down()
    pen.text(2, f"Phase {phase.code}, subtotal", "strong")
    for column, name in ((_CASH, "cash_cents"), (_OWN, "own_cents")):
        cents = sum(rows[position][name] for position in positions)
        parts = f"{pen.at(column, first)}:{pen.at(column, pen.row - 1)}"
        pen.formula(column, f"ROUND(SUM({parts}),2)", cents / 100, "strong money")
    pen.fill("strong")


def _write_item(pen: SheetPen, row: dict[Any, Any], note: str, cash: str, own: str) -> None:
    decimals = row["decimals"]
    pen.text(1, row["item"])
    pen.text(2, row["name"])
    pen.number(_QUANTITY, float(row["quantity"]), f"plain quantity {decimals}")
    pen.text(_UNIT, row["unit"])
    per_unit = f"ROUND({pen.at(_CASH)}/{pen.at(_QUANTITY)},2)"
    pen.formula(5, per_unit, float(_cash_per_unit(row)), "plain money")
    pen.formula(_CASH, cash, row["cash_cents"] / 100, "plain money")
    pen.formula(_OWN, own, row["own_cents"] / 100, "plain money")
    pen.text(_CREDIT, row["credit"])
    pen.text(9, note)


def _cash_per_unit(row: dict[Any, Any]) -> Decimal:
    quantity = Decimal(f"{row['quantity']:.{row['decimals']}f}")
    return round_to_cent(dollars(row["cash_cents"]) / quantity)


def _write_total(pen: SheetPen, estimate: Estimate, first_row: int) -> None:
    """Write the direct cost: the sum of the items, which are the rows that have a unit."""
    pen.text(2, "All phases: direct cost", "total")
    units = f"{pen.at(_UNIT, first_row)}:{pen.at(_UNIT, pen.row - 1)}"
    totals = ((_CASH, estimate.direct_cost), (_OWN, estimate.own_value))
    for column, amount in totals:
        parts = f"{pen.at(column, first_row)}:{pen.at(column, pen.row - 1)}"
        formula = f'ROUND(SUMIFS({parts},{units},"<>"),2)'
        pen.formula(column, formula, float(amount), "total money")
    pen.fill("total")
