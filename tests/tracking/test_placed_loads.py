"""Loads that delivery places: they are in place until somebody measures."""

from datetime import timedelta
from decimal import Decimal

import pytest

from estimator.errors import LedgerFaulty
from estimator.tracking.books import Books
from estimator.tracking.hold_points import HoldPoint
from estimator.tracking.placed_loads import REASON, with_placed
from estimator.tracking.site_checks import check_ticket, placed_notes
from tests.tracking.rows import LATER, MONDAY, NOW, at, progress, ticket
from tests.tracking.test_books import told
from tests.tracking.test_posting import FILL
from tests.tracking.test_status import code

TUESDAY, WEDNESDAY = MONDAY + timedelta(1), MONDAY + timedelta(2)


def load(row, day, tons="16.25", **more):
    return ticket(row, 40_000, day, quantity=Decimal(tons), is_placed=True, **more)


def days(measured, tickets):
    rows = sorted(with_placed(measured, tickets), key=lambda one: (one.happened, one.row))
    return [(one.happened, one.in_place) for one in rows]


def test_loads_are_added_to_what_was_measured_before_their_day():
    """40 ton measured on Monday; 16.25 and 16.25 on Tuesday, 10 on Wednesday."""
    loads = [load(2, TUESDAY), load(3, TUESDAY), load(4, WEDNESDAY, "10")]
    assert days([progress(1, "20.010", "40")], loads) == [
        (MONDAY, Decimal(40)), (TUESDAY, Decimal("72.50")), (WEDNESDAY, Decimal("82.50")),
    ]  # fmt: skip


def test_a_measurement_of_that_day_or_later_holds_in_their_place():
    measured = [progress(1, "20.010", "40"), progress(5, "20.010", "70", WEDNESDAY)]
    loads = [load(2, TUESDAY), load(3, WEDNESDAY, "10"), load(6, LATER, "5")]
    assert days(measured, loads) == [
        (MONDAY, Decimal(40)), (TUESDAY, Decimal("56.25")), (WEDNESDAY, Decimal(70)),
        (LATER, Decimal(75)),
    ]  # fmt: skip


def test_a_load_that_was_taken_back_comes_off_unless_somebody_measured_since():
    loads = [load(2, MONDAY), load(3, TUESDAY, "-16.25", reverses=2), ticket(4, 40_000, TUESDAY)]
    assert days([], loads) == [(MONDAY, Decimal("16.25")), (TUESDAY, Decimal(0))]
    assert days([progress(5, "20.010", "20")], loads) == [(MONDAY, Decimal(20))]


def test_nothing_is_added_to_a_percent():
    half = progress(1, "20.010", "50", is_percent=True)
    assert days([half], [load(2, TUESDAY)]) == [(MONDAY, Decimal(50))]


def test_twice_adds_no_more_than_once():
    loads = [load(2, TUESDAY), load(3, WEDNESDAY)]
    once = with_placed([progress(1, "20.010", "40")], loads)
    assert with_placed(once, loads) == once


def test_a_report_earns_them_and_one_known_before_a_late_ticket_stays_as_it_was():
    """$14,600.00 / 400 ton x 32.5 ton are $1,186.25."""
    late = load(2, MONDAY, entered=at(WEDNESDAY))
    books = Books(tickets=[load(1, MONDAY), late])
    fill = code(told(books).status, "20.010")
    assert (fill.quantity, fill.earned_cents) == (Decimal("32.50"), 118_625)
    (then,) = books.known(LATER, at(TUESDAY)).progress
    assert (then.in_place, then.reason) == (Decimal("16.25"), REASON)
    assert books.known(LATER, NOW).progress[0].entered == at(WEDNESDAY)


def test_a_load_is_placed_in_the_unit_of_the_work_and_says_which_hold_is_open():
    with pytest.raises(LedgerFaulty, match=r"unit: is .cy., and 20\.010 is measured in ton"):
        check_ticket(load(1, MONDAY, unit="cy"), {FILL.code: FILL}, [], MONDAY)
    check_ticket(load(1, MONDAY), {FILL.code: FILL}, [], MONDAY)
    hold = HoldPoint(1, MONDAY, at(MONDAY), "20.010", "lift 1", "95 %", "engineer")
    assert placed_notes(load(2, MONDAY), [hold]) == ["placed while lift 1 is open: it needs 95 %"]
    assert placed_notes(ticket(2, 5), [hold]) == []
