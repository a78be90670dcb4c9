"""Planned value follows the schedule of the accepted scope, until dates are posted."""

import json

import pytest

from tests.commands.running import groundsill

SCOPE = """\
project: Harrow Lane Carbarn
on: 2026-03-02
markups: []
{calendar}phases:
  - code: "20"
    name: Fabric
    items:
      - {{code: "010", name: West pit, assembly: geotextile, inputs: {{area: 29500 sf}}}}
  - code: "30"
    name: More fabric
    after: ["20"]
    items:
      - {{code: "010", name: East pit, assembly: geotextile, inputs: {{area: 14750 sf}}}}
"""
CALENDAR = "calendar: {start: 2026-03-09}\n"


@pytest.fixture
def opened(tmp_path, monkeypatch):
    monkeypatch.setenv("GROUNDSILL_DATA_FOLDER", str(tmp_path / "data"))

    def open_books(calendar):
        path = tmp_path / "scope.yaml"
        path.write_text(SCOPE.format(calendar=calendar), encoding="utf-8")
        ran = groundsill("books", "open", path)
        assert ran.exit_code == 0, ran.err

    return open_books


def codes(as_of):
    report = json.loads(groundsill("track", "--as-of", as_of, "--json").out)
    return {one["code"]: one for one in report["codes"]}


def test_the_first_phase_is_planned_before_the_second_by_the_schedule(opened):
    opened(CALENDAR)
    """Work from March 9 to 18, then from the 18th to the 24th: by the 20th 3 of 7 days of it."""
    west, east = codes("2026-03-20")["20.010"], codes("2026-03-20")["30.010"]
    assert west["planned_value"] == west["budget"] == "10483.00"
    assert (east["planned_value"], east["budget"]) == ("2292.43", "5349.00")


def test_a_day_before_the_start_nothing_is_planned(opened):
    opened(CALENDAR)
    assert codes("2026-03-08")["20.010"]["planned_value"] == "0.00"


def test_dates_that_are_posted_go_before_those_of_the_schedule(opened):
    opened(CALENDAR)
    ran = groundsill(
        "log", "plan", "--code", "20", "--start", "2026-04-06", "--finish", "2026-04-10",
        "--happened", "2026-03-10",
    )  # fmt: skip
    assert ran.exit_code == 0, ran.err
    assert codes("2026-03-20")["20.010"]["planned_value"] == "0.00"


def test_a_scope_that_does_not_say_when_work_begins_plans_no_dates(opened):
    opened("")
    assert codes("2026-03-20")["20.010"]["planned_value"] == "0.00"
