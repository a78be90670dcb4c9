"""The course of the cash drawn by day."""

from dataclasses import replace

import pytest

from estimator.charts.cash_chart import cash_chart
from estimator.funding.cash_course import cash_course
from tests.funding.test_cash_course import PLAN


@pytest.mark.parametrize("form", ["svg", "png"])
def test_the_same_course_draws_the_same_bytes(form):
    course = cash_course(PLAN)
    assert cash_chart(course, "Barn_$", "P50", form) == cash_chart(course, "Barn_$", "P50", form)


def test_the_chart_says_what_the_owner_has_and_needs():
    course = cash_course(replace(PLAN, own_cash_cents=5_000_00))
    drawn = cash_chart(course, "Barn", "P80", "svg").decode()
    for words in ("the owner has paid", "loan balance", "equity and own cash, $15,000.00"):
        assert f"<!-- {words} -->" in drawn
    assert "The owner has paid most on 2026-06-01: $45,588.55" in drawn
    assert "<!-- Jun 2026 -->" in drawn
