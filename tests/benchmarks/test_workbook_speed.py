"""How fast a long estimate is written, beside bare rows of the same length.

pytest tests/benchmarks --benchmark-enable -n 0
"""

from dataclasses import replace
from time import perf_counter

from openpyxl import Workbook

from estimator.scheduling.dated_estimate import price
from estimator.scope.job_calendar import NO_CALENDAR
from estimator.workbook.estimate_workbook import write_estimate
from tests.workbook.estimates import PRICING_DATE, sample_estimate

LARGEST_RATIO = 2
TIMES, TIMES_WITHOUT_TIMING = 80, 2
COLUMNS = 14


def is_timed(item):
    """Whether an item is measured by the time that other work takes."""
    return any(value.is_along for value in item.inputs.values())


def estimate_of(times):
    """Return the sample with its items so many times, but those that stand as long as others."""
    estimate = sample_estimate()
    phases = tuple(
        replace(
            phase,
            code=f"{phase.code}x{n}",
            items=tuple(
                replace(item, code=f"{item.code}x{n}") for item in phase.items if not is_timed(item)
            ),
        )
        for n in range(times)
        for phase in estimate.scope.phases
        if phase.code != "75"
    )
    large = replace(estimate.scope, phases=phases, alternates=(), calendar=NO_CALENDAR)
    return price(large, estimate.tables, PRICING_DATE)


def write_bare(lines, path):
    """Write as many lines of plain numbers."""
    workbook = Workbook(write_only=True)
    sheet = workbook.create_sheet("Cost lines")
    for number in range(lines):
        sheet.append([number + column / 4 for column in range(COLUMNS)])
    workbook.save(path)


def test_a_long_estimate_takes_at_most_twice_as_long_to_write_as_bare_rows(benchmark, tmp_path):
    times = TIMES if benchmark.enabled else TIMES_WITHOUT_TIMING
    large = estimate_of(times)
    lines = len(large.priced.lines.cents)
    assert lines >= times * len(estimate_of(1).priced.lines.cents)
    benchmark.pedantic(write_estimate, (large, tmp_path / "large.xlsx"), rounds=1)
    if benchmark.enabled:
        began = perf_counter()
        write_bare(lines, tmp_path / "bare.xlsx")
        ratio = benchmark.stats.stats.min / (perf_counter() - began)
        benchmark.extra_info["ratio_to_bare_rows"] = ratio
        assert ratio < LARGEST_RATIO
