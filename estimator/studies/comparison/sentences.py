"""The findings of a comparison as sentences that a builder says."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from math import isfinite

from estimator.money import CENT, exact_arithmetic, money_text
from estimator.production.placed_so_far import CONFIDENCE, LEAST_DAYS_OF_RANGE, WhatNow
from estimator.quantity.rounding import percent_text
from estimator.quantity.units import counted
from estimator.studies.comparison.break_even import CheapestIntervals, Interval
from estimator.studies.comparison.changing_course import ChangedCourse
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.cost_difference import SaveOrScrap
from estimator.studies.comparison.varied import Sort, Varied

STEP_NOTE = (
    "One step lies between the end of a range and the start of the next; nothing finer was priced."
)
_DIGITS, _EACH = 4, "ea"
_TENTH = Decimal("0.1")
_MINUTES_OF_AN_HOUR = 60


def obstacle_sentences(comparison: Comparison) -> tuple[str, ...]:
    """Return which methods cannot be done, and why."""
    return tuple(
        f"{sentence_case(one.method.name)[:-1]} cannot be done: {one.method.obstacle}."
        for one in comparison.prepared
        if one.method.obstacle
    )


@exact_arithmetic
def best_sentences(comparison: Comparison) -> tuple[str, ...]:
    """Return which method costs least in all and which is fastest, several where they are equal."""
    results = comparison.possible
    cheapest, fastest = comparison.cheapest, comparison.fastest
    days = f"{fastest.days:,.2f}"
    cheap = [one.method.name for one in results if one.in_all == cheapest.in_all]
    fast = [one for one in results if f"{one.days:,.2f}" == days]
    more = min(one.in_all for one in fast) - cheapest.in_all
    dearer = f", {money_text(more)} more" if more else ""
    return (
        f"Lowest total cost: {words_in_a_row(cheap)}, {money_text(cheapest.in_all)}.",
        f"Fastest: {words_in_a_row([one.method.name for one in fast])}, {days} days{dearer}.",
    )


@exact_arithmetic
def value_text(varied: Varied, value: float | Decimal) -> str:
    """Return a value as a sentence says it.

    Parameters
    ----------
    varied : Varied
        What the value is of.
    value : float or Decimal
        In its unit; a float is rounded to four digits, a Decimal stands as it is.
    """
    exact = value if isinstance(value, Decimal) else _rounded(varied, Decimal(repr(float(value))))
    name = varied.unit.name
    if name == "fraction":
        return f"{_trimmed(exact * 100)} %"
    if name == "min" and exact >= _MINUTES_OF_AN_HOUR:
        hours, minutes = divmod(exact, _MINUTES_OF_AN_HOUR)
        return f"{hours:.0f} hr {_trimmed(minutes)} min" if minutes else f"{hours:.0f} hr"
    if varied.is_money:
        per = name.partition("/")[2] if varied.sort is Sort.RATE else ""
        return f"${_with_cents(exact)}" + (f" per {per}" if per else "")
    return _trimmed(exact) if name == _EACH else f"{_trimmed(exact)} {name}"


@exact_arithmetic
def span_text(varied: Varied, first: Decimal, last: Decimal) -> str:
    """Return two values and all between them as a sentence says it: `between 2.4 and 7.1 ft`."""
    low, high = value_text(varied, first), value_text(varied, last)
    if first == last:
        return high
    has_hours = varied.unit.name == "min" and last >= _MINUTES_OF_AN_HOUR
    _, _, unit_name = high.partition(" ")
    if unit_name and not has_hours:
        low = low.removesuffix(f" {unit_name}")
    return f"between {low} and {high}"


@dataclass(frozen=True)
class IntervalWords:
    """An interval in words.

    Parameters
    ----------
    condition : str
        `the truck's round trip stays between 1 hr and 1 hr 47.9 min`
    answer : str
        `throwing it in by conveyor truck is cheapest`
    beside : str
        Of the intervals next to it: `between 3.35 and 4.54 min lowering it in by telehandler is
        cheapest`; empty where nothing is said of them.
    """

    condition: str
    answer: str
    beside: str = ""

    @property
    def sentence(self) -> str:
        """Both as one sentence, without capital and full stop."""
        return f"while {self.condition}, {self.answer}"


def interval_words(comparison: Comparison, varied: Varied, interval: Interval) -> IntervalWords:
    """Return in words over which values a method is cheapest, or which ones take turns."""
    span = span_text(varied, interval.first, interval.last)
    return IntervalWords(
        f"{varied.subject} {varied.verb} {span}", interval_answer(comparison, varied, interval)
    )


@exact_arithmetic
def interval_answer(comparison: Comparison, varied: Varied, interval: Interval) -> str:
    """Return in words what is cheapest in an interval.

    Notes
    -----
    Sums and rates of money change neither loads nor hours: there cents make methods change places.
    """
    names = [comparison.prepared[place].method.name for place in interval.methods]
    if len(names) == 1:
        return f"{names[0]} is cheapest"
    if not interval.is_by_turns:
        return f"{words_in_a_row(names)} cost the same, and least"
    under = f"the difference stays under ${int(interval.apart) + 1:,}"
    if varied.is_money:
        return f"{words_in_a_row(names, 'or')} is cheapest; {under}"
    return f"whole loads and hours decide between {words_in_a_row(names)}; {under}"


def sentence_case(words: str) -> str:
    """Return words as a sentence, with its capital and its full stop."""
    return f"{words[0].upper()}{words[1:]}."


def words_in_a_row(words: Sequence[str], joint: str = "and") -> str:
    """Return words as a sentence lists them: `one, two and three`."""
    *others, last = words
    return f"{', '.join(others)} {joint} {last}" if others else last


def cheapest_sentences(comparison: Comparison, cheapest: CheapestIntervals) -> tuple[str, ...]:
    """Return over which values each method is cheapest, a sentence for each interval."""
    return tuple(
        interval_words(comparison, cheapest.varied, one).sentence for one in cheapest.intervals
    )


@exact_arithmetic
def changing_words(comparison: Comparison, cheapest: CheapestIntervals) -> IntervalWords:
    """Return what is cheapest at the value as written and how far that holds, with what is beside.

    Only the intervals next to that value are spoken of.
    """
    varied, here = cheapest.varied, cheapest.as_written or 0
    words = interval_words(comparison, varied, cheapest.intervals[here])
    beside = (
        *cheapest.intervals[max(here - 1, 0) : here],
        *cheapest.intervals[here + 1 : here + 2],
    )
    parts = (
        f"{span_text(varied, one.first, one.last)} {interval_answer(comparison, varied, one)}"
        for one in beside
    )
    condition = f"{words.condition} (as written: {value_text(varied, varied.base)})"
    return IntervalWords(condition, words.answer, "; ".join(parts))


def step_sentence(cheapest: CheapestIntervals) -> str:
    """Return in what steps a range was looked at, and the value as written; without full stop."""
    varied = cheapest.varied
    step, base = value_text(varied, cheapest.step), value_text(varied, varied.base)
    if varied.unit.is_count and cheapest.step == 1:
        step = "whole number"
    return f"priced at every {step}; as written: {base}"


@exact_arithmetic
def saving_sentence(comparison: Comparison, saving: SaveOrScrap) -> str:
    """Return at what recovery saving costs less than scrapping, or that it nowhere does."""
    varied, intervals = saving.cheapest.varied, saving.cheapest.intervals
    names = (saving.save.method.name, saving.scrap.method.name)
    places = tuple(comparison.place(name) for name in names)
    paying = [one for one in intervals if one.methods == places[:1]]
    better, worse = names if paying else names[::-1]
    alone = paying or [one for one in intervals if one.methods == places[1:]]
    spans = " and ".join(span_text(varied, one.first, one.last) for one in alone)
    parts = [f"{better} beats {worse} while {varied.subject} {varied.verb} {spans}"] * bool(spans)
    unsettled = (one for one in intervals if len(one.methods) > 1)
    parts += [interval_words(comparison, varied, one).sentence for one in unsettled]
    return f"{'; '.join(parts)} (as written: {value_text(varied, varied.base)})"


def pace_sentence(course: ChangedCourse) -> str:
    """Return how much is placed, at what pace, and how many days that leaves, with their range."""
    now = course.now
    placed = counted(f"{now.pace.placed:,.2f}", course.unit)
    return (
        f"So far {placed} in {counted(str(now.pace.days), 'day')}, {now.pace.per_day:,.2f} a day, "
        f"{percent_text(now.pace_of_plan)} of plan; at this pace "
        f"{counted(f'{now.remaining_days:,.2f}', 'day')} to go{_days_range(now)}."
    )


def _days_range(now: WhatNow) -> str:
    if now.remaining_days_range is None:
        return f" (a range takes {LEAST_DAYS_OF_RANGE} days or more, each with its own figure)"
    fast, slow = now.remaining_days_range
    share = percent_text(CONFIDENCE)
    if not isfinite(slow):
        return f" ({fast:,.2f} or more in {share} of cases: the days differ too much for an end)"
    return f" ({fast:,.2f} to {slow:,.2f} in {share} of cases)"


def on_hand_sentences(course: ChangedCourse) -> tuple[str, ...]:
    """Return what has come in whole loads beyond what is placed, and is not bought again."""
    return tuple(
        f"{one.name}: {counted(f'{one.quantity:,.2f}', one.unit)} of what was ordered for the "
        "work so far, in whole loads, left over and not bought again."
        for one in course.on_hand
    )


def held_back_sentences(course: ChangedCourse) -> tuple[str, ...]:
    """Return which methods are priced at the pace of the one under way, and why; or nothing."""
    opening = course.going_on.method.opening
    held = [way.method.name for way in course.ways if way.is_held_back]
    if not held or opening is None:
        return ()
    pace = counted(f"{course.now.pace.per_day:,.2f}", course.unit)
    others = words_in_a_row(held)
    return (
        f"No more than {pace} a day came through the {opening.name}; {others} would go through it "
        "as well, so that pace is counted, not the planned one.",
    )


@exact_arithmetic
def course_sentence(course: ChangedCourse) -> str:
    """Return which way on is best, and by how much."""
    going_on = course.going_on
    left = f"{counted(f'{course.now.remaining:,.2f}', course.unit)} left"
    others = [way for way in course.ways if way is not going_on and not way.method.obstacle]
    if not others:
        return f"{left}: stay with it; no other method can be done"
    other = min(others, key=lambda way: way.in_all)
    name, more = other.method.name, other.in_all - going_on.in_all
    if not more:
        return f"{left}: {name} would cost the same in total as staying with it"
    if more > 0:
        return f"{left}: stay with it; {name} would cost {money_text(more)} more in total"
    return f"{left}: {name} costs {money_text(-more)} less in total than staying with it"


def _rounded(varied: Varied, value: Decimal) -> Decimal:
    """Return a value with four digits, at most four of them decimals; money to the cent."""
    if varied.is_money and abs(value) >= 1:
        return value.quantize(CENT, ROUND_HALF_UP)
    if varied.unit.name == "min" and value >= _MINUTES_OF_AN_HOUR:
        return value.quantize(_TENTH, ROUND_HALF_UP)
    scale = 2 if varied.unit.name == "fraction" else 0
    shown = value.scaleb(scale)
    decimals = max(0, min(_DIGITS, _DIGITS - 1 - shown.adjusted())) if shown else 0
    return value.quantize(Decimal(1).scaleb(-decimals - scale), ROUND_HALF_UP)


def _with_cents(value: Decimal) -> str:
    """Return a sum with two decimals or more."""
    text = _trimmed(value)
    decimals = len(text.partition(".")[2])
    return f"{value:,.2f}" if decimals < 2 else text


def _trimmed(value: Decimal) -> str:
    text = f"{value:,f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
