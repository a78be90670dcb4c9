"""Holds, stock, orders, tickets against bills, and measured points."""

from dataclasses import replace
from datetime import date, time
from decimal import Decimal

from estimator.tracking.commitments import (
    Commitment,
    order_stands,
    over_billing_sentences,
    still_to_come,
)
from estimator.tracking.delivered_loads import Delivered, deliveries
from estimator.tracking.hold_points import HoldPoint, HoldResult, hold_sentence, open_holds
from estimator.tracking.ledger_lines import lines_of
from estimator.tracking.ledger_sums import sums_of
from estimator.tracking.measured_points import (
    MeasuredPoint,
    Reading,
    limit_sentence,
    point_courses,
)
from estimator.tracking.own_stock import (
    UNUSED,
    Stock,
    StockMove,
    over_use_sentences,
    stock,
    unused_steps,
)
from estimator.tracking.tickets import bill_against_tickets, priced_like_last
from tests.tracking.rows import MONDAY, at, cost, payment, ticket

DENSITY = HoldPoint(
    1, MONDAY, at(MONDAY), "20.010", "density of lift 1", "95 %", "engineer", Decimal(40)
)


def result(row, passed, day=MONDAY):
    return HoldResult(row, day, at(day), "20.010", "density of lift 1", passed)


def test_a_hold_is_open_until_it_is_passed_and_again_when_a_later_test_fails():
    assert open_holds([DENSITY], []) == [DENSITY]
    assert open_holds([DENSITY], [result(1, False), result(2, True)]) == []
    assert open_holds([DENSITY], [result(1, True), result(2, False, date(2026, 5, 6))]) == [DENSITY]


def test_who_decides_has_one_article_however_it_is_written():
    for decides in ("engineer", "the engineer", "The engineer"):
        sentence = hold_sentence(replace(DENSITY, decides=decides), None)
        assert sentence.lower().endswith("it needs 95 %, and the engineer decides")


def move(row, kind, quantity):
    return StockMove(row, MONDAY, at(MONDAY), "floor plank", "sf", kind, Decimal(quantity))


def test_own_stock_is_what_came_less_what_went():
    moves = [move(1, "recovered", "890"), move(2, "used", "600"), move(3, "sold", "90")]
    stands = stock(moves)
    expected = Stock("sf", recovered=Decimal(890), used=Decimal(600), sold=Decimal(90))
    assert stands["floor plank"] == expected
    assert (stands["floor plank"].left, over_use_sentences(stands)) == (Decimal(200), [])


def test_use_beyond_the_stock_is_reported_with_its_figures():
    stands = stock([move(1, "recovered", "890"), move(2, "used", "1010")])
    assert over_use_sentences(stands) == [
        "floor plank: 1,010 sf used or sold, out of a stock of 890 sf; 120 sf short"
    ]


def test_what_was_there_before_the_job_is_stock_too():
    stands = stock(
        [move(1, "had before", "100"), move(2, "recovered", "30"), move(3, "used", "131")]
    )
    assert over_use_sentences(stands) == [
        "floor plank: 131 sf used or sold, out of a stock of 130 sf; 1 sf short"
    ]


def test_a_change_of_an_order_has_its_number_and_what_is_left_follows():
    order = Commitment(1, MONDAY, at(MONDAY), "7", "Roofer", "50.010", "subcontract", 1_840_000)
    more = Commitment(2, MONDAY, at(MONDAY), "7", "Roofer", "50.010", "subcontract", 60_000)
    bills = [
        cost(3, ("50.010", "subcontract", 900_000, 0), order="7"),
        cost(4, ("50.010", "subcontract", -50_000, 0), order="7", is_credit=True),
        cost(5, ("50.010", "subcontract", 77_000, 0)),
    ]
    stands = order_stands([order, more], sums_of(lines_of(bills)).billed_on_orders())
    assert dict(still_to_come(stands.values())) == {("50.010", "subcontract"): 1_050_000}


def test_retainage_is_a_share_of_the_bills_until_it_is_paid_out():
    """A tenth of $9,000.00, as the change of the order says nothing of it; then $700.00 of it."""
    place = ("50.010", "subcontract")
    order = Commitment(1, MONDAY, at(MONDAY), "7", "Roofer", *place, 1_840_000, Decimal("0.10"))
    more = Commitment(2, MONDAY, at(MONDAY), "7", "Roofer", *place, 60_000)
    rows = [cost(3, (*place, 900_000, 0), order="7"), payment(4, 3, 810_000)]

    def held(*paid):
        sums = sums_of(lines_of([*rows, *paid]))
        billed, still_open = sums.billed_on_orders(), sums.open_on_orders()
        return order_stands([order, more], billed, still_open)["7"].retainage_cents

    assert (held(), held(payment(5, 3, 70_000)), held(payment(5, 3, 90_000))) == (90_000, 20_000, 0)


def test_an_order_that_is_billed_over_is_reported_and_leaves_nothing():
    order = Commitment(1, MONDAY, at(MONDAY), "7", "Roofer", "50.010", "subcontract", 500)
    stands = order_stands([order], {"7": 650})
    assert (stands["7"].left_cents, stands["7"].over_billed_cents) == (0, 150)
    assert over_billing_sentences(stands) == [
        "order 7 (Roofer): $6.50 is billed on $5.00; $1.50 over"
    ]


def test_loads_of_a_code_are_added_up_with_the_time_of_their_trucks():
    times = {"came": time(7, 2), "left": time(7, 20)}
    loads = [ticket(1, 5, **times), ticket(2, 5), ticket(3, 5), ticket(4, -5, reverses=3)]
    both = Delivered("20.010", "material", "ton", 2, Decimal("32.50"), minutes=18, timed=1)
    assert deliveries(loads) == (both,)
    waiting = [replace(loads[0], waited_minutes=6), replace(loads[1], waited_minutes=0), *loads[2:]]
    assert deliveries(waiting) == (replace(both, waited=6, with_waiting=2),)


def test_twelve_loads_billed_against_eleven_tickets_is_reported():
    loads = [ticket(i, 40_000) for i in range(1, 12)]
    bill = cost(20, ("20.010", "material", 480_000, 0), tickets=tuple(range(1, 12)))
    assert bill_against_tickets(bill, loads, 12) == "12 loads billed against 11 tickets"
    assert bill_against_tickets(bill, loads, 11) == ""


def test_tons_that_differ_from_the_tickets_are_reported():
    bill = cost(
        3, ("20.010", "material", 80_000, 0), tickets=(1, 2), quantity=Decimal(34), unit="ton"
    )
    loads = [ticket(1, 40_000), ticket(2, 40_000)]
    assert bill_against_tickets(bill, loads, None) == "34 tons billed against 32.50 tons on tickets"


def test_a_ticket_knows_how_long_the_truck_was_there():
    assert ticket(1, 5, came=time(9, 25), left=time(10, 10)).minutes == 45
    assert ticket(1, 5).minutes == 0


CRACK = MeasuredPoint(1, MONDAY, at(MONDAY), "crack 3, north wall", "mm", most=Decimal("3.0"))


def readings(*values):
    return [
        Reading(i, date(2026, 5, 4 + 7 * i), at(MONDAY), CRACK.name, Decimal(value))
        for i, value in enumerate(values)
    ]


def test_a_limit_that_is_passed_stops_the_work():
    assert limit_sentence(CRACK, readings("2.0", "3.1")) == (
        "crack 3, north wall: 3.1 mm on 2026-05-11 is past the limit of 3.0 mm; stop the work "
        "there and call the engineer"
    )


def test_a_limit_that_the_last_two_readings_head_for_is_named_with_its_day():
    """0.4 mm in 7 days; the 0.6 mm that are left take 10.5 days from May 11."""
    assert limit_sentence(CRACK, readings("2.0", "2.4")) == (
        "crack 3, north wall: 2.4 mm on 2026-05-11; at the pace of the last two readings the limit "
        "of 3.0 mm is reached on 2026-05-21"
    )


def test_a_point_that_rests_or_moves_away_or_slowly_says_nothing():
    assert limit_sentence(CRACK, readings("2.4", "2.4")) == ""
    assert limit_sentence(CRACK, readings("2.4", "2.0")) == ""
    assert limit_sentence(CRACK, readings("2.0", "2.1")) == ""
    assert limit_sentence(CRACK, readings("2.0")) == limit_sentence(CRACK, []) == ""


def test_a_reading_belongs_to_its_point_whatever_its_case_and_blanks():
    other = [replace(one, point="Crack 3,  North wall") for one in readings("2.0", "3.1")]
    (course,) = point_courses([CRACK], other)
    assert [one.value for one in course.readings] == [Decimal("2.0"), Decimal("3.1")]
    assert "is past the limit" in course.sentence


def test_a_point_that_is_set_again_has_the_limits_of_the_last_time():
    wider = replace(CRACK, row=9, most=Decimal("4.0"))
    (course,) = point_courses([CRACK, wider], readings("2.0", "3.1"))
    assert course.point.most == Decimal("4.0")
    assert course.sentence == (
        "crack 3, north wall: 3.1 mm on 2026-05-11; at the pace of the last two readings the limit "
        "of 4.0 mm is reached on 2026-05-16"
    )


def test_a_load_without_an_amount_costs_as_much_a_ton_as_the_last_of_its_kind():
    """The last stands at $650.00 for 16.25 ton, $40.00 a ton: 10 ton are $400.00."""
    known = [
        ticket(1, 48_750),
        ticket(2, 65_000, date(2026, 5, 6)),
        ticket(3, 99_000, date(2026, 5, 7), unit="cy"),
        ticket(4, 0, date(2026, 5, 8)),
        ticket(5, 97_500, date(2026, 5, 9)),
        ticket(6, -97_500, date(2026, 5, 9), quantity=Decimal("-16.25"), reverses=5),
    ]
    load = ticket(7, 0, date(2026, 5, 10), quantity=Decimal(10))
    priced, notes = priced_like_last(load, known)
    assert (priced.cents, notes) == (40_000, ["without an amount: priced per ton as in row 2"])
    alone, notes = priced_like_last(load, known[2:4])
    assert (alone, notes) == (
        load, ["without an amount: it accrues nothing until its bill comes"],
    )  # fmt: skip


def test_what_is_held_back_of_an_order_is_as_its_last_change_says():
    order = Commitment(1, MONDAY, at(MONDAY), "7", "Roofer", "50.010", "subcontract", 1_840_000)
    tenth = replace(order, row=2, cents=0, retainage_fraction=Decimal("0.1"))
    more = replace(order, row=3, cents=60_000)
    held = [
        order_stands(rows, {})["7"].retainage_fraction
        for rows in ([order], [order, tenth], [order, tenth, more])
    ]
    assert held == [0, Decimal("0.1"), Decimal("0.1")]


def test_each_count_of_bought_material_steps_from_the_one_before_it():
    """20 ton, then 5 of it left: 15 went; another code and material begin anew."""
    counts = [
        StockMove(row, day, at(day), name, "ton", UNUSED, Decimal(tons), code, "material", cents)
        for row, day, name, code, tons, cents in (
            (1, MONDAY, "stone", "20.010", 20, 60_000),
            (2, date(2026, 5, 6), "Stone ", "20.010", 5, 15_000),
            (3, date(2026, 5, 7), "stone", "20.020", 7, 21_000),
            (4, date(2026, 5, 8), "sand", "20.010", 3, 9_000),
        )
    ]
    assert [(one.quantity, one.cents) for one in unused_steps(counts)] == [
        (20, 60_000), (-15, -45_000), (7, 21_000), (3, 9_000),
    ]  # fmt: skip
