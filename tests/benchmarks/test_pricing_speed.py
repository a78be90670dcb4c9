"""How fast a scope is priced, beside the same arithmetic in bare numpy.

    pytest tests/benchmarks --benchmark-enable -n 0

Timed is what a person waits for: `price`, the frame of cost lines, and the totals by phase and
kind. The bare arithmetic ends in the same totals, to the cent, and explains nothing.
"""

from dataclasses import replace
from fractions import Fraction
from math import ceil, floor
from time import perf_counter

import pytest

from estimator.assemblies.tables import load_tables
from estimator.money import to_cents
from estimator.pricing.summaries import cash_by_kind, cash_by_phase, own_by_phase
from estimator.rates.folders import shipped_tables
from estimator.scheduling.dated_estimate import price
from estimator.scope.input_value import InputValue
from estimator.scope.scope import Scope
from tests.benchmarks.bare_numpy import flat_job, flat_totals
from tests.factories import SPRING, scope_of

ITEMS_A_PHASE = 50
LARGEST_RATIO = 20
SIZES = (1_000, 10_000)
SIZES_WITHOUT_TIMING = (120, 240)


@pytest.fixture(scope="module")
def tables():
    return load_tables([shipped_tables()])


def measure(one, share):
    """Return a measure at a share of the way from least to most."""
    least, most = Fraction(one.least), Fraction(one.most)
    parts = 1 if one.unit.is_count else 100
    low, high = ceil(least * parts), floor(most * parts)
    if low > high:
        parts, low, high = 10_000, ceil(least * 10_000), floor(most * 10_000)
    number = Fraction(low + int((high - low) * share), parts)
    if one.unit.name == "fraction":
        return str(number)
    return f"${number}" if one.unit.name == "$" else f"{number} {one.unit.name}"


def scope_of_size(tables, size) -> Scope:
    """Return a scope that uses the shipped assemblies in turn, each item a little different.

    Those that recover or use own material are left out: what one item recovers another one uses,
    which the bare arithmetic does not follow. So are those with a call-out by truck and day, which
    the exact reference covers.
    """
    own = set(tables.catalogue.own_materials)
    assemblies = [
        one
        for one in sorted(tables.catalogue.assemblies.values(), key=lambda one: one.code)
        if not one.recoveries
        and not own & {line.resource for line in one.lines}
        and not any(_is_called_out(line, tables) for line in one.lines)
    ]
    phases: dict[str, list[object]] = {}
    for number in range(size):
        assembly = assemblies[number % len(assemblies)]
        share = Fraction(1 + number * 7 % 19, 40)
        inputs = {one.name: measure(one, share) for one in assembly.inputs if one.is_required}
        phases.setdefault(str(number // ITEMS_A_PHASE), []).append(
            {"code": str(number), "name": "W", "assembly": assembly.code, "inputs": inputs}
        )
    return scope_of(tables, phases)


def _is_called_out(line, tables):
    return line.minimum is not None and tables.rates.unit_of(line.resource).name == "hr"


def as_freshly_read(scope: Scope) -> Scope:
    """Return the scope without anything that an earlier pricing has kept."""
    return replace(
        scope,
        phases=tuple(
            replace(phase, items=tuple(
                replace(item, inputs={
                    name: InputValue(one.value, one.text) for name, one in item.inputs.items()
                })
                for item in phase.items
            ))
            for phase in scope.phases
        ),
    )  # fmt: skip


def priced(scope, tables):
    estimate = price(scope, tables, SPRING)
    totals = cash_by_phase(estimate), own_by_phase(estimate), cash_by_kind(estimate)
    return estimate.lines, totals


def seconds(function, *arguments, rounds=5):
    best = float("inf")
    for _ in range(rounds):
        start = perf_counter()
        function(*arguments)
        best = min(best, perf_counter() - start)
    return best


def seconds_to_price(scope, tables, rounds=3):
    return min(
        seconds(priced, fresh, tables, rounds=1)
        for fresh in (as_freshly_read(scope) for _ in range(rounds))
    )


@pytest.mark.parametrize("which", [0, 1], ids=["a thousand items", "ten thousand items"])
def test_pricing_keeps_up_with_bare_arithmetic(benchmark, tables, which):
    size = (SIZES if benchmark.enabled else SIZES_WITHOUT_TIMING)[which]
    scope = scope_of_size(tables, size)
    job = flat_job(scope, tables, SPRING)
    (lines, (by_phase, _, by_kind)) = benchmark.pedantic(
        priced, setup=lambda: ((as_freshly_read(scope), tables), {}), rounds=5, warmup_rounds=1
    )
    bare_by_phase, bare_by_kind, bare_lines = flat_totals(job)
    assert len(lines) == bare_lines
    assert [to_cents(amount) for amount in by_phase.values()] == list(bare_by_phase.values())
    assert {kind: to_cents(amount) for kind, amount in by_kind.items()} == {
        kind: cents for kind, cents in bare_by_kind.items() if kind in by_kind
    }
    if benchmark.enabled:
        bare = seconds(flat_totals, job)
        ratio = benchmark.stats.stats.min / bare
        benchmark.extra_info |= {
            "items": size, "lines": bare_lines, "bare_numpy_seconds": bare, "ratio": ratio,
        }  # fmt: skip
        assert which == 0 or ratio < LARGEST_RATIO


def test_ten_times_the_items_take_about_ten_times_as_long(benchmark, tables):
    small, large = SIZES if benchmark.enabled else SIZES_WITHOUT_TIMING
    few, many = scope_of_size(tables, small), scope_of_size(tables, large)
    benchmark.pedantic(priced, args=(few, tables), rounds=1)
    if benchmark.enabled:
        growth = seconds_to_price(many, tables) / seconds_to_price(few, tables)
        benchmark.extra_info["growth"] = growth
        assert growth < 2 * large / small
