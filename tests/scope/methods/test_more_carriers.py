"""More than one carrier: who comes with each, what they are paid, and how many are enough."""

from decimal import Decimal

import pytest

from estimator.errors import MethodsFaulty, ScopeFaulty
from estimator.scheduling.dated_estimate import price
from estimator.scope.scope_digest import scope_digest
from estimator.studies.comparison.curves import cost_curves
from estimator.studies.comparison.findings import Variation, findings_of, range_of_variation
from estimator.studies.comparison.varied import varied_named
from tests.factories import SPRING
from tests.scope.methods.choices import BY_HAND, DIG, THROW, pit_choice, pit_scope, shipped

BRINGS = {"equipment-operator": "1", "skid-steer": "1"}


def digging(carriers, **more):
    system = DIG["production"] | {"carriers": f"{carriers}"} | more
    return DIG | {"production": system}


def crew_of(estimate):
    rows = estimate.lines.set_index("resource")
    return {
        one: rows.loc[one, "ordered"] for one in ("equipment-operator", "laborer", "skid-steer")
    }


def test_two_machines_bring_two_operators_and_leave_the_rest_of_the_crew():
    """One machine takes 100.8 ton / 14 ton/hr = 7.20 hr: an operator, a laborer, one day rented.

    Of two machines each waits at the edge; whatever that takes, two operators work twice the hours
    of the one laborer, and each machine is rented for a whole day of its own.
    """
    methods = digging(2, **{"each carrier brings": BRINGS}), BY_HAND
    two = crew_of(price(pit_scope(*methods), shipped(), SPRING))
    one = crew_of(price(pit_scope(DIG, BY_HAND), shipped(), SPRING))
    assert one == {"equipment-operator": 7.2, "laborer": 7.2, "skid-steer": 1.0}
    assert two["equipment-operator"] == pytest.approx(2 * two["laborer"], abs=0.011)
    assert (two["skid-steer"], two["laborer"] < one["laborer"]) == (2.0, True)


def test_a_second_machine_without_a_word_is_refused_with_what_to_write():
    with pytest.raises(ScopeFaulty) as caught:
        pit_scope(digging(2), BY_HAND)
    told = str(caught.value)
    assert "has 2 carriers, but its crew has too few skid-steer" in told
    assert "each carrier brings: {equipment-operator: 1, skid-steer: 1}" in told
    assert "each carrier brings: {} if one serves them all" in told


def test_one_machine_may_serve_all_carriers_if_the_scope_says_so():
    same = pit_scope(digging(2, **{"each carrier brings": {}}), BY_HAND)
    assert crew_of(price(same, shipped(), SPRING))["skid-steer"] == 1.0


def test_hired_carriers_and_crews_without_a_machine_need_no_word():
    assert len(pit_scope(THROW, BY_HAND).items[0].methods) == 2


def test_what_comes_with_a_carrier_is_part_of_the_digest():
    said = digging(1, **{"each carrier brings": BRINGS})
    assert scope_digest(pit_scope(said, BY_HAND)) != scope_digest(pit_scope(DIG, BY_HAND))


@pytest.mark.parametrize(
    ("brings", "fault"),
    [
        ({"skid-steer": "0"}, "is not a whole number from 1"),
        ({"skid-steer": "1.5"}, "is not a whole number from 1"),
        ({"skidsteer": "1"}, "did you mean 'skid-steer'"),
        ({"conveyor-truck": "1"}, "conveyor-truck"),
        ("two", "each carrier brings"),
    ],
)
def test_each_fault_in_what_a_carrier_brings_is_reported(brings, fault):
    with pytest.raises(ScopeFaulty, match=fault):
        pit_scope(digging(2, **{"each carrier brings": brings}), BY_HAND)


@pytest.mark.parametrize("carriers", ["0", "1.5", "-2", "two"])
def test_carriers_are_counted_in_whole_numbers(carriers):
    with pytest.raises(ScopeFaulty, match="is not a whole number from 1"):
        pit_scope(digging(carriers), BY_HAND)


def test_varied_carriers_cost_what_a_scope_with_so_many_costs():
    """How many machines: each number priced by the curve is priced the same when written."""
    dig = digging(1, **{"each carrier brings": BRINGS})
    comparison = pit_choice(dig, BY_HAND)
    varied = varied_named(comparison, "carriers")
    curves = cost_curves(comparison, varied, varied_values(1, 6))
    for place, number in enumerate(range(1, 7)):
        written = pit_choice(digging(number, **{"each carrier brings": BRINGS}), BY_HAND)
        assert curves.cents[0][place] == 100 * written.results[0].in_all
        assert curves.days[0][place] == pytest.approx(written.results[0].days, rel=1e-12)


def varied_values(first, last):
    import numpy as np

    return np.arange(first, last + 1.0)


def test_hired_trucks_vary_in_whole_numbers_and_their_hours_with_them():
    comparison = pit_choice(THROW, BY_HAND)
    varied = varied_named(comparison, "carriers")
    assert (varied.base, varied.unit.is_count) == (2.0, True)
    found = findings_of(comparison, (Variation("carriers", "1 ea", "6 ea"),))
    assert found.curves.values.tolist() == [1.0, 2.0, 3.0, 4.0, 5.0, 6.0]


def test_an_end_of_a_range_of_carriers_is_a_whole_number():
    varied = varied_named(pit_choice(THROW, BY_HAND), "carriers")
    with pytest.raises(MethodsFaulty, match="whole number"):
        range_of_variation(varied, Variation("carriers", "1.5 ea", "6 ea"))


def test_carriers_of_a_crew_with_one_machine_are_not_varied_without_a_word():
    with pytest.raises(MethodsFaulty, match="each carrier brings"):
        varied_named(pit_choice(DIG, BY_HAND), "carriers")


def test_three_trucks_of_a_quarter_hour_at_a_minimum_of_two_are_six_hours():
    """A tiny pit of 3 x 4 x 1 ft: 0.63 ton are there at once, but three trucks came: 3 x 2 hr."""
    system = THROW["production"] | {"carriers": "3"}
    small = {"length": "3 ft", "width": "4 ft", "depth": "1 ft"}
    throw = THROW | {"production": system, "inputs": small}
    scope = pit_scope(throw, BY_HAND | {"inputs": small})
    line = next(
        one
        for one in price(scope, shipped(), SPRING).cost_lines
        if one.resource == "conveyor-truck"
    )
    assert Decimal(line.ordered) / 100 == 6
    assert line.net < 30


def test_each_truck_is_paid_in_its_own_quarters_every_day():
    """Two trucks, 18.53 hr each in days of 8: 8 + 8 + 2.75 hr is 18.75, not 37.05 rounded once."""
    from tests.scope.methods.choices import sample_choice

    found = sample_choice("30.020").results[2]
    assert found.hours == pytest.approx(18.53, abs=0.005)
    assert found.machine_days == pytest.approx(2 * 18.75 / 8)
