"""The calendar file of the books: the dates of the accepted estimate, with its open hold points."""

from datetime import date

import pytest
from icalendar import Calendar

from tests.commands.running import groundsill

SCOPE = """\
project: Harrow Lane Carbarn
on: 2026-03-02
markups: []
calendar: {start: 2026-03-09}
phases:
  - code: "20"
    name: Fabric
    items:
      - {code: "010", name: West pit, assembly: geotextile, inputs: {area: 29500 sf}}
      - {code: "020", name: East pit, assembly: geotextile, inputs: {area: 14750 sf}}
"""
HOLD = (
    "log", "hold", "--happened", "2026-03-03", "--code", "20.020", "--name", "subgrade looked at",
    "--needs", "a signed report", "--decides", "engineer", "--notice-days", "3",
)  # fmt: skip


@pytest.fixture
def days(tmp_path, monkeypatch):
    monkeypatch.setenv("GROUNDSILL_DATA_FOLDER", str(tmp_path / "data"))
    scope = tmp_path / "scope.yaml"
    scope.write_text(SCOPE, encoding="utf-8")
    ran = groundsill("books", "open", scope)
    assert ran.exit_code == 0, ran.err

    def written(as_of):
        file = tmp_path / f"{as_of}.ics"
        ran = groundsill("track", "--as-of", as_of, "--ics", file)
        assert ran.exit_code == 0, ran.err
        events = Calendar.from_ical(file.read_bytes()).walk("VEVENT")
        return {str(one["summary"]): one["dtstart"].dt for one in events}

    return written


def test_a_hold_is_on_the_day_its_work_begins_and_who_decides_is_called_before(days):
    """West pit takes March 9 to 18: the east pit begins on Wednesday the 18th."""
    assert groundsill(*HOLD).exit_code == 0
    found = days("2026-03-04")
    assert found["Begins: 20.020 East pit"] == date(2026, 3, 18)
    assert found["Hold: 20.020 subgrade looked at"] == date(2026, 3, 18)
    assert found["Call the engineer: subgrade looked at, for 2026-03-18"] == date(2026, 3, 15)


def test_a_hold_of_work_that_has_begun_is_due_today_and_a_passed_one_is_gone(days):
    groundsill(*HOLD)
    assert days("2026-03-20")["Hold: 20.020 subgrade looked at"] == date(2026, 3, 20)
    passed = groundsill(
        "log", "hold-result", "--happened", "2026-03-19", "--code", "20.020",
        "--name", "subgrade looked at", "--passed",
    )  # fmt: skip
    assert passed.exit_code == 0, passed.err
    assert not [title for title in days("2026-03-20") if "subgrade" in title]
