"""What the cover of a draw says: its figures, whose money it is, its name; who gets which part."""

from dataclasses import replace
from datetime import date

import pytest

from estimator.errors import FundingFaulty
from estimator.funding.draw_checks import check_draw
from estimator.funding.draw_decisions import Cut, granted
from estimator.funding.draw_json import draw_fields
from estimator.funding.draw_package import (
    DrawPackage,
    claimed_codes,
    cover_figures,
    rows_text,
    share_text,
    split_figures,
)
from estimator.funding.draw_payees import payees_of
from estimator.funding.draw_requests import BackupPart
from estimator.tracking.books import Books
from tests.funding.made import MONTH_END, after, bill, draw, loan, measured

MAY = date(2026, 5, 31)
BOOKS = Books(
    costs=[bill(1, "30.010", 8_000_00), bill(2, "20.010", 7_000_00),
           bill(3, "20.010", 500_00, date(2026, 5, 6))],
    progress=[measured(4, "30.010", 90), measured(5, "20.010", 70),
              measured(6, "20.010", 75, date(2026, 5, 20))],
)  # fmt: skip


def figures(said):
    return [(one.cents, one.is_result) for one in said]


def second_draw():
    history, _ = after(draw(BOOKS))
    return draw(BOOKS, history, through=MAY)


def test_the_cover_goes_from_the_scheduled_value_to_what_is_requested():
    """May: 8,000 and 7,500 are done, 10 % is held; 13,500 was funded of April's 15,000."""
    assert figures(cover_figures(second_draw())) == [
        (52_000_00, False), (0, False), (52_000_00, True),
        (15_500_00, False), (0, False), (15_500_00, True),
        (-1_550_00, False), (13_950_00, True),
        (-13_500_00, False), (450_00, True),
    ]  # fmt: skip


def test_the_split_says_what_is_left_of_the_loan_and_of_the_equity():
    """Of April's 13,500 the first 12,000 were equity; all of May's 450 is loan."""
    assert figures(split_figures(second_draw())) == [
        (40_000_00, False), (-1_500_00, False), (-450_00, False), (38_050_00, True),
        (12_000_00, False), (-12_000_00, False), (0, False), (0, True),
    ]  # fmt: skip


def test_a_package_is_called_by_number_version_and_kind():
    request = second_draw()
    assert (DrawPackage(request).title, DrawPackage(request).name) == ("Draw 2", "draw-02")
    again = replace(request, issue=2, is_last=True)
    assert DrawPackage(again).title == "Draw 2, version 2, the last"
    assert DrawPackage(request).standing == "Draw 2, open, not submitted"
    sent = DrawPackage(request, "submitted", "5f" * 32)
    assert sent.standing.startswith("Draw 2, submitted, digest 5f5f5f5f")


def test_what_is_invented_is_marked():
    assert DrawPackage(second_draw()).mark == ""
    assert DrawPackage(replace(second_draw(), project="Barn (invented)")).mark == "INVENTED SAMPLE"


def test_rows_that_follow_each_other_are_named_together_from_three_on():
    assert rows_text((9, 1, 2, 5, 6, 7)) == "1, 2, 5-7, 9"
    assert rows_text(()) == ""


def test_a_lines_share_is_rounded_half_up_and_a_line_without_a_value_has_none():
    """8,000 of 20,000 is 40.0 %; 10 of 20,000 is 0.05 %, printed 0.1."""
    figures_of = second_draw().lines[1].figures
    assert share_text(figures_of) == "40.0"
    assert share_text(replace(figures_of, done_cents=10_00)) == "0.1"
    nothing = replace(figures_of, state=replace(figures_of.state, scheduled_cents=0))
    assert share_text(nothing) == "-"
    cent = replace(figures_of, done_cents=1, state=replace(figures_of.state, scheduled_cents=1))
    assert share_text(cent) == "100.0"


def test_codes_of_which_nothing_is_in_place_are_left_out():
    lines = second_draw().lines
    assert [[code.code for code in claimed_codes(one)] for one in lines[:3]] == [
        ["20.010"], ["30.010"], [],
    ]  # fmt: skip


def test_a_draw_as_json_has_its_sums_as_text():
    fields = draw_fields(second_draw())
    line = fields["lines"][0]
    assert [line[name] for name in ("scheduled", "done", "billed", "retainage")] == [
        "10000.00", "7500.00", "500.00", "750.00",
    ]  # fmt: skip
    assert line["beside"] == {"earned": "7500.00", "incurred": "7500.00", "paid": "0.00"}
    assert fields["totals"]["requested"] == "450.00"


def part(entry, before, now, paid=0):
    return BackupPart(1, "2", MONTH_END, "Quarry", "Q-1", "bill", entry, before, now, paid)


@pytest.mark.parametrize(
    ("paid", "shares"),
    [
        (0, [("pay the vendor", 500)]),
        (399, [("pay the vendor", 500)]),
        (400, [("pay the vendor", 500)]),
        (401, [("reimburse the owner", 1), ("pay the vendor", 499)]),
        (900, [("reimburse the owner", 500)]),
        (999, [("reimburse the owner", 500)]),
    ],
)
def test_the_owner_is_reimbursed_what_was_paid_beyond_what_was_drawn_before(paid, shares):
    """Of a bill of $10.00, $4.00 were drawn before and $5.00 are drawn now."""
    payees = payees_of([part(1_000, 400, 500, paid)], "vendor")
    assert [(one.way, one.cents) for one in payees] == shares


@pytest.mark.parametrize(("entry", "before", "now", "is_refused"), [
    (1_000, 400, 600, False), (1_000, 400, 601, True), (1_000, 400, -400, False),
    (1_000, 400, -401, True), (-1_000, -400, -600, False), (-1_000, 0, 1, True),
    (-1_000, -1, 1, False), (-1_000, -400, -601, True),
])  # fmt: skip
def test_an_entry_is_drawn_from_nothing_to_what_it_comes_to(entry, before, now, is_refused):
    request = replace(draw(BOOKS), backup=(part(entry, before, now),))
    with pytest.raises(FundingFaulty) as refused:  # the backup is not that of the lines
        check_draw(request)
    assert ("row 1, line 2: drawn in all" in str(refused.value)) is is_refused


def test_not_a_cent_is_held_back_of_a_line_on_which_nothing_is_done():
    request = draw(Books())
    first = request.lines[0]
    holding = replace(first, figures=replace(first.figures, retainage_cents=1))
    with pytest.raises(FundingFaulty, match=r"line 1: holds \$0.01 of what is done"):
        check_draw(replace(request, lines=(holding, *request.lines[1:])))


def test_a_cut_takes_first_what_has_no_receipt():
    """7,000 by measure: 3,000 has a receipt, 4,000 none. Of a cut of 4,500, 500 goes off it."""
    books = Books(costs=[bill(1, "20.010", 3_000_00)], progress=[measured(2, "20.010", 70)])
    request = draw(books, of=loan(basis="percent"))
    line = request.lines[0]
    assert (line.figures.billed_cents, line.unbacked_cents) == (7_000_00, 4_000_00)
    own = granted(request, (Cut("1", 4_500_00, "not seen"),))
    assert (own.lines[0].figures.billed_cents, own.lines[0].unbacked_cents) == (2_500_00, 0)
    assert [one.cents for one in own.backup] == [2_500_00]
    less = granted(request, (Cut("1", 1_000_00, "not seen"),))
    assert (less.lines[0].unbacked_cents, less.backup) == (3_000_00, request.backup)
