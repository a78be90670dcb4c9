"""The table of what the totals rest on: quotes, own rates, illustrative rates and the rest."""

from __future__ import annotations

from decimal import Decimal

from estimator.pricing.printed_estimate import PrintedEstimate
from estimator.pricing.rests_on import GROUNDS
from estimator.workbook.writing.sheet_pen import SheetPen

NOTE = "As priced: these amounts do not follow rates that are changed in this workbook."

_HEADINGS = ("Rests on", "Direct cost [$]", "Cash cost [$]", "Full cost [$]", "Of the cash cost")
_DIRECT, _CASH, _FULL, _SHARE = 2, 3, 4, 5


def write_grounds(pen: SheetPen, estimate: PrintedEstimate) -> None:
    """Write the table, the totals below it, and what wants a quote in sentences."""
    grounds = estimate.rests_on
    if grounds is None:
        return
    pen.section("What the totals rest on", _HEADINGS)
    columns = {_DIRECT: grounds.direct_cost, _CASH: grounds.cash_cost, _FULL: grounds.full_cost}
    for ground, words in GROUNDS.items():
        if any(ground in amounts for amounts in columns.values()):
            pen.text(1, words)
            amounts = {n: of.get(ground, Decimal(0)) for n, of in columns.items()}
            _amounts(pen, amounts, estimate.cash_cost, "plain")
    pen.text(1, "Total", "band")
    totals = (estimate.direct_cost, estimate.cash_cost, estimate.full_cost)
    amounts = dict(zip(columns, totals, strict=True))
    _amounts(pen, amounts, estimate.cash_cost, "band")
    for sentence in grounds.statements:
        pen.across(sentence, "warning")
    pen.across(NOTE)


def write_alternates(pen: SheetPen, estimate: PrintedEstimate) -> None:
    """Write the cash cost with and without each alternate; nothing where there is none."""
    if not estimate.alternates:
        return
    headings = ("Alternate", "Cash without [$]", "Cash with [$]", "Change [$]", "In the totals")
    pen.section("Alternates", headings)
    for one in estimate.alternates:
        in_place = f", in place of {', '.join(one.in_place_of)}" if one.in_place_of else ""
        pen.text(1, f"{one.code} {one.name}{in_place}")
        for column, amount in enumerate((one.without, one.with_it, one.change), start=2):
            pen.number(column, float(amount), "plain money")
        pen.text(5, "yes" if one.accepted else "no")
        pen.fill("plain")
        pen.down()
    pen.across(NOTE)


def _amounts(pen: SheetPen, amounts: dict[int, Decimal], cash: Decimal, style: str) -> None:
    if cash and style == "plain":
        pen.text(_SHARE, f"{amounts[_CASH] / cash * 100:.1f} %")
    for column, amount in amounts.items():
        pen.number(column, float(amount), f"{style} money")
    pen.fill(style)
    pen.down()
