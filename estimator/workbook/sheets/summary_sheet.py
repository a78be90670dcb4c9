"""The summary: what the job costs, by phase and by kind, with the quantities to plan it by."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from estimator.pricing.printed_estimate import PrintedEstimate
from estimator.pricing.rests_on import WANT_A_QUOTE
from estimator.workbook.sheets.cost_line_sheet import LinesPlaced
from estimator.workbook.sheets.grounds_block import write_alternates, write_grounds
from estimator.workbook.sheets.items_sheet import ItemsPlaced
from estimator.workbook.sheets.summary_charts import add_chart
from estimator.workbook.sheets.totals_block import rows_of_totals, write_totals
from estimator.workbook.writing.book import DIGEST_SHOWN, Book, PageSetup
from estimator.workbook.writing.sheet_pen import Column, SheetPen

TITLE = "Summary"
COLUMNS = (
    Column("", 44),
    Column("", 17, True),
    Column("", 17, True),
    Column("", 17, True),
    Column("", 36),
)
# With more rows the charts would not end on the page of the tables.
_MOST_ROWS_ABOVE_CHARTS = 19
_SHARE, _OWN, _AMOUNT, _WANTS = 2, 3, 4, 5
CREDIT_SENTENCE = (
    "Direct cost by whether such work normally counts toward the rehabilitation tax credit. This "
    "is not tax advice: a tax adviser decides in each case, before the money is spent."
)
_CREDIT_WORDS = {"yes": "Yes, normally counts", "no": "No, normally does not", "ask": "Ask"}


def write_summary(
    book: Book, estimate: PrintedEstimate, lines: LinesPlaced, items: ItemsPlaced, page: PageSetup
) -> None:
    """Write the sheet."""
    pen = SheetPen(book, TITLE, COLUMNS)
    _top(pen, estimate)
    totals_row = pen.row
    pen.down(rows_of_totals(estimate))
    write_alternates(pen, estimate)
    write_grounds(pen, estimate)
    _warnings(pen, estimate)
    _assumptions(pen, estimate)
    pen.break_page()
    first_phase = _phases(pen, estimate, items)
    first_kind = _kinds(pen, estimate, lines)
    _credit(pen, estimate, items)
    kinds = _cash_by_kind(estimate)
    if len(estimate.phases) + len(kinds) > _MOST_ROWS_ABOVE_CHARTS:
        pen.break_page()
    add_chart(pen, "Cash by phase [$]", first_phase, [phase.cash for phase in estimate.phases])
    add_chart(pen, "Cash by kind [$]", first_kind, list(kinds.values()))
    pen.break_page()
    _planning(pen, estimate)
    pen.go_to(totals_row)
    addresses = {kind: pen.at(_AMOUNT, first_kind + n) for n, kind in enumerate(kinds)}
    write_totals(pen, estimate, items, addresses, lines)
    pen.finish(page)


def _top(pen: SheetPen, estimate: PrintedEstimate) -> None:
    pen.across(estimate.project, "title")
    for label, words in estimate.title_block.lines:
        pen.across(f"{label}: {words}", "strong")
    pen.across(
        f"Estimate at the rates of {estimate.on:%Y-%m-%d}, for a working day of "
        f"{estimate.shift}. Digest {estimate.digest[:DIGEST_SHOWN]}, in full on the last page. "
        "All amounts in US dollars."
    )


def _warnings(pen: SheetPen, estimate: PrintedEstimate) -> None:
    if not estimate.warnings:
        return
    pen.down()
    pen.across("Warnings", "section")
    for words in estimate.warnings:
        pen.across(words[:1].upper() + words[1:] + ".", "warning")


def _assumptions(pen: SheetPen, estimate: PrintedEstimate) -> None:
    if not estimate.assumptions:
        return
    pen.down()
    pen.across("Assumptions", "section")
    for words in estimate.assumptions:
        pen.across(words, "plain")


def _phases(pen: SheetPen, estimate: PrintedEstimate, items: ItemsPlaced) -> int:
    """Write the table of phases and return its first row."""
    wants = _wants_a_quote(estimate)
    wanting = "Of that, needs a quote, as priced [$]" if wants else ""
    headings = ("Phase", "Share", "Unpaid value [$]", "Cash [$]", wanting)
    pen.section("By phase, before markups", headings)
    first = pen.row
    pen.down(-1)
    pen.text(_WANTS, wanting, "head right")
    pen.down()
    total = first + len(estimate.phases)
    for n, phase in enumerate(estimate.phases):
        pen.text(1, f"{phase.phase} {phase.name}")
        _share(pen, total, phase.cash, estimate.direct_cost)
        pen.formula(_OWN, items.own_of_phases[n], float(phase.own), "plain money")
        pen.formula(_AMOUNT, items.cash_of_phases[n], float(phase.cash), "plain money")
        if wants:
            pen.number(_WANTS, float(wants[phase.phase]), "plain money")
        pen.fill("plain")
        pen.down()
    _total_row(pen, first, estimate.direct_cost, estimate.own_value)
    return first


def _wants_a_quote(estimate: PrintedEstimate) -> Mapping[str, Decimal]:
    """Return how much of each phase rests on what wants a quote; empty where it was not said."""
    grounds = {} if estimate.rests_on is None else estimate.rests_on.by_phase
    return {
        code: sum((amounts.get(one, Decimal(0)) for one in WANT_A_QUOTE), Decimal(0))
        for code, amounts in grounds.items()
    }


def _cash_by_kind(estimate: PrintedEstimate) -> Mapping[str, Decimal]:
    """Return what the table of kinds shows: one row at least, so that its sum has a range."""
    return estimate.by_kind or {"no cash is paid": Decimal(0)}


def _kinds(pen: SheetPen, estimate: PrintedEstimate, lines: LinesPlaced) -> int:
    """Write the table of kinds, of what is paid, and return its first row."""
    pen.section("By kind, before markups", ("Kind", "Share", "", "Cash [$]", ""))
    first = pen.row
    by_kind = _cash_by_kind(estimate)
    for kind, cash in by_kind.items():
        pen.text(1, kind)
        _share(pen, first + len(by_kind), cash, estimate.direct_cost)
        formula = f"ROUND(SUMIFS({lines.cash},{lines.kinds},{pen.at(1)}),2)"
        pen.formula(_AMOUNT, formula, float(cash), "plain money")
        pen.fill("plain")
        pen.down()
    _total_row(pen, first, estimate.direct_cost, None)
    return first


def _share(pen: SheetPen, total_row: int, cash: Decimal, total: Decimal) -> None:
    whole = f"{pen.letters[_AMOUNT - 1]}${total_row}"
    formula = f"IF({whole}=0,0,{pen.at(_AMOUNT)}/{whole})"
    pen.formula(_SHARE, formula, float(cash / total) if total else 0.0, "plain share")


def _total_row(pen: SheetPen, first: int, cash: Decimal, own: Decimal | None) -> None:
    """Write the sum of a table that ends above this row."""
    pen.text(1, "Direct cost", "band")
    for column, amount in ((_AMOUNT, cash), (_OWN, own)):
        if amount is not None:
            pen.sum(column, first, float(amount), "band money")
    pen.fill("band")
    pen.down()


def _credit(pen: SheetPen, estimate: PrintedEstimate, items: ItemsPlaced) -> None:
    pen.section("By tax credit, before markups", ("Counts toward it", "", "", "Cash [$]", ""))
    for answer, cash in estimate.by_credit.items():
        pen.text(1, _CREDIT_WORDS[answer])
        formula = f'ROUND(SUMIFS({items.cash},{items.credit},"{answer}"),2)'
        pen.formula(_AMOUNT, formula, float(cash), "plain money")
        pen.fill("plain")
        pen.down()
    pen.across(CREDIT_SENTENCE)


def _planning(pen: SheetPen, estimate: PrintedEstimate) -> None:
    """Write the quantities that a job is planned by, each table only if it has rows."""
    tables = (
        ("Bulk quantities", "What, and its unit", "Ordered", estimate.planning_quantities),
        ("Labor, including the owner's unpaid hours", "Trade", "Hours [hr]", estimate.labor_hours),
        ("Machines rented by the day", "Machine", "Days ordered [day]", estimate.machine_days),
        ("Machines paid by the hour", "Machine", "Hours ordered [hr]", estimate.machine_hours),
    )
    for title, names, heading, amounts in tables:
        if amounts:
            pen.section(title, (names, "", "", heading, ""))
            _amounts(pen, amounts)


def _amounts(pen: SheetPen, amounts: Mapping[str, Decimal]) -> None:
    for name, amount in amounts.items():
        decimals = min(4, max(0, -int(amount.as_tuple().exponent)))
        pen.text(1, name)
        pen.number(_AMOUNT, float(amount), f"plain quantity {decimals}")
        pen.fill("plain")
        pen.down()
