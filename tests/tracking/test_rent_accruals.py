"""Rent accrues until a bill names it, and ends with its call-off; hours of machines."""

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import pytest

from estimator.errors import EquipmentFaulty
from estimator.rates.machines.rental_rates import RentalRates
from estimator.tracking.books import Books
from estimator.tracking.job_track import track
from estimator.tracking.machine_log import (
    MachineHours,
    MachineTime,
    check_machine_hours,
    machine_times,
)
from estimator.tracking.machines_on_rent import CalledOff, OnRent, running_rents
from estimator.tracking.spent import Spent
from estimator.tracking.track_json import track_fields
from tests.tracking.rows import MONDAY, NOW, at, cost, progress
from tests.tracking.test_status import BUDGET, code

WEDNESDAY, THURSDAY, SUNDAY = (MONDAY + timedelta(days) for days in (2, 3, 6))
RATES = RentalRates(day=Decimal(295), week=Decimal(1040))
LIFT = OnRent(1, MONDAY, at(MONDAY), "lift", "Yard", "20.010", RATES)
OFF = CalledOff(2, THURSDAY, at(THURSDAY), 1)


def bill(row, cents, happened=WEDNESDAY, **more):
    return cost(row, ("20.010", "equipment", cents, 0), happened=happened, rents=(1,), **more)


def spent(as_of, **lists):
    report = track(Books(rents=[LIFT], **lists), BUDGET, as_of, NOW)
    return code(report.status, "20.010").kinds["equipment"].spent


def test_rent_accrues_day_by_day_until_it_is_billed():
    """Three days at $295 are $885.00; the week is $1,040.00."""
    assert spent(MONDAY) == Spent(accrued_cents=29_500)
    assert spent(WEDNESDAY) == Spent(accrued_cents=88_500)
    assert spent(SUNDAY) == Spent(accrued_cents=104_000)


def test_a_report_says_through_which_day_a_rent_stays_the_same_and_what_comes_then():
    """The week holds from its fourth day to Sunday; Monday is a day at $295.00 more."""
    (lift,) = track_fields(track(Books(rents=[LIFT]), BUDGET, THURSDAY, NOW))["rents"]
    assert (lift["so_far"], lift["same_through"], lift["then"]) == (
        "1040.00", "2026-05-10", "1335.00",
    )  # fmt: skip
    ended = track(Books(rents=[LIFT], called_off=[OFF]), BUDGET, THURSDAY, NOW)
    assert track_fields(ended)["rents"][0]["same_through"] is None


def test_a_bill_replaces_the_accrual_to_its_last_day_whatever_it_comes_to():
    """Billed $900.00 through Wednesday; the rest of the week adds $1,040.00 - $885.00."""
    costs = [bill(3, 90_000)]
    assert spent(WEDNESDAY, costs=costs) == Spent(billed_cents=90_000)
    assert spent(SUNDAY, costs=costs) == Spent(billed_cents=90_000, accrued_cents=15_500)
    whole = [bill(3, 104_000, happened=SUNDAY + timedelta(5), rent_through=SUNDAY)]
    after = SUNDAY + timedelta(5)
    assert spent(after, costs=whole, called_off=[OFF]) == Spent(billed_cents=104_000)


def test_a_bill_that_is_reversed_brings_the_accrual_back():
    first = bill(3, 90_000)
    negated = tuple(replace(one, net_cents=-one.net_cents) for one in first.splits)
    back = replace(first, row=4, splits=negated, reverses=3)
    assert spent(SUNDAY, costs=[first, back]) == Spent(accrued_cents=104_000)


def test_a_call_off_ends_the_rent_and_the_last_of_several_counts():
    """Called off on Thursday: the week's $1,040.00, however late one looks."""
    june = date(2026, 6, 1)
    assert spent(june, called_off=[OFF]).accrued_cents == 104_000
    tuesday = CalledOff(5, MONDAY + timedelta(1), at(THURSDAY), 1)
    assert spent(june, called_off=[OFF, tuesday]).accrued_cents == 59_000


def test_a_machine_that_is_called_off_needs_no_attention():
    running = track(Books(rents=[LIFT]), BUDGET, THURSDAY, NOW)
    assert any("call the lift off by Sunday" in one.sentence for one in running.attention)
    called = track(Books(rents=[LIFT], called_off=[OFF]), BUDGET, THURSDAY, NOW)
    assert not any("lift" in one.sentence for one in called.attention)


def test_a_rent_that_is_taken_back_is_none():
    assert running_rents([LIFT, replace(LIFT, row=2, reverses=1)], []) == []


def test_the_forecast_counts_the_accrued_rent_of_its_window():
    """$1,040.00 for 100 of 400 ton: 300 more at $10.40."""
    books = Books(rents=[LIFT], called_off=[OFF], progress=[progress(9, "20.010", "100")])
    assert track(books, BUDGET, SUNDAY, NOW).rests["20.010"].cents == 312_000


def machine_hours(row, run, standing="0", **more):
    fields = {"machine": "lift", "code": "20.010", "run": Decimal(run)} | more
    return MachineHours(row, MONDAY, at(MONDAY), standing=Decimal(standing), **fields)


def test_hours_of_a_machine_are_shown_run_and_standing():
    rows = [
        machine_hours(1, "6.5", "1.5"),
        machine_hours(2, "4"),
        machine_hours(3, "2", machine="saw"),
    ]
    assert dict(machine_times(rows)) == {
        "lift": MachineTime(Decimal("10.5"), Decimal("1.5")),
        "saw": MachineTime(Decimal(2), Decimal(0)),
    }


def test_a_machine_has_no_more_hours_than_a_day_and_not_none():
    with pytest.raises(EquipmentFaulty, match=r"24\.5 hours of lift are more than a day has"):
        check_machine_hours(machine_hours(2, "4.5"), [machine_hours(1, "12", "8")])
    with pytest.raises(EquipmentFaulty, match="run: and standing are both zero"):
        check_machine_hours(machine_hours(2, "0"), [])
