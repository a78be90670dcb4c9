"""A first day, a week and a crew that go before those of a scope, as if they stood in it."""

from datetime import date

import pytest

from estimator.errors import Faults, ScopeFaulty
from estimator.opening import open_tables
from estimator.scope.located import Text, without_places
from estimator.scope.other_times import OtherTimes, with_other_times
from estimator.scope.scope_reader import read_scope
from estimator.scope.scope_yaml import read_yaml

SCOPE = """\
project: Harrow Lane Carbarn
shift: 9 hr/day
calendar: {start: 2026-04-06, weekdays: [Tue, Wed, Thu, Fri, Sat], holidays: Ohio}
crew: {laborer: 2, mason: 1}
risk: {start: 2026-04-06}
phases:
  - code: "20"
    name: Fabric
    items:
      - {code: "010", name: West pit, assembly: geotextile, inputs: {area: 29500 sf}}
"""
LATER = OtherTimes(start=Text("2026-05-04", "--start"), crew={"laborer": Text("3", "--crew")})


@pytest.fixture(scope="module")
def tables():
    return open_tables()


def written(text=SCOPE):
    return read_yaml(text.encode(), "scope.yaml", Faults())


def week(text):
    return OtherTimes(week=Text(text, "--week"))


def test_a_first_day_and_a_crew_take_the_place_of_the_stated_ones(tables):
    scope = read_scope(with_other_times(written(), LATER), tables)
    assert (scope.first_day, dict(scope.crew)) == (date(2026, 5, 4), {"laborer": 3, "mason": 1})
    assert scope.shift.value == 9


@pytest.mark.parametrize(
    ("text", "weekdays"),
    [("4 days of 10 hr", "Mon Tue Wed Thu"), ("5 days of 10 hr", "Tue Wed Thu Fri Sat")],
)
def test_a_week_takes_the_place_of_the_shift_and_of_weekdays_that_are_not_as_many(
    text, weekdays, tables
):
    scope = read_scope(with_other_times(written(), week(text)), tables)
    assert scope.working_calendar.weekdays == set(weekdays.split())
    assert (scope.shift.value, scope.working_calendar.subdivision) == (10, "OH")


def test_a_scope_without_a_calendar_gets_one_and_one_that_is_no_section_stays_a_fault(tables):
    bare = "".join(line for line in SCOPE.splitlines(True) if line[:4] not in ("cale", "crew"))
    plain = without_places(with_other_times(written(bare), week("4 days of 10 hr")))
    assert plain["calendar"] == {"week": "4 days of 10 hr"}
    with pytest.raises(ScopeFaulty, match="calendar"):
        read_scope(with_other_times(written(f"calendar: soon\n{bare}"), LATER), tables)


def test_what_is_wrong_with_them_is_said_where_they_were_given(tables):
    faulty = OtherTimes(
        Text("soon", "--start"), Text("8 days of 30 hr", "--week"), {"labrer": Text("3", "--crew")}
    )
    with pytest.raises(ScopeFaulty) as refused:
        read_scope(with_other_times(written(), faulty), tables)
    assert sorted(one.where.partition(",")[0] for one in refused.value.faults) == [
        "--crew", "--start", "--week",
    ]  # fmt: skip
