"""What the walk sheet says beside each cost code."""

from datetime import date

from estimator.funding.draw_papers import Evidence, Papers, Picture
from estimator.tracking.books import Books
from estimator.tracking.hold_points import HoldPoint, HoldResult
from tests.funding.made import draw, measured, moment

DAY = date(2026, 4, 26)
HOLD = HoldPoint(7, DAY, moment(DAY), "30.010", "density of lift 1", "95 %", "engineer")
PASSED = HoldResult(8, DAY, moment(DAY), "30.010", "density of lift 1", True, "96.4 %")


def stone(evidence, pictures=(), **rows):
    books = Books(progress=[measured(1, "30.010", 40)], **rows)
    request = draw(books, papers=Papers(evidence=evidence, pictures=list(pictures)))
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


def test_beside_a_hold_stands_the_last_picture_of_each_spot_of_its_code_taken_by_then():
    """Of the west wall the one of the 24th, of the pit's foot the only one; none of the 30th."""
    days = [(1, 22, "west wall"), (2, 24, "West wall"), (3, 23, "foot"), (4, 30, "west wall")]
    pictures = [
        Picture(number, date(2026, 4, day), "30.010", spot, "IMG.jpg")
        for number, day, spot in sorted(days, key=lambda one: one[1])
    ]
    hold, *others = stone([], pictures, holds=[HOLD], results=[PASSED]).covered
    assert hold == (
        "density of lift 1 passed 2026-04-26 (96.4 %): picture 2 of 2026-04-24: West wall, "
        "picture 3 of 2026-04-23: foot"
    )
    assert others == [
        "picture 1 of 2026-04-22: west wall", "picture 3 of 2026-04-23: foot",
        "picture 2 of 2026-04-24: West wall", "picture 4 of 2026-04-30: west wall",
    ]  # fmt: skip


def test_a_picture_of_another_code_stands_beside_none_of_these():
    other = Picture(1, DAY, "20.010", "bay", "IMG.jpg")
    assert stone([], [other], holds=[HOLD], results=[PASSED]).covered == (
        "density of lift 1 passed 2026-04-26 (96.4 %): no picture posted",
    )
