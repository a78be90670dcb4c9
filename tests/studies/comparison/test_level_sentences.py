"""Where a fill stands, and when it gets to a level, in sentences."""

from estimator.production.placed_so_far import observed_pace, pace_of_sum
from estimator.studies.comparison.changing_course import changed_course
from estimator.studies.comparison.comparison import compare
from estimator.studies.comparison.level_sentences import standing_sentences
from tests.factories import SPRING
from tests.scope.methods.choices import shipped
from tests.scope.methods.test_rising_fill import fill_scope


def test_what_now_says_where_the_fill_stands_and_when_it_gets_there():
    """50.4 of 100.8 tons in 2 days are half: 98 ft. 25.2 tons a day: the top on day 4.

    With 30 tons on 2 days 97 ft takes 25.2 and is reached; 98 ft lacks 20.4 tons, or 1.36 days.
    """
    compared = compare(fill_scope("4 ft"), shipped(), SPRING, "30.010")
    half = changed_course(compared, 0, pace_of_sum(50.4, 2))
    assert standing_sentences(half) == (
        "By what is placed the fill stands at 98.00 ft; at this pace 97 ft is reached "
        "already, 98 ft is reached already, its top, 100 ft, is reached on day 4 of the work.",
    )
    slow = changed_course(compared, 0, observed_pace([14.0, 16.0]))
    assert (
        "97 ft is reached already, 98 ft is reached on day 4, its top"
        in standing_sentences(slow)[0]
    )
