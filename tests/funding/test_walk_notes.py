"""What the walk sheet says beside each cost code."""

from datetime import date

from estimator.funding.draw_papers import Evidence, Papers
from estimator.tracking.books import Books
from estimator.tracking.hold_points import HoldPoint, HoldResult
from tests.funding.made import draw, measured, moment

DAY = date(2026, 4, 26)
HOLD = HoldPoint(7, DAY, moment(DAY), "30.010", "density of lift 1", "95 %", "engineer")
PASSED = HoldResult(8, DAY, moment(DAY), "30.010", "density of lift 1", True, "96.4 %")


def stone(evidence, **rows):
    books = Books(progress=[measured(1, "30.010", 40)], **rows)
    request = draw(books, papers=Papers(evidence=evidence))
    return request.lines[1].codes[0]


def picture(row):
    return Evidence(1, moment(DAY), "Photographs", "west pit, lift 1", DAY, row=row)


def test_it_says_the_phase_and_the_day_of_the_last_measure():
    assert stone([]).where == "30; measured 2026-04-25"


def test_a_hold_point_passed_since_is_shown_with_the_picture_taken_before():
    code = stone([picture(7)], holds=[HOLD], results=[PASSED])
    assert code.covered == (
        "density of lift 1 passed 2026-04-26 (96.4 %): picture of 2026-04-26: west pit, lift 1",
    )


def test_it_says_where_no_picture_was_posted():
    code = stone([picture(None)], holds=[HOLD], results=[PASSED])
    assert code.covered == ("density of lift 1 passed 2026-04-26 (96.4 %): no picture posted",)


def test_a_picture_of_what_was_measured_stands_beside_its_code():
    assert stone([picture(1)]).covered == ("picture of 2026-04-26: west pit, lift 1",)
