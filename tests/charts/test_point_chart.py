"""Measured points drawn by day, with their limits and sentences."""

from datetime import timedelta
from decimal import Decimal

import pytest

from estimator.charts.point_chart import MOST_PANELS, point_chart
from estimator.tracking.measured_points import MeasuredPoint, Reading, point_courses
from tests.tracking.rows import LATER, MONDAY, at


def point(row, name="crack_$3", **more):
    return MeasuredPoint(row, MONDAY, at(MONDAY), name, "mm", **more)


def reading(row, value, name="crack_$3", days=0):
    day = MONDAY + timedelta(days)
    return Reading(row, day, at(day), name, Decimal(value))


@pytest.mark.parametrize("form", ["svg", "png"])
def test_the_same_readings_draw_the_same_bytes(form):
    courses = point_courses([point(1, most=Decimal(3))], [reading(2, "2.0"), reading(3, "2.4")])
    drawn = point_chart(courses, "Carbarn", LATER, form)
    assert drawn == point_chart(courses, "Carbarn", LATER, form)


def test_a_point_shows_its_limits_and_its_name_or_what_is_to_be_said_of_it():
    limits = {"least": Decimal("-1.5"), "most": Decimal("3.0")}
    courses = point_courses(
        [point(1, **limits), point(2, "level")],
        [reading(3, "2.0"), reading(4, "3.1", days=7)],
    )
    drawn = point_chart(courses, "Carbarn", LATER, "svg").decode()
    for words in ("at least -1.5 mm", "at most 3.0 mm", "level", "no reading yet"):
        assert f"<!-- {words} -->" in drawn
    assert "is past the limit of 3.0 mm" in drawn


def test_of_too_many_points_those_near_a_limit_are_drawn():
    names = [f"point {number}" for number in range(MOST_PANELS + 2)]
    points = [point(1, name, most=Decimal(3)) for name in names]
    drawn = point_chart(
        point_courses(points, [reading(2, "4.0", names[-1])]), "Carbarn", LATER, "svg"
    ).decode()
    assert "2 more" in drawn
    assert f"{names[-1]}: 4.0 mm" in drawn
    assert f"<!-- {names[-2]} -->" not in drawn
