"""What the totals rest on stands beside them on the summary sheet."""

from dataclasses import replace
from decimal import Decimal
from io import BytesIO

from openpyxl import load_workbook

from estimator.pricing.alternate_totals import AlternateTotal
from estimator.pricing.printed_estimate import printed_estimate
from estimator.scheduling.dated_estimate import price
from estimator.workbook.estimate_workbook import printed_bytes
from estimator.workbook.sheets.grounds_block import NOTE
from tests.scope.methods.choices import sample


def summary_rows(printed):
    book = load_workbook(BytesIO(printed_bytes(printed)), data_only=True)
    return [[cell.value for cell in row] for row in book["Summary"].iter_rows()]


def test_the_grounds_stand_below_the_totals_and_add_up_to_them():
    scope, tables = sample()
    printed = printed_estimate(price(scope, tables, scope.on))
    rows = summary_rows(printed)
    first = next(n for n, row in enumerate(rows) if row[0] == "Rests on") + 1
    last = next(n for n, row in enumerate(rows) if row[0] == "Total")
    for column, total in ((1, printed.direct_cost), (2, printed.cash_cost), (3, printed.full_cost)):
        assert round(sum(row[column] for row in rows[first:last]), 2) == float(total)
        assert rows[last][column] == float(total)
    assert rows[last + 1][0] == printed.rests_on.statements[0]
    assert [NOTE] in [row[:1] for row in rows]


def test_an_estimate_that_was_stored_before_has_no_such_table():
    scope, tables = sample()
    printed = printed_estimate(price(scope, tables, scope.on))
    rows = summary_rows(replace(printed, rests_on=None))
    assert "Rests on" not in [row[0] for row in rows]


def test_each_phase_says_how_much_of_it_wants_a_quote():
    """Of the sample's first phases: what is not quoted stands beside their cash."""
    scope, tables = sample()
    printed = printed_estimate(price(scope, tables, scope.on))
    rows = summary_rows(printed)
    top = next(n for n, row in enumerate(rows) if row[0] == "Phase")
    assert rows[top][4] == "Of that, needs a quote, as priced [$]"
    phases = rows[top + 1 : top + 1 + len(printed.phases)]
    known = [
        float(sum(of.get(one, Decimal(0)) for one in ("quotes", "own_rates")))
        for of in printed.rests_on.by_phase.values()
    ]
    assert [round(row[3] - row[4], 2) for row in phases] == known
    assert any(known)
    older = summary_rows(replace(printed, rests_on=None))
    assert older[[row[0] for row in older].index("Phase")][4] == ""


def test_alternates_stand_below_the_totals():
    scope, tables = sample()
    printed = printed_estimate(price(scope, tables, scope.on))
    one = AlternateTotal("A1", "Slate", False, (), Decimal("10.00"), Decimal("12.50"))
    rows = summary_rows(replace(printed, alternates=(one,)))
    assert ["A1 Slate", 10, 12.5, 2.5, "no"] in [row[:5] for row in rows]
    assert "Alternate" not in [row[0] for row in summary_rows(replace(printed, alternates=()))]


def test_what_wants_a_quote_is_set_right_as_its_amounts_are():
    scope, tables = sample()
    book = load_workbook(BytesIO(printed_bytes(printed_estimate(price(scope, tables, scope.on)))))
    cells = {str(cell.value): cell for cell in book["Summary"]["E"]}
    heading = cells["Of that, needs a quote, as priced [$]"]
    assert heading.alignment.horizontal == "right"
