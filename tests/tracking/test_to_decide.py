"""What the owner is to decide: changes that wait, allowances to reconcile."""

from dataclasses import replace

import pytest

from estimator.tracking.budget import Change, ChangePart
from estimator.tracking.spent import Spent
from estimator.tracking.to_decide import open_allowances, waiting_changes
from tests.tracking.estimates import line, printed, rate
from tests.tracking.rows import MONDAY, at, progress
from tests.tracking.test_status import status

ESTIMATE = printed(
    lines=[line("40.010", "stated wall", "labor", "$", 4800, 480_000)],
    rates=[replace(rate("stated wall", "labor", "$", "1"), form="allowance")],
)


def change(row, state, *cents, number="CO-3"):
    parts = tuple(ChangePart("20.010", {"material": one}) for one in cents)
    return Change(row, MONDAY, at(MONDAY, row), "soft ground", parts, number, state)


def test_a_change_that_waits_says_how_much_and_why():
    steps = [change(1, "draft", 47_765), change(2, "submitted", 47_765)]
    transfer = change(3, "draft", 5_000, -5_000, number="CO-4")
    assert [(one.cents, one.sentence) for one in waiting_changes([*steps, transfer])] == [
        (47_765, "change CO-3 is submitted and waits for approval: $477.65 more, soft ground; it "
         "is in no budget yet"),
        (0, "change CO-4 is a draft: a transfer, soft ground; it is in no budget yet"),
    ]  # fmt: skip


@pytest.mark.parametrize("state", ["approved", "rejected"])
def test_what_is_decided_waits_no_more(state):
    assert waiting_changes([change(1, "submitted", 100), change(2, state, 100)]) == []


@pytest.mark.parametrize(
    ("incurred", "left", "way"), [(367_210, "$1,127.90", "to"), (500_000, "$200.00", "from")]
)
def test_an_allowance_that_is_done_is_to_be_reconciled(incurred, left, way):
    job = status([progress(1, "40.010", "240")], {("40.010", "labor"): Spent(incurred)})
    (one,) = open_allowances(job, ESTIMATE)
    assert one.sentence.endswith(f"reconcile it by a change of {left} {way} the contingency")
    assert one.cents == abs(480_000 - incurred)


def test_an_allowance_under_way_or_reconciled_and_any_other_code_say_nothing():
    spent = {("40.010", "labor"): Spent(480_000), ("20.010", "labor"): Spent(100)}
    under_way = status([progress(1, "40.010", "120")], {("40.010", "labor"): Spent(100)})
    reconciled = status([progress(1, "40.010", "240"), progress(2, "20.010", "400")], spent)
    assert open_allowances(under_way, ESTIMATE) == open_allowances(reconciled, ESTIMATE) == []
