"""The workbook of a schedule: bars in cells, a chart of its dates, no text that is a formula."""

from datetime import date, datetime
from io import BytesIO

import pytest
from openpyxl import load_workbook

from estimator.production.working_calendar import WorkingCalendar
from estimator.scheduling.dated_estimate import price
from estimator.scheduling.job_bars import bars_of
from estimator.scheduling.job_dates import job_schedule
from estimator.workbook.schedule_workbook import schedule_bytes
from tests.factories import SPRING, item, made_tables, scope_with

MONDAY = date(2026, 12, 14)
PIT = {"length": "60 ft", "width": "20 ft", "depth": "24 in"}
PLAIN = WorkingCalendar(country="")


@pytest.fixture(scope="module")
def tables(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("made"))


def phase(code, *items, **plan):
    return {"code": code, "name": f"Phase {code}", "items": list(items), **plan}


def cut(code, days, name="Cut"):
    return {**item(code, "floor-cut", length="240 ft"), "name": name, "duration": f"{days} day"}


def content(tables, *phases):
    estimate = price(scope_with(tables, list(phases)), tables, SPRING)
    bars = bars_of(estimate, job_schedule(estimate, PLAIN, MONDAY))
    return schedule_bytes(bars, SPRING, "ab" * 32)


def rows_of(sheet):
    return {row[0] or row[1]: row for row in sheet.iter_rows(values_only=True) if any(row[:2])}


def test_bars_stand_in_cells_by_week_over_the_new_year(tables):
    """Forty days are eight weeks, until Friday, February 5; on the 19th begins one week more."""
    beside = item("010", "floor-cut", length="60 ft")
    made = content(
        tables,
        phase("20", cut("010", 40)),
        phase("30", cut("010", 5), wait="14 days"),
        phase("40", item("010", "stone-fill", **PIT), after=[]),
        phase("50", beside, along=["20"]),
    )
    found = load_workbook(BytesIO(made))
    rows = rows_of(found["Bars"])
    letters = {code: "".join(one or "." for one in row[4:]) for code, row in rows.items()}
    assert letters["20"] == letters["20.010"] == "CCCCCCCC..."
    assert letters["30"] == ".......WWCC"
    assert letters["40"][0] == "F"
    assert letters["50"] == "AAAAAAAA..."
    assert rows["20"][2:4] == (datetime(2026, 12, 14), datetime(2027, 2, 5))
    assert next(row for name, row in rows.items() if name.startswith("Owner"))[4] == "1"
    assert next(row for name, row in rows.items() if name.startswith("Loader"))[4] == "R"
    assert found["Bars"].print_title_rows == "$4:$4"


def test_the_dates_and_their_chart(tables):
    found = load_workbook(BytesIO(content(tables, phase("20", cut("010", 10)))))["Dates"]
    row = rows_of(found)["20.010"]
    assert row[2:7] == (datetime(2026, 12, 14), datetime(2026, 12, 25), 10, 0, "critical")
    assert row[8:11] == (12, None, None)  # with the weekend between
    (chart,) = found._charts
    assert len(chart.series) == 4


def test_no_name_becomes_a_formula_and_the_same_dates_are_the_same_bytes(tables):
    phases = phase("20", cut("010", 1, '=HYPERLINK("x")'), cut("020", 1, "屋根の木材"))
    made = [content(tables, phases) for _ in range(2)]
    assert made[0] == made[1]
    found = load_workbook(BytesIO(made[0]))
    cells = [cell for sheet in found for row in sheet.iter_rows() for cell in row]
    assert [cell.coordinate for cell in cells if cell.data_type == "f"] == []
    assert rows_of(found["Dates"])["20.010"][1] == '=HYPERLINK("x")'
