"""Waste and lives that were learned: the input that says each, and what the need becomes by it."""

from dataclasses import replace
from fractions import Fraction

import pytest

from estimator.assemblies.source_ranges import stated_range
from estimator.opening import SAMPLE_SCOPE, open_scope
from estimator.pricing.estimate import estimate_by_the_day
from estimator.pricing.printed_estimate import printed_estimate
from estimator.scope.input_value import InputValue
from estimator.tracking.job_record import JobRate
from estimator.tracking.job_use import LIFE, table_of_use
from estimator.tracking.learned_rates import Learned, proposed_rate
from estimator.tracking.learned_use import scope_sentences, use_defaults
from estimator.tracking.record_ranges import learned_ranges

WHEELS = "repointing", "wheel_life"


@pytest.fixture(scope="module")
def opened():
    """The sample cut down to its first item of repointing, with its tables and its day."""
    scope, tables, on = open_scope(SAMPLE_SCOPE)
    item = next(one for one in scope.items if one.method.assembly.code == WHEELS[0])
    phase = next(one for one in scope.phases if item in one.items)
    return replace(scope, phases=(replace(phase, items=(item,)),), alternates=()), tables, on


def life_of(scope, tables, on):
    (item,) = scope.items
    printed = printed_estimate(estimate_by_the_day(scope, tables, on))
    return table_of_use(printed, LIFE, item.code, f"{printed.items[0].unit}/blade")


def learned_of(scope, tables, on, factor):
    (item,), table = scope.items, life_of(scope, tables, on)
    seen = Learned(4, table * factor, table, table * factor * 2, 0.8, 0.1, ())
    proposal = proposed_rate(seen, table, None, None, "sf/blade")
    return JobRate(LIFE, item.code, "sf/blade", seen, table, proposal)


def with_input(scope, name, value):
    (phase,), (item,) = scope.phases, scope.items
    own = replace(item, inputs={**item.inputs, name: InputValue(Fraction(value), f"{value}")})
    return replace(scope, phases=(replace(phase, items=(own,)),))


def test_a_life_that_was_learned_changes_its_input_in_proportion(opened):
    """With the new default the estimate has the life that is proposed."""
    scope, tables, on = opened
    rate = learned_of(*opened, 1.5)
    ((place, (value, source)),) = use_defaults([rate], scope, tables).items()
    assert place == WHEELS
    assert source.startswith("own record: 4 observations")
    now = next(one for one in scope.items[0].method.assembly.inputs if one.name == WHEELS[1])
    assert float(value) == pytest.approx(1.5 * float(now.default))
    longer = with_input(scope, WHEELS[1], Fraction(value) * now.unit.factor)
    assert life_of(longer, tables, on) == pytest.approx(rate.proposal.rate, rel=0.01)
    assert scope_sentences([rate], scope, tables) == ()


def test_a_wheel_is_drawn_toward_the_range_in_the_source_of_its_life(opened):
    """350 ft a wheel by a source of 200 to 500, and 30 % of mortar by one of 15 to 50."""
    scope, tables, _ = opened
    ranges = learned_ranges(scope, tables)
    code = scope.items[0].code
    assert ranges[LIFE, code, "sf/blade"] == (200 / 350, 500 / 350)
    assert (0.15 / 0.3, 0.5 / 0.3) in ranges.values()


def test_what_the_scope_states_beyond_the_range_has_none(opened):
    scope, tables, _ = opened
    stated = with_input(scope, WHEELS[1], 600)
    assert (LIFE, scope.items[0].code, "sf/blade") not in learned_ranges(stated, tables)


@pytest.mark.parametrize(("factor", "words"), [
    (1.2, "; common practice, no source: 200 to 500"),
    (1.5, "; common practice and own record, no source: 200 to 525"),
])  # fmt: skip
def test_the_range_stays_with_what_was_learned_so_that_the_next_job_has_it(opened, factor, words):
    scope, tables, _ = opened
    ((_, source),) = use_defaults([learned_of(*opened, factor)], scope, tables).values()
    assert source.endswith(words)
    assert stated_range(source) is not None


def test_what_the_scope_states_itself_is_said_and_not_written(opened):
    scope, tables, on = opened
    stated = with_input(scope, WHEELS[1], 40)
    rate = learned_of(stated, tables, on, 1.5)
    assert use_defaults([rate], stated, tables) == {}
    (words,) = scope_sentences([rate], stated, tables)
    assert words.startswith(f"item {rate.code}: wheel_life 60 ft/blade, in place of what it states")


def test_a_life_outside_the_limits_of_its_input_is_left_out(opened):
    scope, tables, _ = opened
    assert use_defaults([learned_of(*opened, 1000.0)], scope, tables) == {}
