"""Draws from the books: what a line bills, which receipts stand behind it, what comes back."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.errors import FundingFaulty
from estimator.funding.draw_checks import check_draw, notes_on
from estimator.funding.draw_decisions import Cut, funding_of, granted
from estimator.funding.draw_requests import DEPOSIT, OFF_SITE, StoredPart
from estimator.funding.drawings import DrawHistory
from estimator.funding.loan_schedule import CodeShare, LoanLine
from estimator.funding.retainage import RetainageTerms
from estimator.tracking.books import Books
from estimator.tracking.hold_points import HoldPoint
from tests.funding.made import LINES, TERMS, after, bill, change, draw, loan, measured, moment, paid

MAY = date(2026, 5, 31)


def figures(request, line):
    return next(one.figures for one in request.lines if one.line == line)


def behind(request, line):
    return [(one.row, one.cents) for one in request.backup if one.line == line]


def test_a_line_bills_the_lesser_of_its_cost_and_its_percent():
    """$9,000 billed, 40 % of $20,000 in place: $8,000, of which 10 % are held."""
    books = Books(costs=[bill(1, "30.010", 9_000_00)], progress=[measured(2, "30.010", 40)])
    request = draw(books)
    line = figures(request, "2")
    assert (line.done_cents, line.retainage_cents) == (8_000_00, 800_00)
    assert behind(request, "2") == [(1, 8_000_00)]
    assert figures(draw(books, of=loan(basis="cost")), "2").done_cents == 9_000_00
    by_percent = draw(Books(progress=books.progress), of=loan(basis="percent"))
    assert (figures(by_percent, "2").done_cents, by_percent.lines[1].unbacked_cents) == (
        8_000_00,
        8_000_00,
    )
    for one in (request, by_percent):
        check_draw(one)


def test_what_is_cut_is_requested_again_and_what_is_short_without_its_receipts():
    books = Books(costs=[bill(1, "30.010", 8_000_00)], progress=[measured(2, "30.010", 40)])
    first = draw(books)
    history, funding = after(first, cuts=(Cut("2", 1_000_00, "not seen"),), short=0)
    own = history.last
    assert behind(own, "2") == [(1, 7_000_00)]
    assert (own.totals.requested_cents, own.lines[1].cut_reason) == (6_300_00, "not seen")
    assert funding.equity_cents == 6_300_00
    second = draw(books, history, through=MAY)
    assert (figures(second, "2").done_this_period_cents, behind(second, "2")) == (
        1_000_00,
        [(1, 1_000_00)],
    )
    check_draw(second)
    spent, _ = after(draw(books, of=loan(equity_cents=0, commitment_cents=52_000_00)), short=500_00)
    again = draw(books, spent, loan(equity_cents=0, commitment_cents=52_000_00), through=MAY)
    assert (again.backup, again.totals.requested_cents) == ((), 500_00)
    assert again.totals.short_funded_cents == 500_00
    check_draw(again)


def test_a_credit_after_a_draw_is_a_negative_in_the_next():
    first = Books(costs=[bill(1, "30.010", 8_000_00)], progress=[measured(2, "30.010", 50)])
    history, _ = after(draw(first))
    credit = bill(3, "30.010", -500_00, date(2026, 5, 4), is_credit=True)
    second = draw(replace(first, costs=[*first.costs, credit]), history, through=MAY)
    assert behind(second, "2") == [(3, -500_00)]
    assert second.totals.requested_cents == -450_00
    check_draw(second)


def test_a_bill_that_was_drawn_in_part_and_taken_back_goes_out_of_the_next_draw():
    first = Books(costs=[bill(1, "30.010", 8_000_00)], progress=[measured(2, "30.010", 20)])
    history, _ = after(draw(first))
    back = bill(3, "30.010", -8_000_00, date(2026, 5, 4), reverses=1)
    second = draw(replace(first, costs=[*first.costs, back]), history, through=MAY)
    assert behind(second, "2") == [(1, 4_000_00), (3, -8_000_00)]
    check_draw(second)
    undrawn = draw(replace(first, costs=[*first.costs, back]), through=MAY)
    assert undrawn.backup == ()


def test_a_vendor_who_bills_more_than_the_line_has_is_drawn_up_to_its_value():
    books = Books(costs=[bill(1, "30.010", 25_000_00)], progress=[measured(2, "30.010", 100)])
    request = draw(books)
    assert (figures(request, "2").done_cents, behind(request, "2")) == (
        20_000_00,
        [(1, 20_000_00)],
    )


def test_material_is_stored_in_one_draw_and_built_in_in_the_next():
    books = Books(costs=[bill(1, "40.010", 3_000_00)])
    first = draw(books, stored=(StoredPart(1, "", 3_000_00),))
    line = figures(first, "3")
    assert (line.done_cents, line.stored_cents, line.retainage_cents) == (0, 3_000_00, 300_00)
    history, _ = after(first)
    built = replace(books, progress=[measured(2, "40.010", 20, date(2026, 5, 20))])
    second = draw(built, history, through=MAY)
    line = figures(second, "3")
    assert (line.done_cents, line.stored_cents, line.billed_cents) == (3_000_00, 0, 0)
    assert second.backup == ()
    check_draw(second)


def test_material_elsewhere_and_deposits_are_drawn_only_where_the_terms_say_so():
    books = Books(costs=[bill(1, "40.010", 3_000_00)])
    for place, allowed in ((OFF_SITE, {"stored_off_site": True}), (DEPOSIT, {"deposits": True})):
        said = (StoredPart(1, "", 1_000_00, place),)
        request = draw(books, stored=said)
        assert figures(request, "3").stored_cents == 0
        assert request.left_out[0].reason == f"the terms do not draw it: {place}"
        assert figures(draw(books, of=loan(**allowed), stored=said), "3").stored_cents == 1_000_00


def test_the_draw_follows_the_inspector_and_says_where_we_differ():
    books = Books(
        costs=[bill(1, "30.010", 9_000_00)],
        progress=[measured(2, "30.010", 40), measured(3, "30.010", 30, is_inspector=True)],
    )
    request = draw(books)
    assert figures(request, "2").done_cents == 6_000_00
    assert request.lines[1].earned_cents == 8_000_00
    assert request.differences == (
        "line 2: the inspector has 30.00 % of 30.010 in place, our own measure 40.00 %; the draw "
        "follows the inspector",
    )
    history, _ = after(request)
    later = replace(books, progress=[*books.progress, measured(4, "30.010", 45, MAY)])
    assert figures(draw(later, history, through=MAY), "2").done_cents == 9_000_00


def test_a_deductive_change_below_what_was_billed_is_recovered_by_the_next_draw():
    books = Books(costs=[bill(1, "30.010", 20_000_00)], progress=[measured(2, "30.010", 100)])
    history, _ = after(draw(books))
    less = change(3, date(2026, 5, 6), {"30.010": -2_000_00, "contingency": 2_000_00})
    second = draw(replace(books, changes=[less]), history, through=MAY)
    assert (figures(second, "2").done_this_period_cents, behind(second, "2")) == (
        -2_000_00,
        [(1, -2_000_00)],
    )
    assert [(one.line, one.cents) for one in second.changes] == [("2", -2_000_00), ("5", 2_000_00)]
    assert "line 2 was billed $2,000.00 over its value today: recovered in this draw" in (
        notes_on(second)
    )
    check_draw(second)


def test_changes_beyond_the_contingency_raise_the_share_of_who_bears_them():
    books = Books(changes=[change(3, date(2026, 4, 6), {"30.010": 1_500_00})])
    assert draw(books).totals.equity_required_cents == 13_500_00
    assert draw(books, of=loan(changes="lender")).totals.equity_required_cents == 12_000_00


def test_costs_before_the_day_of_the_terms_and_codes_outside_are_left_out_with_the_reason():
    early = bill(1, "30.010", 500_00, date(2026, 3, 20))
    books = Books(costs=[early, bill(2, "99.010", 70_00), bill(3, "30.010", 100_00)],
                  progress=[measured(4, "30.010", 50)])  # fmt: skip
    request = draw(books, left_out=(3,))
    assert {one.row: one.reason for one in request.left_out} == {
        1: "incurred before 2026-04-01",
        3: "the owner leaves it out",
        2: "its cost code is on no line",
    }
    assert request.backup == ()


def test_the_owner_is_reimbursed_what_was_paid_and_the_vendor_gets_the_rest():
    books = Books(
        costs=[bill(1, "30.010", 8_000_00)],
        payments=[paid(5, 1, 3_000_00)],
        progress=[measured(2, "30.010", 40)],
    )
    request = draw(books, of=loan(vendors="jointly"))
    assert [(one.name, one.way, one.cents, one.proof) for one in request.payees] == [
        (
            "Quarry",
            "reimburse the owner",
            3_000_00,
            ("check 204 of 2026-04-20, $3,000.00",),
        ),
        ("Quarry", "pay both jointly", 5_000_00, ("check 204 of 2026-04-20, $3,000.00",)),
    ]


def test_open_holds_on_billed_lines_are_said():
    hold = HoldPoint(7, date(2026, 4, 2), moment(date(2026, 4, 2)), "30.010", "density", "95 %",
                     "engineer")  # fmt: skip
    books = Books(costs=[bill(1, "30.010", 100_00)], progress=[measured(2, "30.010", 5)],
                  holds=[hold])  # fmt: skip
    said = "line 2: 30.010 density is open; it needs 95 %, and the engineer decides"
    assert draw(books).holds == (said,)


def test_the_last_draw_ends_at_the_schedule_less_the_unused_contingency():
    """$52,000 scheduled, $4,000 of it contingency of which nothing is used: $48,000 in all."""
    codes = {"20.010": 10_000_00, "30.010": 20_000_00, "40.010": 15_000_00, "overhead": 3_000_00}
    costs = [bill(row, code, cents) for row, (code, cents) in enumerate(codes.items(), 1)]
    books = Books(
        costs=costs,
        progress=[measured(10 + row, code, 100) for row, code in enumerate(list(codes)[:3])],
    )
    history, _ = after(draw(books))
    assert history.last.totals.retainage_cents == 4_500_00
    last = draw(books, history, through=MAY, is_last=True)
    check_draw(last)
    assert last.totals.earned_cents == 48_000_00
    assert last.totals.requested_cents == 4_500_00
    unfinished = draw(replace(books, costs=costs[:3]), history, through=MAY, is_last=True)
    with pytest.raises(FundingFaulty, match=r"line 4: ends \$3,000.00 under its scheduled value"):
        check_draw(unfinished)


def test_retainage_is_released_only_when_the_work_is_complete_and_then_held_no_more():
    books = Books(costs=[bill(1, "20.010", 10_000_00), bill(2, "30.010", 4_000_00)],
                  progress=[measured(3, "20.010", 100), measured(4, "30.010", 20)])  # fmt: skip
    history, _ = after(draw(books))
    with pytest.raises(FundingFaulty, match=r"line 2 is not complete: \$4,000.00 of \$20,000.00"):
        draw(books, history, kind="release", released=("2",), through=MAY)
    release = draw(books, history, kind="release", released=("1",), through=MAY)
    check_draw(release)
    assert (release.backup, release.totals.requested_cents) == ((), 1_000_00)
    later, _ = after(release, history)
    third = draw(books, later, through=MAY)
    assert figures(third, "1").retainage_cents == 0
    assert third.totals.requested_cents == 0


def test_interest_from_the_reserve_needs_no_receipt_and_ends_with_the_reserve():
    lines = (*LINES, LoanLine("6", "Interest reserve", "interest", amount_cents=800_00))
    of = loan(replace(TERMS, commitment_cents=41_000_00), lines, interest="reserve")
    request = draw(Books(), of=of, interest_cents=112_50)
    assert (figures(request, "6").done_cents, figures(request, "6").retainage_cents) == (112_50, 0)
    check_draw(request)
    with pytest.raises(FundingFaulty, match=r"line 6 has \$800.00 left for interest"):
        draw(Books(), of=of, interest_cents=800_01)


def test_a_code_that_two_lines_share_is_split_entry_by_entry_to_the_cent():
    halves = (CodeShare("30.010", Decimal("0.5")),)
    lines = (LINES[0], LoanLine("2a", "Stone, west", shares=halves),
             LoanLine("2b", "Stone, east", shares=halves), *LINES[2:])  # fmt: skip
    books = Books(costs=[bill(1, "30.010", 100_01)], progress=[measured(2, "30.010", 50)])
    request = draw(books, of=loan(lines=lines))
    assert (behind(request, "2a"), behind(request, "2b")) == ([(1, 50_01)], [(1, 50_00)])


def test_changing_the_retainage_never_changes_the_work_done():
    books = Books(costs=[bill(1, "30.010", 9_000_00)], progress=[measured(2, "30.010", 40)])
    held = {
        rate: figures(draw(books, of=loan(retainage=RetainageTerms(Decimal(rate)))), "2")
        for rate in ("0", "0.05", "0.1")
    }
    assert {one.done_cents for one in held.values()} == {8_000_00}
    assert [one.retainage_cents for one in held.values()] == [0, 400_00, 800_00]


def test_retainage_by_the_whole_is_split_by_what_each_line_has_done():
    """$24,000 of $45,000 of work: over half, so nothing more is held than 10 % of $22,500."""
    terms = RetainageTerms(effect="stop", of_whole=True)
    books = Books(costs=[bill(1, "20.010", 8_000_00), bill(2, "30.010", 16_000_00)],
                  progress=[measured(3, "20.010", 80), measured(4, "30.010", 80)])  # fmt: skip
    request = draw(books, of=loan(retainage=terms))
    assert [one.figures.retainage_cents for one in request.lines] == [750_00, 1_500_00, 0, 0, 0]
    check_draw(request)
    nothing_done = draw(Books(), of=loan(retainage=terms))
    assert {one.figures.retainage_cents for one in nothing_done.lines} == {0}


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"through": date(2026, 3, 1)}, "through: 2026-03-01 is before 2026-04-01; costs may be"),
        ({"through": date(2027, 5, 1)}, "is after the end of the loan, 2027-04-01"),
        ({"stored": (StoredPart(1, "", 9_000_01),)}, r"row 1 has $9,000.00 on line 2"),
        (
            {"stored": (StoredPart(8, "", 1),)},
            "row 8 is not an entry that one line carries alone; name",
        ),
        ({"left_out": (1, 8)}, "left_out: row 8 is not a cost through 2026-04-30; name its row"),
        ({"stored": (StoredPart(1, "3", 1),)}, "row 1 is not on line 3; its lines: 2; name one"),
        ({"stored": (StoredPart(1, "", 9_000_00),) * 2}, r"$18,000.00 of it cannot be stored"),
        (
            {"stored": (StoredPart(1, "", 1, "the moon"),)},
            "'the moon' is not a place; write one of on site",
        ),
        ({"interest_cents": 5}, "interest: there is no interest reserve"),
        ({"released": ("1",)}, "a release names its lines, and a draw of work none"),
        ({"kind": "release", "released": ("7",)}, "there is no line '7'"),
    ],
)
def test_what_the_terms_do_not_allow_is_a_sentence(said, sentence):
    with pytest.raises(FundingFaulty) as refused:
        draw(Books(costs=[bill(1, "30.010", 9_000_00)]), **said)
    assert sentence in str(refused.value)


def test_draws_out_of_order_too_many_or_over_the_commitment_are_refused():
    books = Books(costs=[bill(1, "30.010", 19_000_00)], progress=[measured(2, "30.010", 95)])
    history, _ = after(draw(books))
    with pytest.raises(FundingFaulty, match="through: 2026-04-29 is before the end of draw 1"):
        draw(books, history, through=date(2026, 4, 29))
    with pytest.raises(FundingFaulty, match="number: the loan has 1 draw; ask"):
        draw(books, history, loan(most_draws=1), through=MAY)
    small = replace(loan(), terms=replace(TERMS, commitment_cents=5_000_00))
    with pytest.raises(FundingFaulty, match=r"the loan would be \$100.00 over its commitment"):
        draw(books, of=small)


def test_a_mismatch_of_one_cent_stops_the_draw_and_says_where():
    books = Books(costs=[bill(1, "30.010", 9_000_00)], progress=[measured(2, "30.010", 40)])
    request = draw(books)
    line = request.lines[1]
    wrong = {
        "line 2: it bills $8,000.01 and its backup comes to $8,000.00: $0.01 apart": {
            "lines": (replace(line, figures=replace(line.figures, done_cents=8_000_01)),)
        },
        "payees: they come to $0.00 and the backup to $8,000.00: $8,000.00 apart": {"payees": ()},
        "row 1, line 2: drawn in all $8,000.00 and the entry comes to $7,999.99: $0.01 apart": {
            "backup": (replace(request.backup[0], entry_cents=7_999_99),)
        },
        "total earned: it is $7,200.01 and the lines come to $7,200.00: $0.01 apart": {
            "totals": replace(request.totals, earned_cents=7_200_01)
        },
        "request: it is $7,200.00 and the smallest draw $7,200.01: $0.01 apart": {
            "terms": replace(request.terms, smallest_cents=7_200_01)
        },
    }
    for sentence, altered in wrong.items():
        with pytest.raises(FundingFaulty) as refused:
            check_draw(replace(request, **altered))
        assert sentence in str(refused.value)


def test_cuts_and_fundings_that_cannot_be_are_refused_together():
    request = draw(Books(costs=[bill(1, "30.010", 1_000_00)], progress=[measured(2, "30.010", 50)]))
    with pytest.raises(FundingFaulty) as refused:
        granted(request, [Cut("2", 1_000_01, "x"), Cut("7", 1, "x"), Cut("2", 1, "x")])
    assert [one.what for one in refused.value.faults] == [
        "line 2 bills $1,000.00",
        "there is no line '7'",
        "line 2 is cut twice",
    ]
    paid_by_owner = replace(request, terms=replace(request.terms, fees="paid"))
    with pytest.raises(FundingFaulty) as refused:
        funding_of(paid_by_owner, date(2026, 4, 1), 100_00, 5_00)
    assert len(refused.value.faults) == 3
    with pytest.raises(FundingFaulty, match=r"at most the lender's part, \$0.00, is paid"):
        funding_of(request, MAY, 1)


@settings(max_examples=12, deadline=None)
@given(st.data())
def test_over_all_draws_no_entry_is_drawn_beyond_its_amount_and_every_cent_adds_up(data):
    cents = st.integers(-300_00, 900_00).filter(bool)
    codes = st.sampled_from(["20.010", "30.010", "40.010", "overhead"])
    history, costs, progress = DrawHistory(), [], []
    of = loan(
        basis=data.draw(st.sampled_from(["cost", "lesser"])),
        equity_order=data.draw(st.sampled_from(["equity first", "pro rata"])),
        retainage=RetainageTerms(effect=data.draw(st.sampled_from(["", "stop", "everything"])),
                                 reached_fraction=Decimal("0.03")),
    )  # fmt: skip
    for month in range(4, 8):
        day = date(2026, month, 10)
        for code, own in data.draw(st.lists(st.tuples(codes, cents), max_size=5)):
            costs.append(bill(len(costs) + 1, code, own, day, is_credit=own < 0))
        percent = data.draw(st.integers(0, 5)) + month
        progress.append(measured(1_000 + month, "30.010", percent, day))
        books = Books(costs=costs, progress=progress)
        request = draw(books, history, of, through=date(2026, month, 28))
        check_draw(request)
        cuts = tuple(
            Cut(one.line, data.draw(st.integers(1, one.figures.billed_cents)), "not seen")
            for one in request.lines
            if one.figures.billed_cents > 0 and data.draw(st.booleans())
        )
        own = granted(request, cuts)
        check_draw(own)
        most = max(own.totals.loan_cents, 0)
        history, funding = after(request, history, cuts, data.draw(st.integers(0, most)))
        for (row, _), drawn in history.drawn.items():
            entry = costs[row - 1].cents
            assert min(entry, 0) <= drawn <= max(entry, 0)
        short = own.totals.earned_cents - history.funded_cents
        assert short == funding.short_cents
        assert history.funded_cents + short + own.totals.retainage_cents == (
            own.sum_cents("done_and_stored_cents")
        )
