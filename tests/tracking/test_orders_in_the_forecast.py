"""What is ordered is in the forecast once: a delivery and its bill move it, and add nothing."""

from datetime import timedelta
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from estimator.rates.machines.rental_rates import RentalRates
from estimator.tracking.books import Books
from estimator.tracking.commitments import Commitment
from estimator.tracking.job_track import track
from estimator.tracking.machines_on_rent import OnRent
from estimator.tracking.payroll_week import HoursRow
from tests.tracking.rows import MONDAY, NOW, at, cost, progress, ticket
from tests.tracking.test_status import BUDGET, code

STONE = ("20.010", "material")
# 8 % on each bill of stone: $250.00 come to $270.00, and the order's $8,000.00 to $8,640.00.
TAXED = cost(1, ("10.010", "material", 25_000, 2_000))
PLACED = progress(2, "20.010", "100")


def order(cents, kind="material"):
    return Commitment(3, MONDAY, at(MONDAY), "PO-1", "Quarry", "20.010", kind, cents)


def report(**lists):
    return track(Books(progress=[PLACED], **lists), BUDGET, MONDAY, NOW)


def forecast(**lists):
    own = report(**lists)
    return own.forecast_cents(code(own.status, "20.010"))


def test_a_load_on_an_order_adds_nothing_to_the_forecast_and_neither_does_its_bill():
    """Ordered for $8,640.00 with its tax; loads for $2,160.00 of that are $2,000.00 before it."""
    crew = cost(4, ("20.010", "labor", 50_000, 0))
    ordered = {"commitments": [order(800_000)]}
    load = ticket(5, 216_000)
    bill = cost(6, (*STONE, 200_000, 16_000), order="PO-1", tickets=(5,))
    first = forecast(costs=[TAXED, crew], **ordered)
    # The crew cost $5.00 a ton, and 300 tons are to come.
    assert first == 50_000 + 150_000 + 864_000
    assert forecast(costs=[TAXED, crew], tickets=[load], **ordered) == first
    assert forecast(costs=[TAXED, crew, bill], tickets=[load], **ordered) == first


@given(st.lists(st.integers(1, 40_000), min_size=1, max_size=9), st.data())
def test_whatever_was_delivered_and_billed_of_an_order_the_forecast_stays(nets, data):
    """Each load is $25.00 a cent of 8 % tax: 25 times the number drawn, and 2 times that."""
    loads = [ticket(10 + n, net * 27) for n, net in enumerate(nets)]
    billed = data.draw(st.sets(st.sampled_from(range(len(nets)))))
    bills = [
        cost(50 + n, (*STONE, nets[n] * 25, nets[n] * 2), order="PO-1", tickets=(10 + n,))
        for n in sorted(billed)
    ]
    whole = order(sum(nets) * 25 + 5_000)
    lists = {"commitments": [whole], "tickets": loads, "costs": [TAXED, *bills]}
    own = code(report(**lists).status, "20.010")
    assert own.spent.incurred_cents == sum(nets) * 27
    assert own.committed_cents == 5_400  # what nobody delivered, with its tax


def test_rent_that_accrues_on_an_order_is_part_of_it_and_more_than_the_order_is_no_credit():
    rates = RentalRates(day=Decimal(295), week=Decimal(1040))
    lift = OnRent(1, MONDAY, at(MONDAY), "lift", "Yard", "20.010", rates)
    ordered = {"commitments": [order(100_000, "equipment")], "rents": [lift]}

    def on_order(days):
        books = Books(**ordered)
        own = track(books, BUDGET, MONDAY + timedelta(days), NOW)
        return code(own.status, "20.010").committed_cents

    assert [on_order(days) for days in (0, 1, 2, 3)] == [70_500, 41_000, 11_500, 0]


def test_the_hours_of_the_crew_are_no_delivery_on_an_order_for_labor():
    hours = HoursRow(5, MONDAY, at(MONDAY), "AB", "laborer", "20.010", Decimal(8), Decimal(24))
    own = report(commitments=[order(100_000, "labor")], hours=[hours])
    assert code(own.status, "20.010").committed_cents == 100_000
