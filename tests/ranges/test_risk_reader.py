"""What a scope states of how sure it is: every fault with its place, all in one answer."""

from datetime import date

import pytest

from estimator.errors import ScopeFaulty
from estimator.ranges.distributions import Fixed, Pert, Triangular, Uniform
from estimator.ranges.item_correlation import ByItems
from estimator.scope.scope_digest import scope_digest
from estimator.scope.stated_ranges import NOTHING_STATED, JobRiskStated
from estimator.scope.work_plan import NO_PLAN
from tests.factories import item, scope_with
from tests.scope.methods.choices import PIT, shipped

FILL = item("010", "stone-fill-skid-steer", **PIT)
LATE = {"name": "late steel", "probability": "20 %", "phase": "30",
        "days": ["3 day", "5 day", "15 day"]}  # fmt: skip
ALIKE = {"items": ["20.010", "30.010"], "matrix": [["1", "60 %"], ["0.6", "1"]]}
CISTERN = {"name": "old cistern", "probability": "15 %", "cost": ["$2,500", "$6,000", "$14,000"]}


def scope(risk=None, item_risk=None, **phase):
    one = FILL | ({} if item_risk is None else {"risk": item_risk})
    listed = [{"code": "20", "name": "Out", "items": [FILL]},
              {"code": "30", "name": "Fill", "items": [one], **phase},
              {"code": "40", "name": "Site", "items": [FILL], "along": ["20"]}]  # fmt: skip
    more = {} if risk is None else {"risk": risk}
    return scope_with(shipped(), listed, **more)


def faults(risk=None, item_risk=None, **phase):
    with pytest.raises(ScopeFaulty) as refusal:
        scope(risk, item_risk, **phase)
    return [str(fault) for fault in refusal.value.faults]


def test_a_scope_that_states_nothing_states_nothing():
    found = scope()
    assert found.risk == JobRiskStated()
    assert found.items[0].spread == NOTHING_STATED
    assert found.phases[0].plan == NO_PLAN


def test_two_values_are_low_and_high_around_as_written():
    found = scope({"quantity": ["95 %", "112 %"], "pace": ["75 %", "110 %"]}).risk.usual
    assert found.quantity == Triangular(0.95, 1.0, 1.12)
    assert found.pace == Triangular(0.75, 1.0, 1.10)


@pytest.mark.parametrize(
    ("written", "found"),
    [
        (["90 %", "105 %", "130 %"], Triangular(0.9, 1.05, 1.3)),
        ({"low": "90 %", "likely": "100 %", "high": "130 %"}, Triangular(0.9, 1.0, 1.3)),
        ({"low": "90 %", "likely": "1", "high": "130 %", "shape": "pert"}, Pert(0.9, 1.0, 1.3)),
        ({"low": "90 %", "high": "130 %", "shape": "uniform"}, Uniform(0.9, 1.3)),
        ({"low": "0.9", "likely": "1", "high": "1.3", "shape": "uniform"}, Uniform(0.9, 1.3)),
        ("105 %", Fixed(1.05)),
    ],
    ids=str,
)
def test_a_range_is_written_in_several_ways(written, found):
    assert scope(item_risk={"quantity": written}).items[1].spread.quantity == found


def test_events_have_a_chance_a_cost_and_perhaps_a_phase():
    found = scope({"events": [{**CISTERN, "phase": "30"}, {**CISTERN, "cost": "$900"}]}).risk.events
    assert (found[0].name, found[0].probability, found[0].phase) == ("old cistern", 0.15, "30")
    assert found[0].cost == Triangular(250_000, 600_000, 1_400_000)
    assert found[1].cost == Fixed(90_000)


def test_an_event_may_take_days_of_a_phase_with_or_without_a_cost():
    late, both = scope({"events": [LATE, {**LATE, "cost": "$900"}]}).risk.events
    assert (late.days, late.phase, late.costs_money) == (Triangular(3.0, 5.0, 15.0), "30", False)
    assert (both.days, both.cost) == (Triangular(3.0, 5.0, 15.0), Fixed(90_000))


def test_correlation_is_a_matrix_of_items_and_one_share_for_all_others():
    read = scope({"correlation": {**ALIKE, "between": "20 %"}}).risk.correlation
    assert read == ByItems(0.2, ("20.010", "30.010"), ((1.0, 0.6), (0.6, 1.0)))
    assert scope({"correlation": ALIKE}).risk.correlation.between == 0.3


def test_correlation_is_one_share_or_one_for_each_kind():
    assert scope({"correlation": "20 %"}).risk.correlation.between == 0.2
    found = scope({"correlation": {"between": "20 %", "labor": "60 %"}}).risk.correlation
    assert (found.between, dict(found.within)) == (0.2, {"labor": 0.6})
    assert scope({"correlation": {"labor": "60 %"}}).risk.correlation.between == 0.3


def test_phases_wait_for_others_and_take_their_time():
    plan = scope(after=["20"], duration=["8 day", "12 day", "25 day"]).phases[1].plan
    assert (plan.after, plan.days) == (("20",), Triangular(8.0, 12.0, 25.0))
    assert scope(after=[]).phases[1].plan.after == ()


def test_the_start_and_what_is_known_are_read():
    found = scope({"start": "2026-04-06", "known": "60 %"}).risk
    assert (found.start, found.known) == (date(2026, 4, 6), 0.6)


@pytest.mark.parametrize(
    ("risk", "message"),
    [
        ({"quantity": ["112 %", "95 %"]}, "quantity"),
        ({"quantity": ["101 %", "112 %"]}, "quantity"),
        ({"quantity": ["0 %", "112 %"]}, "may come to nothing"),
        ({"quantity": ["-5 %", "112 %"]}, "is negative"),
        ({"quantity": ["3 ft", "4 ft"]}, "'3 ft' is a length"),
        ({"quantity": ["nan %", "4"]}, "not a measure"),
        ({"quantity": ["1", "1", "1", "1"]}, "quantity has 4 values"),
        ({"quantity": ["1", "1", "1", "1"][:1]}, "quantity has 1 values"),
        ({"quantity": [["1"], "2"]}, "quantity is not a list of values"),
        ({"quantity": {"low": "90 %", "shape": "round"}}, "unknown shape 'round'"),
        ({"pace": {"lowest": "90 %"}}, "unknown key 'lowest' in pace"),
        ({"correlation": "130 %"}, "correlation"),
        ({"correlation": {"between": "50 %", "labor": "20 %"}}, "is below the 0.5 between all"),
        ({"correlation": {"labour": "20 %"}}, "unknown key 'labour' in correlation"),
        ({"events": [{**CISTERN, "probability": "120 %"}]}, "'120 %' is not 0 to 100 %"),
        ({"events": [{**CISTERN, "probability": "30"}]}, "write '30 %'"),
        ({"known": "80"}, "'80' without a percent sign would be 8,000 %; write '80 %'"),
        ({"quantity": ["90", "115"]}, "'90' without a percent sign would be 9,000 %; write '90 %'"),
        ({"events": [{**CISTERN, "probability": ""}]}, "probability is missing"),
        ({"events": [{"name": "x", "probability": "10 %"}]}, "event 'x' has neither cost nor days"),
        ({"events": [{**CISTERN, "cost": "$0"}]}, "has no cost"),
        ({"events": [{**CISTERN, "cost": ["$5", "$2", "$9"]}]}, "cost"),
        ({"events": [{**CISTERN, "phase": "31"}]}, "names the unknown phase '31'"),
        ({"events": [{**LATE, "phase": ""}]}, "gives days but no phase"),
        ({"events": [{**LATE, "phase": "40"}]}, "says days, and phase 40 runs along others"),
        ({"events": [{**LATE, "days": ["-1 day", "2 day", "3 day"]}]}, "is negative"),
        ({"correlation": {**ALIKE, "items": ["20.010", "31.010"]}}, "unknown item '31.010'"),
        ({"correlation": {**ALIKE, "items": ["20.010"]}}, "1 items and 2 rows"),
        ({"correlation": {**ALIKE, "items": ["20.010"] * 2}}, "'20.010' is listed twice"),
        ({"correlation": {**ALIKE, "labor": "50 %"}}, "unknown key 'labor' in correlation"),
        ({"correlation": {**ALIKE, "matrix": [["1", "0.6"], ["0.5", "1"]]}}, "must be symmetric"),
        ({"correlation": {**ALIKE, "matrix": [["0.9", "0.6"], ["0.6", "1"]]}},
         "row 1, column 1 is not 1; each line moves with itself"),
        ({"correlation": {**ALIKE, "matrix": [["1", "60"], ["60", "1"]]}}, "write '60 %'"),
        ({"correlation": {**ALIKE, "matrix": ["1", ["0.6"]]}}, "a row of matrix is not a list"),
        ({"correlation": {"items": ["20.010", "30.010"]}}, "matrix is not a list, or is empty"),
        ({"correlation": {**ALIKE, "between": "40 %", "matrix": [["1", "-60 %"], ["-60 %", "1"]]}},
         "while any two other lines do by 0.4; take at most 20 % between other lines"),
        ({"events": [CISTERN] * 201}, "more than 200 events"),
        ({"start": "1899-12-31"}, "start '1899-12-31' is out of range"),
        ({"start": "soon"}, "start 'soon' is not a day"),
        ({"known": "130 %"}, "is not 0 to 100 %"),
        ({"luck": "1"}, "unknown key 'luck' in risk"),
        ("risky", "risk is not a set of keys"),
    ],
    ids=str,
)  # fmt: skip
def test_each_fault_is_reported(risk, message):
    assert any(message in one for one in faults(risk)), faults(risk)


def test_faults_of_items_and_phases_come_with_those_of_the_job():
    told = faults({"start": "soon"}, {"pace": "slow"}, duration=["9 day", "3 day", "8 day"])
    assert len(told) == 3


def test_the_digest_of_a_scope_covers_what_it_states_of_risk():
    digests = {
        scope_digest(scope()),
        scope_digest(scope({"quantity": ["95 %", "112 %"]})),
        scope_digest(scope(item_risk={"quantity": ["95 %", "112 %"]})),
        scope_digest(scope(after=[])),
        scope_digest(scope({"events": [CISTERN]})),
        scope_digest(scope({"events": [LATE]})),
        scope_digest(scope({"correlation": ALIKE})),
    }
    assert len(digests) == 7


def test_shares_of_kinds_are_the_same_in_any_order():
    one = {"between": "20 %", "labor": "60 %", "equipment": "40 %"}
    other = {key: one[key] for key in sorted(one, reverse=True)}
    assert scope_digest(scope({"correlation": one})) == scope_digest(scope({"correlation": other}))
