"""`groundsill schedule`: dates, bars, crews; faults in a sentence."""

import json
from dataclasses import replace
from datetime import date

import pytest

from api.commands.schedule_shown import _worth
from estimator.scheduling.worth_of_one_more import OneMore
from tests.commands.running import groundsill

FINISH = date(2026, 8, 28)
SCOPE = """\
project: Harrow Lane Carbarn
on: 2026-03-02
day_worth: $310/day
phases:
  - code: "20"
    name: Fabric
    items:
      - {code: "010", name: West pit, assembly: geotextile, inputs: {area: 29500 sf}}
  - code: "30"
    name: More fabric
    after: []
    items:
      - {code: "010", name: East pit, assembly: geotextile, inputs: {area: 14750 sf}}
"""


@pytest.fixture
def scope(tmp_path):
    path = tmp_path / "scope.yaml"
    path.write_text(SCOPE)
    return path


def fields(*arguments):
    ran = groundsill("schedule", *arguments, "--json")
    assert ran.exit_code == 0, ran.err
    return json.loads(ran.out)


def test_dates_start_on_the_day_that_is_named(scope):
    told = fields(scope, "--start", "2026-04-06")
    assert told["start"] == "2026-04-06"
    assert [one["code"] for one in told["phases"]] == ["20", "30"]
    assert told["phases"][0]["float_days"] == "0.00"
    assert float(told["phases"][1]["float_days"]) > 0


def test_scarce_hands_take_longer_and_what_one_more_is_worth_is_said(scope):
    free, few = fields(scope), fields(scope, "--crew", "laborer=2")
    assert float(few["days"]) > float(free["days"])
    (way,) = few["one_more"]
    assert float(way["worth"]) == pytest.approx(float(way["days"]) * 310)


def test_the_table_fits_and_critical_work_is_marked(scope):
    ran = groundsill("schedule", scope, "--crew", "laborer=2", "--items")
    assert ran.exit_code == 0, ran.err
    assert max(map(len, ran.out.splitlines())) <= 80
    assert "#" in ran.out
    assert "no order of this work ends sooner with these crews" in ran.out


def test_what_is_wrong_is_reported_in_a_sentence(scope):
    assert "did you mean 'laborer'?" in groundsill("schedule", scope, "--crew", "labrer=2").err
    assert "as laborer=3" in groundsill("schedule", scope, "--crew", "laborer=0").err
    refused = groundsill("schedule", scope, "--crew", "laborer=1").err
    assert "and the job has 1; hire more" in refused
    assert "it is empty" in groundsill("schedule", scope, "--week", " ").err
    early = groundsill("schedule", scope, "--start", "1900-01-01").err
    assert "'1900-01-01' is out of range; give a day from 1950 to 2199" in early
    scope.write_text(SCOPE.replace("after: []", "after: ['20']").replace(
        "    name: Fabric\n", "    name: Fabric\n    after: ['30']\n"
    ))  # fmt: skip
    assert "'20' waits for '30', which waits for '20'" in groundsill("price", scope).err


def test_what_is_not_proven_is_not_said_as_if_it_were():
    proven = OneMore("laborer", 0.0, FINISH, 0.0, is_proven=True)
    assert _worth(proven) == "one more laborer ends the job no sooner"
    found = OneMore("mason", 2.0, FINISH, 620.0, is_proven=False)
    assert _worth(found) == (
        "one more mason ends the job 2.0 working days sooner in the best orders found, on "
        "2026-08-28, worth $620.00"
    )


def test_a_gain_too_short_to_print_is_still_a_gain():
    short = OneMore("mason", 0.04, FINISH, 12.4, is_proven=True)
    assert _worth(short) == (
        "one more mason ends the job less than 0.1 working day sooner, on 2026-08-28, worth $12.40"
    )
    assert "ends the job 0.1 working days sooner" in _worth(replace(short, days=0.05))
