"""The table of totals: direct cost, each markup in order, cash cost, own value, full cost."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from estimator.assemblies.markups import ALL_KINDS, Markup, MarkupAmount
from estimator.pricing.printed_estimate import PrintedEstimate
from estimator.rates.kinds import SALES_WORDS, SALVAGE
from estimator.workbook.sheets.cost_line_sheet import LinesPlaced
from estimator.workbook.sheets.items_sheet import ItemsPlaced
from estimator.workbook.writing.sheet_pen import SheetPen

_PERCENT, _BASE, _AMOUNT, _REMARK = 2, 3, 4, 5
_ROWS_BESIDE_MARKUPS = 7


def rows_of_totals(estimate: PrintedEstimate) -> int:
    """Return how many rows the table takes, with its title and headings."""
    return _ROWS_BESIDE_MARKUPS + len(estimate.markups) + bool(estimate.salvage_sales)


@dataclass(frozen=True)
class _Bases:
    """Addresses of what markups are taken on: the direct cost, kinds, and earlier markups."""

    direct: str
    kinds: Mapping[str, str]
    earlier: dict[str, tuple[str, str]]

    def addresses(self, markup: Markup) -> list[str]:
        """Return what is added up to the base of a markup."""
        if ALL_KINDS in markup.on:
            parts = [self.direct, *(f"-{self.kinds[kind]}" for kind in self._apart(markup))]
        else:
            parts = [self.kinds[kind] for kind in markup.kinds if kind in self.kinds]
        return parts + [self.earlier[code][0] for code in self._codes(markup)]

    def words(self, markup: Markup) -> str:
        """Return the same in words."""
        apart = " and ".join(self._apart(markup))
        all_of_it = f"all direct cost but {apart}" if apart else "all direct cost"
        kinds = [all_of_it] if ALL_KINDS in markup.on else list(markup.kinds)
        on = [*kinds, *(self.earlier[code][1] for code in self._codes(markup))]
        return f"on {', '.join(on) or 'nothing: what it is taken on does not apply here'}"

    def _apart(self, markup: Markup) -> list[str]:
        """Return the kinds of the direct cost that a markup on all of it is not taken on."""
        return [kind for kind in self.kinds if kind not in markup.kinds]

    def _codes(self, markup: Markup) -> list[str]:
        return [code for code in markup.on if code in self.earlier]


def write_totals(
    pen: SheetPen,
    estimate: PrintedEstimate,
    items: ItemsPlaced,
    kinds: Mapping[str, str],
    lines: LinesPlaced,
) -> None:
    """Write the table.

    Parameters
    ----------
    kinds : mapping of str to str
        Address of the paid cost of each kind on this sheet.
    """
    pen.section("What it costs", ("Cost", "Percent", "Base [$]", "Amount [$]", "Remark"))
    first = pen.row
    _sum(pen, "Direct cost", items.cash_total, estimate.direct_cost, "paid, before markups")
    bases = _Bases(pen.at(_AMOUNT, first), kinds, {})
    for one in estimate.markups:
        _markup(pen, one, bases)
        bases.earlier[one.markup.code] = (pen.at(_AMOUNT), one.markup.name)
        pen.down()
    _sums_below(pen, estimate, items, first)
    if estimate.salvage_sales:
        sales = f'ROUND(SUMIFS({lines.sales},{lines.kinds},"{SALVAGE}"),2)'
        _sum(pen, SALES_WORDS, sales, estimate.salvage_sales, "reduces no cost and no draw")


def _sums_below(pen: SheetPen, estimate: PrintedEstimate, items: ItemsPlaced, first: int) -> None:
    """Write cash cost, own value and full cost under the markups."""
    above = f"{pen.at(_AMOUNT, first)}:{pen.at(_AMOUNT, pen.row - 1)}"
    cash, own = pen.at(_AMOUNT), pen.at(_AMOUNT, pen.row + 1)
    cash_sum = f"ROUND(SUM({above}),2)"
    _sum(pen, "Cash cost", cash_sum, estimate.cash_cost, "all money paid out", "band")
    own_words = "Unpaid value (own labor and material)"
    _sum(pen, own_words, items.own_total, estimate.own_value, "no cash; in no draw and no credit")
    full = f"ROUND({cash}+{own},2)"
    _sum(pen, "Full cost", full, estimate.full_cost, "cash cost and unpaid value", "total")


def _sum(
    pen: SheetPen, words: str, formula: str, amount: Decimal, remark: str, style: str = "plain"
) -> None:
    pen.text(1, words, style)
    pen.formula(_AMOUNT, formula, float(amount), f"{style} money")
    pen.text(_REMARK, remark, style)
    pen.fill(style)
    pen.down()


def _markup(pen: SheetPen, one: MarkupAmount, bases: _Bases) -> None:
    """Write a markup: a percentage of the cost it is taken on, or a sum."""
    markup = one.markup
    pen.text(1, markup.name)
    if markup.percent is None:
        pen.number(_AMOUNT, one.amount_cents / 100, "input money")
        pen.text(_REMARK, "a fixed sum")
    else:
        pen.number(_PERCENT, float(markup.percent / 100), "input percent")
        base = f"ROUND({'+'.join(bases.addresses(markup)).replace('+-', '-') or '0'},2)"
        pen.formula(_BASE, base, one.base_cents / 100, "plain money")
        amount = f"ROUND({pen.at(_PERCENT)}*{pen.at(_BASE)},2)"
        pen.formula(_AMOUNT, amount, one.amount_cents / 100, "plain money")
        pen.text(_REMARK, bases.words(markup))
    pen.fill("plain")
