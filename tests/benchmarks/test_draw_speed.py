"""How fast a draw of 200 lines and 20,000 entries is made and printed, beside the bare libraries.

pytest tests/benchmarks/test_draw_speed.py --benchmark-enable -n 0

Wanted: the request within 0.5 s, pages and workbook within 3 s each. Measured on two busy
cores: request 0.31 to 0.35, pages 1.7, workbook 1.0; on two quiet ones pages 1.5, workbook 0.7,
bare calls for as many cells 2.7 and 1.4.
"""

from time import perf_counter

import pytest

from estimator.funding.draw_checks import check_draw
from estimator.funding.draw_package import DrawPackage
from estimator.printed.draw_pages import draw_pdf
from estimator.workbook.draw_workbook import draw_bytes
from tests.benchmarks.large_draw import LargeDraw, bare_pages, bare_rows

LINES, ENTRIES = 200, 20_000
LINES_UNTIMED, ENTRIES_UNTIMED = 20, 200
LARGEST_RATIO = {"request": 0.5, "pages": 1, "workbook": 2}
WAYS = {"pages": (draw_pdf, bare_pages), "workbook": (draw_bytes, bare_rows)}


@pytest.fixture
def large(benchmark):
    sizes = (LINES, ENTRIES) if benchmark.enabled else (LINES_UNTIMED, ENTRIES_UNTIMED)
    return LargeDraw(*sizes)


def test_a_draw_of_many_entries_agrees_to_the_cent(benchmark, large):
    request = benchmark.pedantic(large.request, rounds=3 if benchmark.enabled else 1)
    check_draw(request)
    assert len(request.backup) >= 0.9 * large.entries
    check_ratio(benchmark, "request", bare_rows, large.entries)


@pytest.mark.parametrize("way", WAYS)
def test_it_is_printed_faster_than_by_bare_calls_for_as_many_cells(benchmark, large, way):
    write, bare = WAYS[way]
    package = DrawPackage(large.request())
    benchmark.pedantic(write, (package,), rounds=1, warmup_rounds=1 if benchmark.enabled else 0)
    check_ratio(benchmark, way, bare, len(package.request.backup))


def check_ratio(benchmark, way, bare, rows):
    """Compare the time of what was measured with bare calls for as many rows."""
    if benchmark.enabled:
        began = perf_counter()
        bare(rows)
        ratio = benchmark.stats.stats.min / (perf_counter() - began)
        benchmark.extra_info["ratio_to_bare_calls"] = ratio
        assert ratio < LARGEST_RATIO[way]
