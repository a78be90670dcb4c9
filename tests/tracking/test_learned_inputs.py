"""A pace that was learned becomes the production rate of its assembly, which is written whole."""

import csv
from io import StringIO

import pytest

from estimator.assemblies.tables import load_tables
from estimator.tracking.job_record import PACE, JobRate
from estimator.tracking.learned_inputs import input_tables
from estimator.tracking.learned_rates import Learned, proposed_rate
from tests.factories import MADE, SPRING, item, scope_of, write_folder

CUT, NEXT = "20.010", "20.020"


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """Two cuts of 240 and 90 ft by hand, 30 ft an hour, and a fill beside them."""
    folder = write_folder(tmp_path_factory.mktemp("made") / "made", MADE)
    tables = load_tables([folder])
    items = [
        item("010", "floor-cut", length="240 ft"),
        item("020", "floor-cut", length="90 ft"),
        item("030", "stone-fill", length="10 ft", width="3 ft", depth="6 ft"),
    ]
    return scope_of(tables, {"20": items}), tables, [folder]


def pace(hours_per_ft, code=CUT, observations=4):
    seen = Learned(observations, hours_per_ft, 0.0, 1.0, 0.8, 0.001, ())
    return JobRate(PACE, code, "hr/lf", seen, 1 / 30, proposed_rate(seen, 1 / 30, None, None, ""))


def written(made, *rates):
    texts = input_tables(rates, *made, SPRING)
    return {name: list(csv.DictReader(StringIO(text))) for name, text in texts.items()}


def rate_of(made, *rates):
    """Return the production rate that is written, with its source; None where none is."""
    rows = written(made, *rates).get("assembly_inputs.csv", ())
    own = [(one["default"], one["source"]) for one in rows if one["input"] == "production_rate"]
    return own[0] if own else None


@pytest.mark.parametrize(
    ("hours_per_ft", "feet_per_hour"),
    [(0.05, "20"), (0.04, "25"), (1 / 90, "90"), (0.01, None), (0.025, "40")],
)
def test_the_rate_is_the_one_at_which_the_item_comes_to_the_hours_proposed(
    made, hours_per_ft, feet_per_hour
):
    """12 hours for 240 ft are 20 ft an hour; 100 ft an hour are beyond the 90 of the input."""
    found = rate_of(made, pace(hours_per_ft))
    assert (found and float(found[0])) == (feet_per_hour and float(feet_per_hour))


def test_an_assembly_is_written_whole_and_others_are_not(made):
    tables = written(made, pace(0.05))
    assert {name: len(rows) for name, rows in tables.items()} == {
        "assemblies.csv": 1, "assembly_inputs.csv": 8, "assembly_lines.csv": 3,
    }  # fmt: skip
    as_before = {one["input"]: one["default"] for one in tables["assembly_inputs.csv"]}
    assert (as_before["blade_life"], as_before["strip"]) == ("120", "12")
    assert rate_of(made, pace(0.05))[1].startswith("own record: 4 observations")


def test_of_two_items_the_one_observed_more_often_counts_and_the_later_of_as_many(made):
    often, seldom = pace(0.05, CUT, 6), pace(0.04, NEXT, 4)
    assert float(rate_of(made, often, seldom)[0]) == 20.0
    assert float(rate_of(made, pace(0.05, CUT), pace(0.04, NEXT))[0]) == 25.0


def test_nothing_is_written_of_what_was_not_learned(made):
    assert written(made) == {}
    assert written(made, pace(0.05, "20.999")) == {}
