"""How fast a stored estimate of 5,000 items is explained and compared, beside reading its JSON.

    pytest tests/benchmarks/test_stored_estimate_speed.py --benchmark-enable -n 0

An explanation works out one item. Beside it stands the bare reading of the stored scope, which
holds them all; beside a difference, the bare reading of both documents.
"""

import json
from datetime import date
from fractions import Fraction

import pytest

from api.calculations.rate_tables import SHIPPED, shipped_texts, tables_of
from api.estimates.explanations import explainer_of
from api.projects.written_scope import read_written
from estimator.pricing.estimate_json import estimate_from_json, estimate_json
from estimator.scheduling.dated_estimate import price
from estimator.studies.difference.compared_estimate import compared_estimate
from estimator.studies.difference.estimate_difference import estimate_difference
from estimator.studies.difference.estimate_difference_json import estimate_difference_json
from tests.benchmarks.test_pricing_speed import ITEMS_A_PHASE, measure, seconds
from tests.factories import SPRING

SIZE, SIZE_WITHOUT_TIMING = 5_000, 100
LARGEST_OF_EXPLAINING, LARGEST_OF_COMPARING = 4, 10
LATER = date(2026, 5, 4)
FILES = {SHIPPED: shipped_texts()}


@pytest.fixture(scope="module")
def tables():
    return tables_of(FILES)


def written(tables, size):
    """Return a scope as it is stored, which uses every shipped assembly in turn."""
    assemblies = sorted(tables.catalogue.assemblies.values(), key=lambda one: one.code)
    phases = {}
    for number in range(size):
        assembly = assemblies[number % len(assemblies)]
        share = Fraction(1 + number * 7 % 19, 40)
        inputs = {one.name: measure(one, share) for one in assembly.inputs if one.is_required}
        item = {"code": str(number), "name": "W", "assembly": assembly.code, "inputs": inputs}
        phases.setdefault(str(number // ITEMS_A_PHASE), []).append(item)
    listed = [{"code": code, "name": "P", "items": items} for code, items in phases.items()]
    return {"project": "Large", "phases": listed}


def explained(scope, line):
    explainer = explainer_of(scope, FILES, line)
    assert explainer.leads_to(line, SPRING)
    return explainer.explanation(line, SPRING)


def compared(before, after):
    one, other = (compared_estimate(estimate_from_json(text)) for text in (before, after))
    return estimate_difference_json(estimate_difference(one, other))


def noted(benchmark, size, bare, largest):
    ratio = benchmark.stats.stats.min / bare
    benchmark.extra_info |= {"items": size, "bare_seconds": bare, "ratio": ratio}
    assert ratio < largest


def test_an_explanation_takes_little_more_than_reading_the_scope(benchmark, tables):
    size = SIZE if benchmark.enabled else SIZE_WITHOUT_TIMING
    scope = written(tables, size)
    line = price(read_written(scope, tables), tables, SPRING).cost_lines[-1]
    text = json.dumps(scope)
    explanation = benchmark.pedantic(explained, args=(text, line), rounds=5, warmup_rounds=1)
    assert explanation.title.startswith(f"{line.item}/{line.line} ")
    if benchmark.enabled:
        noted(benchmark, size, seconds(json.loads, text), LARGEST_OF_EXPLAINING)


def test_a_difference_takes_a_few_times_as_long_as_reading_both_documents(benchmark, tables):
    size = SIZE if benchmark.enabled else SIZE_WITHOUT_TIMING
    scope = read_written(written(tables, size), tables)
    texts = [estimate_json(price(scope, tables, on)) for on in (SPRING, LATER)]
    told = benchmark.pedantic(compared, args=texts, rounds=3, warmup_rounds=1)
    assert json.loads(told)["lines"] == []
    if benchmark.enabled:
        bare = seconds(lambda: [json.loads(text) for text in texts])
        noted(benchmark, size, bare, LARGEST_OF_COMPARING)
