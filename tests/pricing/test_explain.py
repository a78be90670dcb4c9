"""The working of a line in words: each step holds by its own arithmetic."""

import pytest

from estimator.errors import ScopeFaulty
from estimator.scheduling.dated_estimate import price
from tests.factories import MADE, SPRING, item, made_tables, scope_of, with_cells

PIT = item("010", "stone-fill", length="62 ft 6 in", width="4 ft 2 in", depth="4 ft 1 1/2 in")


def working(path, one, line, tables=MADE):
    """Return the steps of a line of the only item."""
    tables = made_tables(path, tables)
    return price(scope_of(tables, {"20": [one]}), tables, SPRING).explain(f"20.010/{line}").steps


def test_stone_is_led_from_the_measures_to_the_cents(tmp_path):
    assert working(tmp_path, PIT, 3) == (
        "quantity = length * width * depth * density = "
        "62 ft 6 in * 4 ft 2 in * 4 ft 1 1/2 in * 1.35 ton/cy = 53.7109 tons",
        "need = 53.7109 tons",
        "waste of 5 % adds 2.69 tons: 56.40 tons",
        "ordered for this item in multiples of 12.00 tons: 60.00 tons, of which 3.60 tons is "
        "left over",
        "60.00 tons x $24.005 per ton = $1,440.30",
        "rate from made resources.csv row 5, of 2026-01-15: invented",
    )


def test_a_need_that_is_worked_out_is_shown_with_its_values(tmp_path):
    assert working(tmp_path, PIT, 1)[3] == "need = crew_hours * 2 = 3.3569 hr * 2 = 6.7139 hr"


@pytest.mark.parametrize(
    ("area", "steps"),
    [
        # 0.62 cy with its waste of 5 % is under the 3 cy that the plant charges at the least
        ("50 sq ft", ("a minimum is charged: 3.00 cy", "3.00 cy, of which 2.35 cy is left over")),
        ("231.43 sq ft", (None, "3.00 cy, of which 0.00 cy is left over")),  # 3.00 cy, no less
        ("1,900 sq ft", (None, "25.00 cy, of which 0.37 cy is left over")),
    ],
)
def test_a_minimum_is_named_only_where_less_is_needed(tmp_path, area, steps):
    told = working(tmp_path, item("010", "slab-pour", area=area), 1)
    minimum = [step for step in told if "minimum" in step]
    assert minimum == [steps[0]] * (steps[0] is not None)
    assert any(step.endswith(steps[1]) for step in told)


@pytest.mark.parametrize("number", ["", "/", "/-1", "/\u00b2", "/1111111"])
def test_what_names_no_line_is_refused(tmp_path, number):
    tables = made_tables(tmp_path)
    estimate = price(scope_of(tables, {"20": [PIT]}), tables, SPRING)
    with pytest.raises(ScopeFaulty, match="is not a cost line"):
        estimate.explain(f"20.010{number}")


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        ({"low": "22", "high": "30.5"}, "invented (range $22.00 to $30.50)"),
        ({"low": "22"}, "invented (range $22.00 to ?)"),
        ({"high": "30"}, "invented (range ? to $30.00)"),
        ({}, "invented"),
    ],
)
def test_a_rate_tells_the_ends_of_its_range_that_are_stated(tmp_path, cells, said):
    told = working(tmp_path, PIT, 3, with_cells("resources", 5, **cells))[-1]
    assert told == f"rate from made resources.csv row 5, of 2026-01-15: {said}"
