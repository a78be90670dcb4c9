"""The methods of an item as a scope writes them: every fault with its place, all in one answer."""

from decimal import Decimal

import pytest

from estimator.errors import ScopeFaulty
from estimator.scope.scope_digest import scope_digest
from tests.factories import scope_of
from tests.scope.methods.choices import BY_HAND, DIG, PIT, PUMP, THROW, pit_scope, sample, shipped


def faults(*methods, **more):
    with pytest.raises(ScopeFaulty) as refusal:
        pit_scope(*methods, **more)
    return [str(fault) for fault in refusal.value.faults]


def changed(method, **production):
    return {**method, "production": {**method["production"], **production}}


def without(method, key):
    left = {name: value for name, value in method["production"].items() if name != key}
    return {**method, "production": left}


def test_a_method_takes_the_assembly_inputs_and_crew_of_its_item():
    dig = pit_scope(DIG).items[0].methods[0]
    assert dig.assembly.code == "stone-fill-skid-steer"
    assert dig.crew == "skid-steer-fill"
    assert dig.inputs["depth"].text == "4 ft"


def test_a_method_with_an_assembly_of_its_own_takes_what_fits_and_that_assemblies_crew():
    throw = pit_scope(THROW).items[0].methods[0]
    assert throw.crew == "laborers"
    assert set(throw.inputs) == {"length", "width", "depth", "density"}
    assert throw.mobilization == Decimal("240.00")


def test_the_pace_of_the_item_fits_no_other_crew():
    one = {"production_rate": "9 ton/hr"}
    scope = pit_scope({"name": "same", "inputs": one}, {"name": "other", "crew": "owner-alone"})
    same, other = scope.items[0].methods
    assert same.inputs["production_rate"].text == "9 ton/hr"
    assert "production_rate" not in other.inputs


def test_a_faulty_measure_of_the_item_is_not_missed_again_in_each_method():
    one = {"code": "010", "name": "Fill", "assembly": "stone-fill-skid-steer",
           "inputs": {**PIT, "length": "40 fx"}, "methods": [DIG, THROW, BY_HAND]}  # fmt: skip
    with pytest.raises(ScopeFaulty) as caught:
        scope_of(shipped(), {"30": [one]})
    assert [fault.what for fault in caught.value.faults] == ["unknown unit 'fx'"]


def test_a_system_is_read_as_it_stands():
    production = sample()[0].items[[i.code for i in sample()[0].items].index("30.020")].methods
    dig, throw = production[1].production, production[2].production
    assert [step.name for step in throw.system.cycle][:2] == ["load", "haul"]
    assert throw.turnaround_minutes == pytest.approx(95.0)
    assert throw.minutes_at_stations == pytest.approx(41.0)
    assert [lift.share for lift in dig.lifts] == [0.8, 0.2]
    assert dig.system.efficiency == pytest.approx(50 / 60)
    assert throw.hired[0].number is None


def test_bought_work_says_how_many_days_it_takes():
    bought = {"name": "bought", "assembly": "permits"}
    told = faults(BY_HAND, bought)
    assert any("nothing says how long it takes" in one for one in told)
    assert any("days: takes" in one or "takes as long as its crew" in one
               for one in faults({**BY_HAND, "days": "3 day"}))  # fmt: skip


@pytest.mark.parametrize(
    ("method", "told"),
    [
        ({"name": ""}, "name is missing"),
        ({"name": "a: b"}, "name 'a: b' has a colon"),
        ({"name": "x", "assembly": "stone-fil"}, "unknown assembly 'stone-fil'; did you mean"),
        ({"name": "x", "crew": "nobody"}, "unknown crew 'nobody'"),
        ({"name": "x", "speed": "1"}, "unknown key 'speed' in method"),
        ({"name": "x", "inputs": {"hight": "3 ft"}}, "gives 'hight', which"),
        ({"name": "x", "inputs": {"depth": "3 ton"}}, "'3 ton' is a weight"),
        ({"name": "x", "mobilization": "$-5"}, "not a measure"),
        ({"name": "x", "mobilization": "$1.005"}, "not an amount in dollars and cents"),
        ({"name": "x", "mobilization": "$99999999999"}, "is too large"),
        ({"name": "x", "kept": "quantity"}, "kept and kept_as go together"),
        ({"name": "x", "kept": "boards", "kept_as": "diesel"}, "unknown name 'boards'"),
        ({"name": "x", "kept": "depth", "kept_as": "diesel"}, "kept is not in gal"),
        ({"name": "x", "kept": "1 +", "kept_as": "diesel"}, "kept"),
        ({"name": "x", "kept": "depth", "kept_as": "boards"}, "unknown resource 'boards'"),
        (
            {"name": "x", "assembly": "plank-floor-salvage", "kept": "sound_plank",
             "kept_as": "salvaged-brick", "inputs": {"area": "90 sf"}, "stands_for": "1 ton/sf"},
            "kept_as 'salvaged-brick' is not what 'plank-floor-salvage' takes up; write "
            "salvaged-plank: it has one value, here and in the estimate",
        ),
        ({**BY_HAND, "stands_for": "1 ton/ton"}, "is in ton already"),
        ({**PUMP, "stands_for": "3 ft"}, "'3 ft' is a length"),
        ({"name": "x", "inputs": "deep"}, "inputs is not a set of keys"),
        ("deep", "method is not a set of keys"),
    ],
    ids=str,
)  # fmt: skip
def test_each_fault_of_a_method_is_reported(method, told):
    assert any(told in one for one in faults(method, BY_HAND)), faults(method, BY_HAND)


@pytest.mark.parametrize(
    ("method", "told"),
    [
        (without(THROW, "load"), "load is missing"),
        (without(THROW, "cycle"), "cycle is not a list, or is empty"),
        (changed(THROW, load="18 cy"), "'18 cy' is a volume, not a weight"),
        (changed(THROW, load="0 ton"), "size: is zero"),
        (changed(THROW, carriers="0"), "carriers '0' is not a whole number from 1"),
        (changed(THROW, carriers="9" * 30), "is not a whole number from 1"),
        (changed(THROW, carriers="501"), "carriers: is above 500"),
        (changed(THROW, efficiency="110 %"), "efficiency"),
        (changed(THROW, placing="opening gate"), "unknown placing 'opening gate'"),
        (changed(THROW, hired={"conveyor-truck": "some"}), "'some' is not a whole number"),
        (changed(THROW, hired={"diesel": "1"}), "unknown key 'diesel' in hired"),
        (changed(THROW, stations=[{"name": "opening"}]), "needs the unknown station 'yard'"),
        (changed(THROW, stations=[*THROW["production"]["stations"], {"name": "ramp"}]),
         "is used by no step"),
        (changed(THROW, stations=[{"name": "opening", "taken_by_others": "100 %"}]),
         "nothing is left for these carriers"),
        (changed(THROW, lifts=[{"name": "low", "share": "50 %"}], placing="opening"),
         "shares add up to 0.5 instead of 1"),
        (changed(THROW, lifts=[{"name": "low", "share": "100 %"}]), "placing is missing"),
        (changed(THROW, cycle=[{"step": "a", "time": "0 min"}]), "minutes: is zero"),
        (changed(THROW, cycle=[{"step": "a", "time": "-3 min"}]), "is negative"),
        (changed(THROW, cycle=[{"step": "a", "time": "nan min"}]), "not a measure"),
        (changed(THROW, cycle=[{"step": "a", "time": "3 ft"}]), "'3 ft' is a length"),
        (changed(THROW, cycle=[{"step": "a"}]), "step 'a' is not timed in one way"),
        (changed(THROW, cycle=[{"step": "a", "distance": "9 ft"}]), "not timed in one way"),
        (changed(THROW, cycle=[{"step": "a", "time": "1 min", "flow": "9 ton/hr"}]),
         "not timed in one way"),
        (changed(THROW, cycle=[{"step": "a", "flow": "9 ton"}]), "is not a quantity an hour"),
        (changed(THROW, cycle=[{"step": "a", "flow": "9 cy/hr"}]), "counts cy but the load is in"),
        (changed(THROW, cycle=[{"step": "a", "time": "1 min"}, {"step": "a", "time": "1 min"}]),
         "repeats step 'a'"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)  # fmt: skip
def test_each_fault_of_a_system_is_reported(method, told):
    assert any(told in one for one in faults(method, BY_HAND)), faults(method, BY_HAND)


def test_a_system_with_a_fault_is_not_built_so_that_no_second_fault_follows_from_it():
    told = faults(changed(THROW, cycle=[{"step": "throw", "time": "0 min"}], stations=[]), BY_HAND)
    assert len(told) == 1
    assert "minutes: is zero" in told[0]


def test_two_methods_of_one_name_are_refused():
    assert any("repeats method 'carrying it in'" in one for one in faults(BY_HAND, BY_HAND))


def test_more_than_twelve_methods_are_refused():
    many = [{"name": f"way {n}"} for n in range(13)]
    assert any("more than 12 methods" in one for one in faults(*many))


def test_faults_of_all_methods_come_in_one_answer():
    told = faults({"name": "x", "crew": "nobody"}, changed(THROW, load="3 ft"))
    assert len(told) == 2


@pytest.mark.parametrize("worth", ["310", "$310", "$310/hr", "-$3/day"])
def test_a_day_is_worth_money_a_day(worth):
    assert faults(DIG, BY_HAND, day_worth=worth)


def test_the_digest_of_a_scope_covers_its_methods():
    digests = {
        scope_digest(pit_scope(*methods, **more))
        for methods, more in (
            ((DIG, BY_HAND), {}),
            ((BY_HAND, DIG), {}),
            ((DIG, {**BY_HAND, "mobilization": "$1"}), {}),
            ((changed(DIG, **{"each carrier brings": {}}), BY_HAND), {}),
            ((DIG, BY_HAND), {"day_worth": "$1/day"}),
        )
    }
    assert len(digests) == 5


BACK_OUT = {"step": "back out", "distance": "176 ft", "speed": "3 mph"}
PASSAGE = {"way": "turning inside", "in": "wheel in", "out": "back out"}
LIFTS = {
    "placing": "edge",
    "lifts": [{"name": "open", "share": "80 %"}, {"name": "low", "share": "20 %", "speed": "50 %"}],
}


def passing(**changes):
    cycle = [*DIG["production"]["cycle"], BACK_OUT]
    return changed(DIG, cycle=cycle, passage={**PASSAGE, **changes}, **LIFTS)


def test_a_passage_makes_the_way_in_and_out_stations_of_the_system():
    system = pit_scope(passing()).items[0].methods[0].production.system
    assert [one.name for one in system.stations] == ["edge", "lane"]
    assert [one.station for one in system.cycle] == ["", "lane", "edge", "lane"]


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"way": "two ways"}, "'two ways' is not known; did you mean 'one way'?"),
        ({"in": "wheel inn"}, "no step 'wheel inn'; did you mean 'wheel in'?"),
        ({"depth": "1 ft"}, "unknown key 'depth' in passage"),
        ({"room": "2"}, "room is held by no step of the cycle"),
        ({"way": "no passing"}, "the lane is held at the edge, which lifts slow by itself"),
    ],
)
def test_each_fault_of_a_way_in_and_out_is_reported(changes, message):
    assert any(message in one for one in faults(passing(**changes)))
