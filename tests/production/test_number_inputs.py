"""Numbers of pace and distance as text, decimals or whole numbers: one rule on the whole floor."""

from datetime import date
from decimal import Decimal

import pytest

from estimator import compare, open_scope
from estimator.errors import (
    CalendarFaulty,
    EquipmentFaulty,
    LaborFaulty,
    MethodsFaulty,
    ProductionFaulty,
    ScopeFaulty,
)
from estimator.opening import SAMPLE_SCOPE
from estimator.production import (
    Delays,
    FlowStep,
    Lift,
    Load,
    Stage,
    StagedWork,
    Station,
    Step,
    TravelStep,
    WorkingCalendar,
    WorkingSystem,
    days_with_slow_start,
    delay_factor,
    finish,
    hour_efficiency,
    machines_to_keep_up,
    observed_pace,
    pace_of_sum,
    production_efficiency,
    roller_output_cy_per_hr,
    travel_minutes,
    working_time,
)
from estimator.rates.adjustment import escalated_amount, yearly_factor
from estimator.rates.machines import RentalRates, cheapest_rental

two_stages = StagedWork(100, (Stage("place", 10), Stage("level", 20)))


@pytest.mark.parametrize("distance", [880, 880.0, Decimal(880), "880 ft", "0.268224 km"])
@pytest.mark.parametrize("speed", [5, 5.0, Decimal(5), "5 mph", "440 ft/min", "8.04672 km/hr"])
def test_a_way_takes_as_long_however_it_is_written(distance, speed):
    assert travel_minutes(distance, speed) == pytest.approx(2.0, rel=1e-12)
    step = TravelStep("haul", distance, speed)
    assert step.minutes_for(Load(2, "cy")) == pytest.approx(2.0, rel=1e-12)


@pytest.mark.parametrize(
    ("made", "number"),
    [
        (lambda: Load("54 cf", "cy").size, 2.0),
        (lambda: Load("4,000 lb", "ton").size, 2.0),
        (lambda: FlowStep("pump", "27 cf/min", "cy").rate_per_hr, 60.0),
        (lambda: Step("dump", "90 sec").minutes, 1.5),
        (lambda: Lift("lower", "40 %", "1/2").share, 0.4),
        (lambda: Stage("place", Decimal("12.5"), "30").stock, 30.0),
        (lambda: working_time(Decimal(120), 10, "480 min").shift_hr, 8.0),
        (lambda: roller_output_cy_per_hr("6 ft", "2 mph", "1/2 ft", 4), 293.333333),
        (lambda: machines_to_keep_up(Decimal(90), 40), 3),
        (lambda: Station("loader", 1, "25 %").taken_by_others, 0.25),
        (lambda: observed_pace([Decimal(38), 46, "42", 50.0]).per_day, 44.0),
        (lambda: production_efficiency(["50 %", Decimal("0.75"), 0.75, 1]), 0.75),
        (lambda: delay_factor("50 %"), 1.34),
        (lambda: hour_efficiency("1/2 hr"), 0.5),
        (lambda: days_with_slow_start(100, Decimal(20), ["50 %", Decimal("0.75")]), 5.75),
        (lambda: two_stages.passed_on("place", "90 min"), 15.0),
        (lambda: Station("loader", "2").places, 2),
        (lambda: pace_of_sum(400, Decimal(8)).per_day, 50.0),
        (lambda: roller_output_cy_per_hr(6, 2, 6, "4"), 293.333333),
    ],
)
def test_texts_and_decimals_become_the_plain_number(made, number):
    assert made() == pytest.approx(number, rel=1e-8)


@pytest.mark.parametrize("passes", [Decimal("2.5"), "2.5", 2.5, "4 ft", Decimal("NaN")])
def test_a_count_of_passes_is_a_bare_whole_number(passes):
    with pytest.raises(ProductionFaulty, match="passes"):
        roller_output_cy_per_hr(6, 2, 6, passes)


def test_days_at_work_are_bare_numbers_because_a_week_of_them_is_not_seven():
    plain, monday = WorkingCalendar(), date(2026, 3, 2)
    assert finish(plain, monday, Decimal(5)).last_day == date(2026, 3, 6)
    with pytest.raises(CalendarFaulty, match="working_days: '1 week' is text; enter the bare"):
        finish(plain, monday, "1 week")


def test_texts_of_another_kind_are_reported_all_at_once():
    with pytest.raises(ProductionFaulty) as refusal:
        TravelStep("haul", "880", "5 ft")
    assert sorted(str(one) for one in refusal.value.faults) == [
        "distance_ft: '880' has no unit; write '880 ft'",
        "speed_mph: '5 ft' is a length, not ft * hr**-1; "
        "write it in mile/hr or a unit that converts to it",
    ]


@pytest.mark.parametrize("wrong", [True, None, b"3", Decimal("sNaN"), Decimal("NaN"), 10**400])
def test_what_is_no_number_of_pace_is_refused_by_its_name(wrong):
    what = "is (not a plain number|not a finite number|too large)"
    with pytest.raises(ProductionFaulty, match=f"^step 'dump', minutes: {what}"):
        Step("dump", wrong)
    load = Load(2, "cy")
    with pytest.raises(ProductionFaulty, match=r"^station 'yard', places: "):
        Station("yard", wrong)
    with pytest.raises(ProductionFaulty, match=f"^'one', shift_hr: {what}"):
        WorkingSystem("one", 1, load, (Step("dump", 1),), shift_hr=wrong)


@pytest.mark.parametrize("wrong", [True, [True, False], b"3", 10**400])
def test_what_is_no_number_of_labor_or_of_a_rental_is_refused_by_its_name(wrong):
    for refused in (
        lambda: hour_efficiency(working_minutes=wrong),
        lambda: Delays(wrong),
        lambda: days_with_slow_start(wrong, 20, [0.5]),
        lambda: production_efficiency([wrong]),
    ):
        with pytest.raises(LaborFaulty, match=r": is (not a number|too large)"):
            refused()
    rates = RentalRates(day="$295/day")
    with pytest.raises(EquipmentFaulty, match=r"^days: is (not a number|too large)"):
        cheapest_rental(wrong, rates)
    with pytest.raises(EquipmentFaulty, match=r"^meter_hours: is (not a number|too large)"):
        cheapest_rental(4, rates, wrong)


def test_delays_are_the_same_however_they_are_written():
    written = Delays("5/6 hr", (("site", "50 %"),), (Decimal("0.5"), "75 %"))
    assert written == Delays(50.0, (("site", 0.5),), (0.5, 0.75))
    assert next(iter(written.words())) == "50 minutes of each hour are worked (x 1.2)"


def test_a_yearly_change_is_written_as_it_is_said():
    assert yearly_factor("5 %", 12) == yearly_factor(Decimal("0.05"), 12) == Decimal("1.05")
    assert escalated_amount("$10,000", yearly_factor("5 %", 36)) == Decimal("11576.25")
    with pytest.raises(ScopeFaulty, match="yearly_change: is not an exact number"):
        yearly_factor(0.05, 12)
    assert yearly_factor(Decimal("-0.02"), 12) == Decimal("0.98")


def test_what_a_day_is_worth_is_text_or_exact():
    opened = open_scope(SAMPLE_SCOPE)
    worths = [compare(*opened, "30.020", worth).day_worth for worth in ("310 $/day", 310)]
    assert worths == [Decimal(310), Decimal(310)]
    with pytest.raises(MethodsFaulty, match="day_worth: is not an exact number"):
        compare(*opened, "30.020", 310.0)
