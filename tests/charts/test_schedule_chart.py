"""The bar chart of a job: the same bytes for the same dates, names as they stand, every row."""

import xml.etree.ElementTree as ET
from datetime import date
from io import BytesIO

import pytest
from PIL import Image

from estimator.charts.schedule_chart import schedule_chart
from estimator.scheduling.dated_estimate import price
from estimator.scheduling.job_bars import bars_of
from estimator.scheduling.job_dates import job_schedule
from tests.factories import SPRING, scope_with
from tests.scope.methods.choices import shipped

LONG = "The old timber frame of the north bay and of its posts, until nobody reads it"


def lump(code, days, name="Work"):
    return {"code": code, "name": name, "lump_sum": {"amount": "$900", "days": f"{days} day"}}


def bars(*phases, start=date(2026, 10, 5)):
    estimate = price(scope_with(shipped(), list(phases)), shipped(), SPRING)
    return bars_of(estimate, job_schedule(estimate, start=start))


def phase(code, *items, name="Phase", **plan):
    return {"code": code, "name": name, "items": list(items), **plan}


def words_of(svg):
    """Return the texts of a drawing, which stand in it as comments."""
    return [line[5:-4].strip() for line in map(str.strip, svg.splitlines()) if "<!-- " in line]


@pytest.mark.parametrize("form", ["svg", "png"])
def test_the_same_dates_draw_the_same_bytes(form):
    draw = [schedule_chart(bars(phase("20", lump("010", 3))), form) for _ in range(2)]
    assert draw[0] == draw[1]


def test_names_stand_as_they_are_and_wrap_and_what_is_critical_says_so():
    shown = bars(
        phase("20", lump("010", 3, LONG), lump("020", 1, "=1+1 $x^2$ &")),
        phase("30", lump("010", 1, "Балка"), after=[], name="屋根" * 20),
    )
    svg = schedule_chart(shown, "svg").decode()
    assert ET.fromstring(svg).tag.endswith("svg")  # noqa: S314  # drawn by this test itself
    words = words_of(svg)
    assert "20.010 The old timber frame of the north bay and" in words
    assert "20.020 =1+1 $x^2$ &amp;" in words
    assert "30.010 Балка" in words
    assert "10-05 to 10-07  critical" in words
    assert "10-05 to 10-05  float 3.0 days" in words


def test_a_job_into_another_year_says_the_years():
    svg = schedule_chart(bars(phase("20", lump("010", 80))), "svg").decode()
    assert "2026-10-05 to 2027-02-01  critical" in words_of(svg)
    assert {"2026", "2027"} <= set(words_of(svg))


def test_each_item_is_drawn_on_a_row_of_its_own():
    """A row is 0.175 in, at 144 dots an inch; the rest of the page is the same."""
    heights = []
    for count in (1, 13):
        items = [lump(f"{n:03d}", 1, f"Item {n}") for n in range(1, count + 1)]
        picture = schedule_chart(bars(phase("20", *items)), "png")
        heights.append(Image.open(BytesIO(picture)).height)
    assert heights[1] - heights[0] == pytest.approx(12 * 0.175 * 144, abs=2)


def test_of_more_rows_than_a_page_can_be_read_the_phases_are_drawn():
    items = [lump(f"{n:03d}", 1, f"Item {n}") for n in range(1, 252)]
    svg = schedule_chart(bars(phase("20", *items)), "svg").decode()
    assert any("phases only: there are 251 items" in one for one in words_of(svg))
    assert not any("Item 7" in one for one in words_of(svg))


def test_a_job_that_takes_no_days_is_drawn_too():
    unsaid = {"code": "010", "name": "Permit", "lump_sum": {"amount": "$900"}}
    svg = schedule_chart(bars(phase("20", unsaid)), "svg").decode()
    assert "10-05 to 10-05  takes no days" in words_of(svg)
