"""The chart of how sure an estimate is: the same bytes for the same seed, names as they stand."""

import xml.etree.ElementTree as ET
from textwrap import fill

import pytest

from estimator.charts.risk_chart import heights, risk_chart
from estimator.scheduling.dated_estimate import price
from estimator.studies.risk.job_risk import job_risk
from tests.factories import SPRING, item, scope_with
from tests.scope.methods.choices import sample, shipped


def sample_risk(seed=7):
    scope, tables = sample()
    return job_risk(price(scope, tables, scope.on), seed=seed, iterations=300)


@pytest.mark.parametrize("form", ["svg", "png"])
def test_the_same_seed_draws_the_same_bytes(form):
    assert risk_chart(sample_risk(), form) == risk_chart(sample_risk(), form)
    assert risk_chart(sample_risk(), form) != risk_chart(sample_risk(8), form)


def test_a_job_in_which_nothing_varies_is_drawn_too():
    fixed = {"code": "20", "name": "$_x^2$ <&>", "items": [item("010", "plank-floor-wreck",
             area="90 sf") | {"name": "_$a^2$ <b>"}]}  # fmt: skip
    scope = scope_with(shipped(), [fixed], risk={"quantity": ["90 %", "120 %"]})
    risk = job_risk(price(scope, shipped(), SPRING), iterations=200)
    root = ET.fromstring(risk_chart(risk, "svg"))  # noqa: S314  # drawn by this test itself
    assert root.tag.endswith("svg")


def test_names_wrap_and_no_label_stands_on_another():
    """P81 would stand on P80: its label is moved up by the height of one, 4.5 % of the chart."""
    scope, tables = sample()
    risk = job_risk(price(scope, tables, scope.on), 0.81, seed=7, iterations=300)
    drawn = risk_chart(risk, "svg").decode()
    longest = max((one.name for one in risk.drivers[:10]), key=len)
    assert len(longest) > 34
    for line in fill(longest, 34).splitlines():
        assert f"<!-- {line} -->" in drawn
    assert "..." not in drawn
    assert heights([3.5, 50.0, 80.0, 81.0, 99.0]) == [4.5, 51.0, 81.0, 85.5, 100.0]
