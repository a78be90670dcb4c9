"""What a job's record teaches besides prices: waste, life of blades, recovery, pace."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import numpy as np
import pytest

from estimator.tracking.books import Books
from estimator.tracking.job_record import PACE, PRICE, job_rates, learned_rows
from estimator.tracking.job_use import LIFE, RECOVERY, WASTE
from estimator.tracking.own_stock import RECOVERED, UNUSED, USED, StockMove
from estimator.tracking.payroll_week import HoursRow
from tests.tracking.estimates import line, printed, rate, work
from tests.tracking.rows import MONDAY, at, cost, progress, ticket

FLOOR = "20.010"
FILL = "30.020"
ESTIMATE = printed(
    items=[work(FLOOR, "1800", "sf"), work(FILL, "400", "ton")],
    lines=[
        line(FLOOR, "saw-blade", "consumable", "blade", 12, 20_400, net=10, left_over=2),
        line(FLOOR, "laborer", "labor", "hr", 360, 1_296_000),
        line(FILL, "stone", "material", "ton", 480, 1_152_000, net=440, waste=40),
    ],
)


def day(number):
    return MONDAY + timedelta(number)


def measured(code, *in_place):
    return [
        progress(90 + n, code, str(one), happened=day(n)) for n, one in enumerate(in_place)
    ]  # fmt: skip


def stock(move, code, unit, *quantities):
    return [
        StockMove(50 + n, day(n), at(day(n)), "saw-blade", unit, move, Decimal(one), code)
        for n, one in enumerate(quantities)
    ]


def learned(books, **more):
    return {(one.what, one.code): one for one in job_rates(books, ESTIMATE, **more)}


def test_waste_is_bought_less_used_over_used_against_that_of_the_estimate():
    """Each ton placed needs 1.1 loose: 36, 34 and 40 bought for 30, 30 and 30, so 110 for 99."""
    tons = [(Decimal(36), 0), (Decimal(34), 1), (Decimal(40), 2)]
    books = Books(
        tickets=[ticket(n + 1, 0, day(n), code=FILL, quantity=one) for one, n in tons],
        progress=measured(FILL, 30, 60, 90),
    )
    waste = learned(books)[WASTE, FILL]
    assert (waste.unit, waste.learned.observations) == ("ton/ton", 3)
    assert waste.learned.mean == pytest.approx(11 / 99)
    assert waste.table == pytest.approx(40 / 440)


def test_what_tickets_brought_is_not_bought_again_by_its_bill():
    loads = [ticket(n + 1, 0, day(n), code=FILL, quantity=Decimal(33)) for n in range(3)]
    bills = [
        cost(9 + n, (FILL, "material", 100, 0), happened=day(n), quantity=Decimal(66), unit="ton")
        for n in range(3)
    ]
    steps = measured(FILL, 30, 60, 90)
    seen = [
        learned(Books(tickets=own, costs=bills, progress=steps))[WASTE, FILL].learned.mean
        for own in (loads, [])
    ]
    assert seen == [pytest.approx(0.0), pytest.approx(1.0)]


def test_a_price_is_learned_of_bills_on_one_code_and_kind_before_tax():
    """20 tons each at $500, $510 and $520 are $25.50 a ton; a bill on two codes says no price."""
    bills = [
        cost(n, (FILL, "material", net, 35), quantity=Decimal(20), unit="ton")
        for n, net in enumerate((50_000, 51_000, 52_000), 1)
    ]
    shared = cost(4, (FILL, "material", 90_000, 0), (FLOOR, "material", 1, 0),
                  quantity=Decimal(20), unit="ton")  # fmt: skip
    known = replace(ESTIMATE, rates=(rate("stone", "material", "ton", "24.00"),))
    rates = {one.what: one for one in job_rates(Books(costs=[*bills, shared]), known)}
    assert rates[PRICE].code == "stone"
    assert (rates[PRICE].learned.observations, rates[PRICE].learned.mean) == (3, 25.50)


def test_the_life_of_a_blade_is_what_was_cut_over_the_blades_that_were_used():
    """180, 120 and 150 sf with 2, 1 and 2 blades: 90 sf a blade; the estimate has 180."""
    books = Books(
        stock=stock(USED, FLOOR, "blade", 2, 1, 2), progress=measured(FLOOR, 180, 300, 450)
    )  # fmt: skip
    life = learned(books)[LIFE, FLOOR]
    assert (life.unit, life.learned.mean, life.table) == ("sf/blade", 90.0, 180.0)


def test_a_thin_waste_and_a_thin_life_are_drawn_toward_the_range_of_their_input():
    """The weight of the record is s0^2 / (s0^2 + s^2).

    Waste 11/99, s = sqrt(18.67 / 6) / 33 = 0.0534; 0.02 to 0.15, s0 = 0.13 / 2.563 = 0.0507.
    Life 90, s = sqrt(1800 / 6) / (5 / 3) = 10.39; 120 to 320, s0 = 78.03.
    """
    books = Books(
        tickets=[
            ticket(n + 1, 0, day(n), code=FILL, quantity=Decimal(one))
            for n, one in enumerate((36, 34, 40))
        ],
        stock=stock(USED, FLOOR, "blade", 2, 1, 2),
        progress=[*measured(FILL, 30, 60, 90), *measured(FLOOR, 180, 300, 450)],
    )
    ranges = {(WASTE, FILL, "ton/ton"): (0.22, 1.65), (LIFE, FLOOR, "sf/blade"): (2 / 3, 16 / 9)}
    rates = learned(books, ranges=ranges)
    waste, life = rates[WASTE, FILL].proposal, rates[LIFE, FLOOR].proposal
    assert (waste.rate, waste.weight) == (
        pytest.approx(0.10048, abs=1e-5),
        pytest.approx(0.4738, abs=1e-4),
    )
    assert (life.rate, life.weight) == (
        pytest.approx(91.569, abs=1e-3),
        pytest.approx(0.9826, abs=1e-4),
    )
    assert waste.evidence.endswith(
        "table 0.09091, range 0.02 to 0.15; drawn toward it, the record weighs 47 %"
    )


def test_blades_that_were_bought_stand_for_those_used_where_nobody_logs_their_use():
    bills = [
        cost(n + 1, (FLOOR, "consumable", 3_400, 0), happened=day(n), quantity=Decimal(2),
             unit="blade")
        for n in range(3)
    ]  # fmt: skip
    steps = measured(FLOOR, 180, 300, 450)
    assert learned(Books(costs=bills, progress=steps))[LIFE, FLOOR].learned.mean == 75.0
    moves = stock(USED, FLOOR, "blade", 1, 1, 1)
    both = Books(costs=bills, stock=moves, progress=steps)
    assert learned(both)[LIFE, FLOOR].learned.mean == 150.0


def test_recovery_is_what_came_up_sound_over_what_was_taken_up():
    """From one entry to the next: 126, 84 and 105 of 180, 120 and 150 sf."""
    books = Books(
        stock=stock(RECOVERED, FLOOR, "sf", 126, 84, 105), progress=measured(FLOOR, 180, 300, 450)
    )  # fmt: skip
    recovery = learned(books)[RECOVERY, FLOOR]
    assert (recovery.unit, recovery.learned.mean) == ("sf/sf", pytest.approx(0.7))


def test_an_entry_of_recovery_covers_all_that_was_taken_up_since_the_one_before():
    moves = [one for one in stock(RECOVERED, FLOOR, "sf", 0, 210, 0, 70, 0, 70) if one.quantity]
    steps = measured(FLOOR, 100, 300, 350, 400, 450, 500)
    recovery = learned(Books(stock=moves, progress=steps))[RECOVERY, FLOOR]
    assert (recovery.learned.observations, recovery.learned.mean) == (3, 350 / 500)


def hours(*worked):
    return [
        HoursRow(n + 1, day(n), at(day(n)), "DM", "laborer", FLOOR, Decimal(one), Decimal(36))
        for n, one in enumerate(worked)
    ]


def test_a_thin_pace_is_drawn_toward_its_range():
    """0.2 hr/sf in the estimate, 0.18 to 0.25 by its range; the record has 0.3."""
    books = Books(hours=hours(45, 90, 30), progress=measured(FLOOR, 200, 350, 550))
    thin = learned(books, ranges={(PACE, FLOOR, "hr/sf"): (0.9, 1.25)})[PACE, FLOOR]
    free = learned(books)[PACE, FLOOR]
    assert free.proposal.rate == pytest.approx(0.3)
    assert 0.2 < thin.proposal.rate < 0.26
    assert thin.row is None
    assert "table 0.2, range 0.18 to 0.25; drawn toward it" in thin.proposal.evidence


@pytest.mark.parametrize(("what", "truth"), [(WASTE, 0.10), (LIFE, 90.0), (RECOVERY, 0.7)])
def test_intervals_of_use_hold_the_truth_as_often_as_they_claim(what, truth):
    """400 records of ten days: 80 % of the intervals hold it, give or take 5."""
    draw = np.random.default_rng(1906)
    held = 0
    for _ in range(400):
        held += _holds(draw, what, truth)
    assert held / 400 == pytest.approx(0.8, abs=0.05)


def _holds(draw, what, truth):
    placed = draw.uniform(80, 120, 10)
    steps = measured(FILL if what == WASTE else FLOOR, *(f"{one:.3f}" for one in placed.cumsum()))
    noise = draw.normal(0, 0.08, 10)
    if what == WASTE:
        bought = placed * 1.1 * (1 + truth + noise)
        books = Books(
            tickets=[ticket(n + 1, 0, day(n), code=FILL, quantity=Decimal(f"{one:.3f}"))
                     for n, one in enumerate(bought)],
            progress=steps,
        )  # fmt: skip
        rate = learned(books)[WASTE, FILL]
    elif what == RECOVERY:
        sound = (f"{one:.3f}" for one in placed * (truth + noise))
        rate = learned(Books(stock=stock(RECOVERED, FLOOR, "sf", *sound), progress=steps))[
            RECOVERY, FLOOR
        ]
    else:
        blades = (f"{one:.3f}" for one in placed / (truth * (1 + noise)))
        rate = learned(Books(stock=stock(USED, FLOOR, "blade", *blades), progress=steps))[
            LIFE, FLOOR
        ]
    return rate.learned.low <= truth <= rate.learned.high


def test_what_is_placed_of_a_pile_that_came_before_teaches_no_waste():
    """Nothing is bought for the third and the fifth measurement: three of five are observed."""
    loads = [ticket(n + 1, 0, day(n), code=FILL, quantity=Decimal(40)) for n in (0, 1, 3)]
    books = Books(tickets=loads, progress=measured(FILL, 30, 60, 61, 91, 92))
    assert learned(books)[WASTE, FILL].learned.observations == 3


def test_a_count_of_what_lies_there_is_bought_and_not_wasted():
    """20 of 120 ton lie there: 100 went into 60 placed, which need 66; all 120 without a count."""
    loads = [ticket(n + 1, 0, day(n), code=FILL, quantity=Decimal(40)) for n in range(3)]
    left = StockMove(
        60, day(2), at(day(2)), "stone", "ton", UNUSED, Decimal(20), FILL, "material", 48_000
    )  # fmt: skip
    books = Books(tickets=loads, stock=[left], progress=measured(FILL, 20, 40, 60))
    seen = learned(replace(books, stock=[]))[WASTE, FILL], learned(books)[WASTE, FILL]
    assert [one.learned.mean for one in seen] == [pytest.approx(54 / 66), pytest.approx(34 / 66)]


def test_a_learned_price_widens_the_range_of_its_row_and_adds_none():
    stone = rate("stone", "material", "ton", "24.00", "23.00", "25.00")
    bills = [
        cost(n, (FILL, "material", net, 0), quantity=Decimal(20), unit="ton")
        for n, net in enumerate((51_900, 52_000, 52_100), 1)
    ]
    for row, low, high in (
        (stone, "23.00", "26.0000"),
        (replace(stone, low=None, high=None), None, None),
    ):
        rates = job_rates(Books(costs=bills), replace(ESTIMATE, rates=(row,)))
        (new,) = learned_rows(rates, MONDAY)
        assert new.rate == pytest.approx(Decimal("26.0000"), abs=Decimal("0.1"))
        assert new.low == (low if low is None else Decimal(low))
        assert new.high == (high if high is None else new.rate)
        assert (new.set_on, new.valid_until) == (MONDAY, None)
