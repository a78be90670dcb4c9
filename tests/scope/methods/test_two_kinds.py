"""Two kinds of carrier in one system: its pace, who comes with each, what is said of it."""

import json
from itertools import pairwise

import numpy as np
import pytest

from estimator.errors import ScopeFaulty
from estimator.scheduling.dated_estimate import price
from estimator.scope.scope_digest import scope_digest
from estimator.studies.comparison.comparison_json import comparison_json
from estimator.studies.comparison.curves import cost_curves
from estimator.studies.comparison.findings import findings_of
from estimator.studies.comparison.method_notes import note_sentences
from estimator.studies.comparison.varied import all_varied, varied_named
from tests.factories import SPRING
from tests.scope.methods.choices import BY_HAND, THROW, pit_choice, pit_scope, shipped

ROUND = {"carrier": "machine", "load": "0.7 ton", "cycle": [{"step": "round", "time": "3 min"}]}
BARROWS = {"carrier": "barrow", "carriers": "4", "load": "0.1 ton",
           "cycle": [{"step": "round", "time": "6 min"}],
           "each carrier brings": {"laborer": "1"}}  # fmt: skip
MACHINE_BRINGS = {"equipment-operator": "1", "skid-steer": "1"}


def together(first=ROUND, beside=BARROWS, **more):
    return {"name": "both", "production": {**first, "beside": beside, **more}}


SINGLE = {
    "carrier": "single axle",
    "carriers": "1",
    "load": "8 ton",
    "cycle": [
        {"step": "load", "time": "3 min", "station": "yard"},
        {"step": "haul and return", "time": "30 min"},
        {"step": "throw", "flow": "45 ton/hr", "station": "opening"},
    ],
    "hired": {"conveyor-truck": "carriers"},
}
TRUCKS = THROW | {"production": THROW["production"] | {"beside": SINGLE}}


def lines_of(scope):
    return price(scope, shipped(), SPRING).lines.set_index("resource")["ordered"]


def test_a_machine_and_four_barrows_that_never_meet_bring_what_each_brings():
    """0.7 x 20 + 4 x 0.1 x 10 is 18 ton/hr: 100.8 ton take 5.60 hr, of four laborers 22.40."""
    brings = {"each carrier brings": MACHINE_BRINGS}
    ordered = lines_of(pit_scope(together(ROUND | brings), BY_HAND))
    assert (ordered["equipment-operator"], ordered["laborer"]) == (5.6, 22.4)
    assert ordered["skid-steer"] == 1.0


def test_who_comes_with_both_kinds_is_counted_for_both():
    """Two machines and one more of another load, each with its operator and machine."""
    brings = {"each carrier brings": MACHINE_BRINGS}
    large = ROUND | brings | {"carriers": "2"}
    small = BARROWS | brings | {"carrier": "mini", "carriers": "1", "load": "0.4 ton"}
    ordered = lines_of(pit_scope(together(large, small), BY_HAND))
    assert ordered["equipment-operator"] == pytest.approx(3 * 100.8 / 32.0, abs=0.01)
    assert ordered["skid-steer"] == 3.0


def test_trucks_of_both_kinds_are_paid_for_all_hours_in_quarters_of_their_own():
    comparison = pit_choice(TRUCKS, BY_HAND)
    hours = comparison.results[0].hours
    quarters = np.ceil(hours * 4) / 4
    assert lines_of(pit_scope(TRUCKS, BY_HAND))["conveyor-truck"] == 3 * quarters


def test_a_second_kind_that_meets_the_first_brings_more_and_makes_it_wait():
    both, alone = pit_choice(TRUCKS, THROW | {"name": "one kind"}).results
    assert both.hours < alone.hours
    assert both.waiting_cost > 0
    assert both.bottlenecks == ("trucks", "single axles")
    shares = both.method.production.shares
    assert sum(shares) == pytest.approx(1.0)
    assert shares[0] > 0.7


def test_lifts_slow_the_station_for_both_kinds():
    """All of the fill at half speed is the same as a flow that is half as fast."""
    lifts = {"placing": "opening", "lifts": [{"name": "all", "share": "100 %", "speed": "50 %"}]}
    slow = TRUCKS | {"name": "slow", "production": TRUCKS["production"] | lifts}
    written = json.loads(json.dumps(TRUCKS["production"]).replace("45 ton/hr", "22.5 ton/hr"))
    by_lifts, by_flow = pit_choice(slow, TRUCKS | {"production": written}).results
    assert by_lifts.hours == pytest.approx(by_flow.hours, rel=1e-12)
    assert by_lifts.method.production.shares == pytest.approx(by_flow.method.production.shares)


@pytest.mark.parametrize(
    ("name", "values", "write"),
    [
        ("carriers", (1, 2, 3), lambda system, value: system | {"carriers": str(value)}),
        ("single axle carriers", (1, 2, 3),
         lambda system, value: system | {"beside": SINGLE | {"carriers": str(value)}}),
        ("single axle load time", (2.5, 6.5), lambda system, value: system | {"beside": SINGLE | {
            "cycle": [SINGLE["cycle"][0] | {"time": f"{value} min"}, *SINGLE["cycle"][1:]]}}),
        ("single axle turnaround", (40, 60),
         lambda system, value: system | {"beside": SINGLE | {"cycle": [
             SINGLE["cycle"][0],
             SINGLE["cycle"][1] | {"time": f"{value - 3 - 8 / 45 * 60} min"},
             SINGLE["cycle"][2]]}}),
    ],
)  # fmt: skip
def test_what_is_varied_costs_what_a_scope_that_says_so_costs(name, values, write):
    comparison = pit_choice(TRUCKS, BY_HAND)
    varied = varied_named(comparison, name)
    curves = cost_curves(comparison, varied, np.array(values, dtype=float))
    for place, value in enumerate(values):
        written = pit_choice(
            TRUCKS | {"production": write(TRUCKS["production"], value)}, BY_HAND
        ).results[0]
        assert curves.cents[0][place] == 100 * written.in_all
        assert curves.days[0][place] == pytest.approx(written.days, rel=1e-9)


def test_each_thing_to_vary_has_a_name_of_its_own():
    names = [one.name for one in all_varied(pit_choice(TRUCKS, BY_HAND))]
    assert len(set(names)) == len(names)


def test_more_carriers_of_the_second_kind_never_bring_less():
    curves = cost_curves(
        pit_choice(TRUCKS, BY_HAND),
        varied_named(pit_choice(TRUCKS, BY_HAND), "single axle carriers"),
        np.arange(1.0, 7.0),
    )
    assert all(later <= sooner + 1e-12 for sooner, later in pairwise(curves.days[0]))


def test_how_far_the_pace_may_be_off_is_said_in_the_estimate_and_the_comparison():
    """A truck holds the opening for 24 min, a single axle for 10.7; no more than three times."""
    said = "may be up to 8 % too high, or 22 % too low: two kinds of carrier wait for each other"
    (warning,) = price(pit_scope(TRUCKS, BY_HAND), shipped(), SPRING).warnings
    assert warning == f"the pace of 30.010 {said}"
    comparison = pit_choice(TRUCKS, BY_HAND)
    assert note_sentences(comparison) == (f"The pace of 'throwing it in' {said}.",)
    fields = json.loads(comparison_json(comparison, findings_of(comparison)))["methods"][0]
    assert (fields["pace_may_be_high_by"], fields["pace_may_be_low_by"]) == ("0.0800", "0.2200")


def test_the_explanation_names_both_kinds():
    estimate = price(pit_scope(TRUCKS, BY_HAND), shipped(), SPRING)
    lines = [f"30.010/{one.line}" for one in estimate.lines_of("30.010")]
    text = " ".join(step for line in lines for step in estimate.explain(line).steps)
    assert "2 trucks with 18 tons a load and 1 single axle with 8 tons a load" in text


def test_a_second_kind_is_part_of_the_digest():
    assert scope_digest(pit_scope(TRUCKS, BY_HAND)) != scope_digest(pit_scope(THROW, BY_HAND))


@pytest.mark.parametrize(
    ("beside", "fault"),
    [
        (SINGLE | {"carrier": "truck"}, "both kinds are called 'truck'; name each carrier"),
        (SINGLE | {"carrier": ""}, "carrier is missing"),
        (SINGLE | {"load": "16000 lb"}, "the single axle's load is in lb, the truck's in ton"),
        (SINGLE | {"carriers": "61"}, "has more than 60 carriers"),
        (SINGLE | {"efficiency": "50/60"}, "unknown key 'efficiency' in beside"),
        (SINGLE | {"cycle": [{"step": "load", "time": "3 min", "station": "mine"}]}, "'mine'"),
        ("a truck", "beside is not a set of keys"),
    ],
)
def test_each_fault_of_a_second_kind_is_reported(beside, fault):
    with pytest.raises(ScopeFaulty, match=fault):
        pit_scope(THROW | {"production": THROW["production"] | {"beside": beside}}, BY_HAND)


def test_a_station_that_neither_kind_uses_is_reported():
    stations = [*THROW["production"]["stations"], {"name": "scale"}]
    system = TRUCKS["production"] | {"stations": stations}
    with pytest.raises(ScopeFaulty, match="station 'scale' is used by no step"):
        pit_scope(THROW | {"production": system}, BY_HAND)


def test_more_machines_of_the_second_kind_than_the_crew_has_are_refused():
    machines = ROUND | {"carrier": "mini", "carriers": "2"}
    with pytest.raises(ScopeFaulty, match="each carrier brings"):
        pit_scope(together(ROUND, machines), BY_HAND)
