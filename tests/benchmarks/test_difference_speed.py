"""How fast ten thousand lines are compared, beside a bare comparison of the same amounts.

    pytest tests/benchmarks --benchmark-enable -n 0

The bare comparison subtracts amounts that are matched by item and line, and explains nothing.
"""

from time import perf_counter

from estimator.studies.difference.compared_estimate import Compared
from estimator.studies.difference.estimate_difference import estimate_difference
from tests.factories import cost_line

LARGEST_RATIO = 60
LINES, LINES_WITHOUT_TIMING = 10_000, 200
LINES_AN_ITEM = 5


def estimate_of_size(size, more, dearer):
    """Return an estimate of stone by the ton; all numbers are invented."""
    lines = []
    for number in range(size):
        ordered, rate = 100 * (1 + number % 97) + more, 10_000 * (1 + number % 13) + dearer
        cents = (ordered * rate + 5_000) // 10_000
        item, line = divmod(number, LINES_AN_ITEM)
        lines.append(cost_line(
            f"{item // 50:02d}.{item % 50:03d}", line + 1, "fill", f"stone-{line}", "Stone",
            "material", "ton", 2, ordered, rate, cents, is_paid=True,
        ))  # fmt: skip
    return Compared(tuple(lines), ())


def compared(before, after):
    found = estimate_difference(before, after)
    return found, found.cents_by_cause, found.by_item, found.by_phase, found.by_kind, found.totals


def bare(before, after):
    old = {(line.item, line.line): line.cents for line in before.lines}
    return sum(line.cents - old[line.item, line.line] for line in after.lines)


def seconds(function, *arguments, rounds=5):
    best = float("inf")
    for _ in range(rounds):
        start = perf_counter()
        function(*arguments)
        best = min(best, perf_counter() - start)
    return best


def test_comparing_keeps_up_with_a_bare_subtraction(benchmark):
    size = LINES if benchmark.enabled else LINES_WITHOUT_TIMING
    before, after = estimate_of_size(size, 0, 0), estimate_of_size(size, 150, 25)
    found, by_cause, *_ = benchmark.pedantic(
        compared, args=(before, after), rounds=5, warmup_rounds=1
    )
    assert len(found.changed_lines) == size
    assert sum(by_cause.values()) == bare(before, after)
    if benchmark.enabled:
        bare_seconds = seconds(bare, before, after)
        ratio = benchmark.stats.stats.min / bare_seconds
        benchmark.extra_info |= {"lines": size, "bare_seconds": bare_seconds, "ratio": ratio}
        assert ratio < LARGEST_RATIO
