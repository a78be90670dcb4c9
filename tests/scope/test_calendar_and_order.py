"""Calendar, crew and order of a scope: read, refused with a place, and in no digest unless said."""

from datetime import date
from fractions import Fraction

import pytest

from estimator.errors import ScopeFaulty
from estimator.scope.scope_digest import scope_digest
from estimator.scope.work_order import ordered_work
from estimator.scope.work_plan import Wait
from tests.factories import item, made_tables, scope_with


@pytest.fixture(scope="module")
def tables(tmp_path_factory):
    return made_tables(tmp_path_factory.mktemp("made"))


def cut(code, **plan):
    return {**item(code, "floor-cut", length="240 ft"), **plan}


def phase(code, *items, **plan):
    return {"code": code, "name": f"Phase {code}", "items": items or (cut("010"),), **plan}


def faults(tables, *phases, **head):
    with pytest.raises(ScopeFaulty) as refused:
        scope_with(tables, list(phases or (phase("20"),)), **head)
    return [str(one) for one in refused.value.faults]


def test_a_calendar_says_week_holidays_days_off_and_weather(tables):
    scope = scope_with(tables, [phase("20")], calendar={
        "start": "2026-04-06", "week": "4 days of 10 hr", "holidays": "ohio",
        "days_off": ["2026-05-01"], "days_worked": ["2026-05-02"],
        "shut_downs": ["2026-12-30 to 2027-01-02"], "weather": {"Jan": "4 days", "Apr": "1.5 day"},
    })  # fmt: skip
    working = scope.working_calendar
    assert scope.first_day == date(2026, 4, 6)
    assert working.weekdays == {"Mon", "Tue", "Wed", "Thu"}
    assert (working.country, working.subdivision) == ("US", "OH")
    assert working.days_off == {
        date(2026, 5, 1), date(2026, 12, 30), date(2026, 12, 31), date(2027, 1, 1),
        date(2027, 1, 2),
    }  # fmt: skip
    assert working.days_worked == {date(2026, 5, 2)}
    assert working.weather_days == (4.0, 0.0, 0.0, 1.5, *(0.0,) * 8)
    assert scope.shift.value == Fraction(10)


def test_inspections_stand_before_or_after_work_with_their_notice(tables):
    scope = scope_with(tables, [phase("20")], calendar={"inspections": [
        {"name": "Footing", "by": "building inspector", "before": "20.010",
         "notice": "2 working days"},
        {"name": "Final", "after": "20", "notice": "7 days"},
        {"name": "Look", "after": "20"},
    ]})  # fmt: skip
    assert [
        (one.name, one.by, one.code, one.is_before, one.notice)
        for one in scope.calendar.inspections
    ] == [
        ("Footing", "building inspector", "20.010", True, Wait(2.0, by_calendar=False)),
        ("Final", "", "20", False, Wait(7.0)),
        ("Look", "", "20", False, Wait(0.0)),
    ]


def test_every_fault_of_inspections_comes_in_one_answer(tables):
    told = faults(tables, calendar={"inspections": [
        {"name": "Footing", "before": "20.010", "after": "20"},
        {"name": "Slab"},
        {"before": "20", "notice": "2.5 days"},
        {"name": "Frame", "before": "20.020"},
        {"name": "Roof", "after": "20", "notice": "soon"},
        {"name": "Roof", "after": "20"},
        "next week",
    ]})  # fmt: skip
    for part in (
        "an inspection comes before or after one piece of work", "name is missing",
        "notice '2.5 days' is not in whole days", "names '20.020', which does not exist",
        "inspection 'Roof' of 20 is listed twice", "an inspection is not a set of keys",
    ):  # fmt: skip
        assert any(part in one for one in told), part


def test_every_fault_of_a_calendar_comes_in_one_answer(tables):
    told = faults(
        tables,
        shift="8 hr/day",
        crew={"laborer": "3", "plumber": "1"},
        calendar={
            "start": "2026-02-30", "week": "8 days of 8 hr", "weekdays": ["Mon", "Funday"],
            "holidays": "Ohoi", "shut_downs": ["2026-12-30", "2026-12-30 to 2025-01-02"],
            "weather": {"Jan": "4 ft"}, "days_off": ["2026-05-02"], "days_worked": ["2026-05-02"],
        },
    )  # fmt: skip
    for part in (
        "start '2026-02-30' is not a day", "week '8 days of 8 hr' is not a working week",
        "unknown weekday 'Funday'",
        "'Ohoi' is not a state of the United States; did you mean 'Ohio'?",
        "shut-down '2026-12-30' is not a span of days", "is not 1 to 366 days long", "Jan",
        "unknown key 'plumber'", "2026-05-02 is a day off and a day worked; take one of them out",
    ):  # fmt: skip
        assert any(part in one for one in told), part
    assert len(told) == 9


def test_a_year_without_a_working_day_and_two_lengths_of_the_day_are_refused(tables):
    weather = dict.fromkeys(
        ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"),
        "31 days",
    )
    (fault,) = faults(tables, calendar={"start": "2026-04-06", "weather": weather})
    assert "no day is worked in the year from 2026-04-06" in fault
    (fault,) = faults(tables, shift="8 hr/day", calendar={"week": "5 days of 10 hr"})
    assert "shift '8 hr/day' is not the day of the week" in fault
    (fault,) = faults(tables, calendar={"start": "2026-04-06"}, risk={"start": "2026-04-07"})
    assert "the calendar starts on 2026-04-06, and risk says 2026-04-07" in fault


def test_waits_are_calendar_days_unless_they_say_working_days(tables):
    scope = scope_with(
        tables, [phase("20"), phase("30", after=["20"], wait="7 days"),
                 phase("40", after=["20", "30"], wait=["2 weeks", "2.5 working days"])],
    )  # fmt: skip
    assert [one.plan.waits for one in scope.phases] == [
        (), (Wait(7.0),), (Wait(14.0), Wait(2.5, by_calendar=False)),
    ]  # fmt: skip


def test_a_wait_of_zero_says_nothing_and_changes_no_digest(tables):
    plain, zero = (
        scope_with(tables, [phase("20"), phase("30", **more)]) for more in ({}, {"wait": "0 days"})
    )
    assert scope_digest(plain) == scope_digest(zero)


def test_calendar_crew_and_order_are_in_the_digest_when_they_are_said(tables):
    plain = scope_with(tables, [phase("20"), phase("30")])
    others = [
        scope_with(tables, [phase("20"), phase("30")], calendar={"days_off": ["2026-05-01"]}),
        scope_with(tables, [phase("20"), phase("30")], crew={"laborer": "3"}),
        scope_with(tables, [phase("20"), phase("30", wait="7 days")]),
        scope_with(tables, [phase("20"), phase("30", cut("010", duration="3 day"))]),
        scope_with(tables, [phase("20"), phase("30", along=["20"])]),
    ]
    assert len({scope_digest(one) for one in (plain, *others)}) == 6


def test_items_follow_one_another_unless_they_say_what_they_wait_for(tables):
    scope = scope_with(tables, [
        phase("20", cut("010"), cut("020", after=[]), cut("030", after=["010", "020"])),
        phase("30", cut("010", starts_with=["20.030"])),
    ])  # fmt: skip
    after = {one.code: [other.code for other in one.after] for one in ordered_work(scope)}
    assert after["20.020"] == ["begins 20"]
    assert after["20.030"] == ["begins 20", "20.010", "20.020"]
    assert after["30.010"] == ["begins 30", "20.030"]


def test_every_fault_of_the_order_is_reported_at_its_place(tables):
    told = faults(
        tables,
        phase("20", cut("010", after=["099"])),
        phase("30", cut("010", after=[]), duration="3 day", after=["2O", "30"]),
        phase("40", along=["20"], wait="7 days"),
        phase("50", starts_with=["40"], after=["30.010"]),
        phase("60", wait=["1 day", "2 days"]),
        phase("70", wait="1.5 days"),
        phase("80", cut("010", wait="3 days"), after=["70", "70"], wait=["7 days", "3 days"]),
        phase("90", after=[], wait="7 days"),
    )
    for part in (
        "item 20.010: after names '20.099', which does not exist",
        "item 30.010: phase '30' states its duration, so its items have no dates of their own",
        "phase 30: after names '2O', which does not exist; use one of '20', '30', '40'",
        "phase 30: after names itself, '30'",
        "wait stands beside along",
        "phase 50: starts_with names '40', which itself runs along others; name these: 20",
        "phase 50: after names '30.010', which has no dates of its own; name its phase, 30",
        "wait has 2 values for 0 that are waited for",
        "wait '1.5 days' is not in whole days",
        "phase 80: after names '70' 2 times; name it once, with one wait",
        "item 80.010: wait is given with nothing to wait for; say after what",
        "phase 90: wait is given with nothing to wait for; say after what",
    ):
        assert any(part in one for one in told), part
    assert len(told) == 12
    assert all(one.startswith("scope") for one in told)


def test_of_twenty_thousand_names_that_do_not_exist_a_thousand_are_listed(tables):
    names = [f"q{n}" for n in range(20_000)]
    with pytest.raises(ScopeFaulty) as refused:
        scope_with(tables, [phase("20"), phase("30", after=names)])
    assert (len(refused.value.faults), refused.value.more) == (1_000, 19_000)


def test_a_list_of_more_than_20000_texts_is_refused_before_one_is_read(tables):
    (fault,) = faults(tables, assumptions=["Dry."] * 20_001)
    assert fault == "scope: assumptions has more than 20,000 entries"


def test_what_runs_along_many_is_answered_with_the_first_of_them(tables):
    phases = [phase(str(n)) for n in range(20, 26)]
    beside = phase("30", along=[one["code"] for one in phases])
    (fault,) = faults(tables, *phases, beside, phase("40", starts_with=["30"]))
    assert fault.endswith("name these: 20, 21, 22, 23 and 2 more")


@pytest.mark.parametrize(
    ("phases", "chain"),
    [
        ([phase("20", after=["30"]), phase("30", after=["20"])], "'20' waits for '30', which wait"),
        ([phase("20", along=["30"]), phase("30", after=["20"])], "waits for"),
        ([phase("20", cut("010", after=["020"]), cut("020"))], "'20.010' waits for '20.020', wh"),
        ([phase("20", cut("010", starts_with=["30.010"])), phase("30")], "'20' waits for '30', wh"),
    ],
)
def test_circles_are_named(tables, phases, chain):
    (fault,) = faults(tables, *phases)
    assert chain in fault


def test_two_circles_come_in_one_answer(tables):
    told = faults(tables, phase("20", after=["30"]), phase("30", after=["20"]),
                  phase("40", after=["50"]), phase("50", after=["40"]))  # fmt: skip
    assert len(told) == 2


def test_a_crew_smaller_than_an_item_needs_is_refused_where_the_item_stands(tables):
    pit = item("010", "stone-fill", length="60 ft", width="20 ft", depth="24 in")
    (fault,) = faults(tables, phase("20", pit), crew={"laborer": "1"})
    assert fault == (
        "scope phases items: item 20.010 needs 2 of 'laborer', and the job has 1; hire more, or "
        "choose another crew"
    )
    (fault,) = faults(tables, phase("20", pit), crew={"laborer": "0"})
    assert "laborer '0' is not a whole number from 1" in fault


def test_what_waits_only_for_what_an_alternate_takes_out_is_refused(tables):
    phases = [phase("20", cut("010"), cut("020"), cut("030", alternate="A1")),
              phase("30", after=["20.020"])]  # fmt: skip
    taken = {"code": "A1", "name": "Other cut", "takes_out": ["20.020"], "accepted": "yes"}
    (fault,) = faults(tables, *phases, alternates=[taken])
    assert "after names only 20.020, which an alternate takes out" in fault
    phases[1]["after"] = ["20.020", "20.030"]
    scope = scope_with(tables, phases, alternates=[taken])
    after = {one.code: [other.code for other in one.after] for one in ordered_work(scope)}
    assert after["begins 30"] == ["20.030"]
