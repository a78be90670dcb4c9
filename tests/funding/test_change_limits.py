"""What the terms let transfers and the contingency do; beyond that the lender approves."""

from decimal import Decimal

import pytest

from estimator.errors import FundingFaulty
from estimator.funding.draw_checks import check_draw
from estimator.tracking.books import Books
from tests.funding.made import MONTH_END, bill, change, draw, loan, measured

DONE = [measured(20, "20.010", 50)]


def refused(changes, **terms):
    books = Books(costs=[bill(1, "20.010", 5_000_00)], progress=DONE, changes=changes)
    with pytest.raises(FundingFaulty) as error:
        check_draw(draw(books, of=loan(**terms)))
    return str(error.value)


def checked(changes, **terms):
    books = Books(costs=[bill(1, "20.010", 5_000_00)], progress=DONE, changes=changes)
    check_draw(draw(books, of=loan(**terms)))


def test_a_transfer_lowers_a_line_by_no_more_than_its_part_in_all():
    """10 % of $20,000.00 is $2,000.00: twice $1,000.00 passes, a cent more does not."""
    tenth = {"transfer_fraction": Decimal("0.10")}
    first = change(30, MONTH_END, {"30.010": -1_000_00, "40.010": 1_000_00})
    second = change(31, MONTH_END, {"30.010": -1_000_00, "20.010": 1_000_00})
    checked([first, second], **tenth)
    over = change(32, MONTH_END, {"30.010": -1, "20.010": 1})
    assert refused([first, second, over], **tenth) == (
        "line 2: transfers lower it by $2,000.01, more than 10 % of $20,000.00; "
        "the lender approves that"
    )
    checked([first, second, over], approved_rows=(32,), **tenth)


def test_a_change_that_takes_work_out_is_no_transfer():
    checked([change(30, MONTH_END, {"30.010": -9_000_00})], transfer_fraction=Decimal(0))


def test_the_contingency_is_used_in_proportion_where_the_terms_say_so():
    """$5,000.00 of $48,400.00 is done, 10.33 %: $413.22 of $4,000.00 may be used."""
    even = {"contingency_use": "in proportion"}
    checked([change(30, MONTH_END, {"contingency": -400_00, "30.010": 400_00})], **even)
    more = [change(30, MONTH_END, {"contingency": -420_00, "30.010": 420_00})]
    assert refused(more, **even) == (
        "line 5: $420.00 of $4,000.00 is used, and 10.33 % of the work is done; "
        "the lender approves more"
    )
    checked(more, approved_rows=(30,), **even)
    checked(more)
