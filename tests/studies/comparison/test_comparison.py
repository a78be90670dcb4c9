"""Methods side by side: each costs what it would as an item, and the best is judged fairly."""

from decimal import Decimal

import pytest

from estimator.assemblies.tables import load_tables
from estimator.errors import MethodsFaulty, RateMissing, ScopeFaulty
from estimator.money import dollars
from estimator.rates.folders import TableFolder, shipped_tables
from estimator.scheduling.dated_estimate import price
from estimator.studies.comparison.comparison import compare
from tests.factories import SPRING, scope_of, write_folder
from tests.scope.methods.choices import (
    BY_HAND,
    DIG,
    PIT,
    PUMP,
    THROW,
    pit_choice,
    pit_scope,
    sample,
    sample_choice,
    shipped,
)


@pytest.mark.parametrize(
    ("method", "assembly"),
    [
        ({"name": "by hand", "assembly": "stone-fill-barrows"}, "stone-fill-barrows"),
        ({"name": "by machine"}, "stone-fill-skid-steer"),
        (
            {"name": "thrown in", "assembly": "stone-fill-conveyor-truck"},
            "stone-fill-conveyor-truck",
        ),
    ],
)
def test_a_method_costs_what_an_item_of_its_assembly_costs(method, assembly):
    other = THROW if "hand" in method["name"] else BY_HAND
    found = pit_choice(method, other).results[0]
    alone = {"code": "010", "name": "x", "assembly": assembly, "inputs": PIT}
    estimate = price(scope_of(shipped(), {"30": [alone]}), shipped(), SPRING)
    assert sum(found.by_kind.values()) == estimate.direct_cost
    percentages = [one for one in estimate.markups if one.markup.percent is not None]
    assert found.markups == dollars(sum(one.amount_cents for one in percentages))
    assert found.own == estimate.own_value


def test_output_is_in_the_unit_of_the_item_whatever_a_method_is_measured_in():
    """100.80 tons over the hours of each, though the pump works in cy of 1.4175 ton."""
    by_machine, pump = pit_choice(DIG, PUMP).results
    for one in (by_machine, pump):
        assert one.output_per_hr == pytest.approx(100.80 / one.hours)


def test_a_system_gives_the_pace_that_the_assembly_is_priced_with():
    found = pit_choice(DIG, BY_HAND).results[0]
    # 1 min + 176 ft / (88 x 2 mph) + 60 x 0.7 / 42 = 3 min a load: 14 ton/hr, which is also the
    # pace that the assembly itself takes for usual
    assert found.output_per_hr == pytest.approx(14.0)
    assert found.cash == pit_choice({"name": "by machine"}, BY_HAND).results[0].cash


def test_hired_trucks_are_paid_for_all_hours_and_no_assembly_minimum_is_lost():
    throw = {**THROW, "production": {**THROW["production"], "carriers": "1"}}
    found = pit_choice(throw, BY_HAND).results[0]
    # 40 x 12 x 4 / 27 x 1.35 x 1.05 = 100.8 ton; one truck turns round in 6 + 40 + 24 = 70 min and
    # waits at the yard behind others for 6 min on average: 76 min, 14.21 ton/hr, 7.0933 hr
    assert found.hours == pytest.approx(100.8 / (18 * 60 / 76))
    assert found.machine_days == pytest.approx(7.25 / 8)  # in quarters of an hour
    tiny = pit_scope(
        {**throw, "inputs": {"length": "1 ft", "width": "2 ft"}}, BY_HAND, tables=shipped()
    )
    with pytest.raises(MethodsFaulty, match="does 0"):
        compare(tiny, shipped(), SPRING, "30.010")


def test_waiting_costs_hired_carriers_in_line_and_the_hours_that_it_adds_to_the_crew():
    one_truck = {**THROW, "production": {**THROW["production"], "carriers": "1"}}
    found = pit_choice(one_truck, BY_HAND).results[0]
    # of each 76 min 6 are waited: 6/76 of 7.0933 hr at $185, and of what two laborers cost for
    # the hours they are paid, 7.09 x 2 x 36
    share = Decimal(6) / Decimal(76)
    crew = Decimal("14.18") * 36
    expected = share * Decimal("7.0933333") * 185 + share * crew
    assert abs(found.waiting_cost - expected) < Decimal("0.6")


def test_methods_without_a_system_cost_nothing_for_waiting():
    assert pit_choice(BY_HAND, {"name": "by machine"}).results[0].waiting_cost == 0


def test_the_cheapest_and_the_fastest_are_marked():
    found = sample_choice("30.020")
    assert found.cheapest.method.name == "throwing it in by conveyor truck"
    # the pumped fill takes three lifts, one a day
    assert found.fastest.method.name == "throwing it in by conveyor truck"
    assert found.cheapest.in_all == min(one.in_all for one in found.results)


def test_the_first_of_equals_is_cheapest():
    found = pit_choice({"name": "one"}, {"name": "other"})
    assert found.results[0].in_all == found.results[1].in_all
    assert found.cheapest is found.results[0]


def test_a_dearer_but_faster_method_wins_where_a_day_is_worth_enough():
    slow = pit_choice(BY_HAND, DIG, day_worth=Decimal(0))
    names = [pit_choice(BY_HAND, DIG, day_worth=Decimal(w)).cheapest.method.name for w in (0, 900)]
    assert slow.results[0].day_cost == 0
    assert names == ["wheeling it in", "wheeling it in"]
    first, second = slow.results
    worth = Decimal(500)
    dearer = pit_choice(BY_HAND, DIG, day_worth=worth)
    lost = (dearer.results[0].in_all - first.in_all) - (dearer.results[1].in_all - second.in_all)
    days = round(Decimal(first.days), 2) - round(Decimal(second.days), 2)
    assert lost == days * worth


def test_the_scope_says_what_a_day_is_worth_unless_the_call_does():
    scope = pit_scope(DIG, BY_HAND, day_worth="$310/day")
    assert compare(scope, shipped(), SPRING, "30.010").day_worth == 310
    assert compare(scope, shipped(), SPRING, "30.010", Decimal(5)).day_worth == 5
    half = pit_scope(DIG, BY_HAND, day_worth="$77.50/day")
    assert compare(half, shipped(), SPRING, "30.010").day_worth == Decimal("77.50")


def test_what_a_method_keeps_counts_against_its_cost():
    found = sample_choice("20.010")
    save, scrap = found.results
    # 1,900 sf x 2.75 / 12 ft x 0.70 = 304.79 cf = 3,657.5 bf at $3.40
    assert save.kept == Decimal("12435.50")
    assert save.in_all == save.cash + save.own - save.kept + save.day_cost
    assert scrap.kept == 0


def test_mobilization_bears_the_markups_of_haul():
    dear = pit_choice({**BY_HAND, "mobilization": "$1,000"}, DIG).results[0]
    plain = pit_choice(BY_HAND, DIG).results[0]
    # 6 % site overhead 60.00, 1.2 % insurance on both 12.72, 12 % contingency on both 127.20; each
    # is rounded on the whole cost, not on the difference
    assert abs(dear.cash - plain.cash - Decimal("1199.92")) <= Decimal("0.03")


def test_unpaid_work_of_the_owner_is_own_cost_and_counts_in_all():
    found = pit_choice({**BY_HAND, "crew": "owner-alone"}, DIG).results[0]
    assert found.own > 0
    assert found.in_all == found.cash + found.own + found.day_cost


def test_the_order_of_methods_is_the_same_in_another_currency(tmp_path):
    tables = shipped()
    rows = [
        {
            "code": row.code, "name": row.name, "kind": row.kind, "unit": row.unit.name,
            "rate": f"{row.rate * 7:f}", "date": row.set_on.isoformat(),
            "paid": "yes" if row.is_paid else "no",
        }
        for row in tables.rates.rows()
    ]  # fmt: skip
    folder = write_folder(tmp_path / "sevenfold", {"resources": rows})
    other = load_tables([shipped_tables(), TableFolder("sevenfold", folder.path)])
    seven = {**THROW, "mobilization": "$1,680"}
    here = pit_choice(DIG, THROW, BY_HAND, day_worth=Decimal(310))
    there = pit_choice(DIG, seven, BY_HAND, day_worth=Decimal(2170), tables=other)
    for one, same in zip(here.results, there.results, strict=True):
        assert float(same.in_all / one.in_all) == pytest.approx(7.0, rel=1e-5)
    ranked = [sorted(range(3), key=lambda n, r=r: r.results[n].in_all) for r in (here, there)]
    assert ranked[0] == ranked[1]


def test_a_method_measured_in_another_unit_says_what_it_stands_for():
    found = pit_choice(DIG, PUMP).results[1]
    assert found.quantity == pytest.approx(40 * 12 * 4 / 27)
    with pytest.raises(ScopeFaulty, match=r"measured in cy, item 30\.010 in ton"):
        pit_scope(DIG, {key: PUMP[key] for key in ("name", "assembly")})


@pytest.mark.parametrize(
    ("method", "told"),
    [
        ({**BY_HAND, "inputs": {"length": "80 ft"}}, "does 201.60 tons; item 30.010 is 100.8"),
        ({**PUMP, "stands_for": "0.9 ton/cy"}, "does 64.00 tons; item 30.010 is 100.8"),
    ],
)
def test_a_method_that_does_other_work_is_refused(method, told):
    with pytest.raises(MethodsFaulty, match=told):
        pit_choice(DIG, method)


def test_an_item_without_methods_is_refused_and_those_with_are_named():
    scope, tables = sample()
    with pytest.raises(MethodsFaulty, match=r"30\.030 lists 0 methods.*20\.010, 30\.020"):
        compare(scope, tables, SPRING, "30.030")
    with pytest.raises(ScopeFaulty, match=r"no item '30\.02'.*30\.020"):
        compare(scope, tables, SPRING, "30.02")


def test_a_rate_that_is_missing_on_the_day_is_reported_with_its_method():
    scope = pit_scope(DIG, BY_HAND)
    with pytest.raises(RateMissing, match=r"'wheeling it in'.*\n(.*\n)*'carrying it in'"):
        compare(scope, shipped(), SPRING.replace(year=2025, month=2), "30.010")


def test_methods_change_no_price(tmp_path):
    plain = {
        "code": "010",
        "name": "Stone fill",
        "assembly": "stone-fill-skid-steer",
        "inputs": PIT,
    }
    without = price(scope_of(shipped(), {"30": [plain]}), shipped(), SPRING)
    with_methods = price(pit_scope(DIG, THROW), shipped(), SPRING)
    assert with_methods.cash_cost == without.cash_cost
    assert with_methods.scope_digest != without.scope_digest


def test_a_part_of_a_name_points_to_its_method():
    found = pit_choice(DIG, THROW, BY_HAND)
    assert found.place("throw") == 1
    for name, told in (
        ("it in", "in several names"),
        ("flying", "is not a method"),
        ("", "not a method"),
    ):
        with pytest.raises(MethodsFaulty, match=told):
            found.place(name)


def test_only_hands_make_hours_of_labor_not_machines_by_the_hour():
    """Two hands for 7.20 hr, four for 28.80, two for 3.99 and two for 6.0556."""
    compared = pit_choice(DIG, BY_HAND, THROW, PUMP)
    hours = [one.labor_hours for one in compared.results]
    assert hours == pytest.approx([14.4, 115.2, 7.98, 12.11])


def test_what_limits_each_method_and_the_days_of_its_machines_are_shown():
    compared = pit_choice(DIG, BY_HAND, THROW, PUMP)
    assert [(one.bottlenecks, one.machine_days) for one in compared.results] == [
        (("machines",), Decimal("1.00")),
        ((), Decimal("0.00")),
        (("trucks",), Decimal("1.00")),
        ((), Decimal("1.00")),
    ]


def test_days_without_waiting_are_the_hours_at_best_by_the_day_and_no_fewer_than_must_pass():
    """Two trucks of 18 ton go round in 6 + 40 + 24 min: 30.86 ton/hr, 3.267 hr for 100.8 ton.

    The pump comes for two days, whatever its hours.
    """
    throw, pump = pit_choice(THROW, PUMP).results
    assert throw.days_at_best == pytest.approx(3.2667 / 8, abs=1e-5)
    assert throw.days_at_best < throw.days < 1.0
    assert (pump.days_at_best, pump.days) == (2.0, 2.0)
