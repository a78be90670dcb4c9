"""The findings of a comparison as sentences that a builder says."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from estimator.money import CENT, dollars, exact_arithmetic, money_text
from estimator.quantity.units import counted
from estimator.studies.comparison.break_even import TurningPoint
from estimator.studies.comparison.changing_course import ChangedCourse
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.cost_difference import SaveOrScrap
from estimator.studies.comparison.curves import Curves
from estimator.studies.comparison.varied import Sort, Varied

_DIGITS = 4
_MINUTES_OF_AN_HOUR = 60


@exact_arithmetic
def value_text(varied: Varied, value: float, rounding: str = "ROUND_HALF_UP") -> str:
    """Return a value as a sentence says it, with four digits.

    Parameters
    ----------
    varied : Varied
        What the value is of.
    value : float
        In its unit.
    rounding : str
        Of the `decimal` module.
    """
    exact = Decimal(repr(float(value)))
    name = varied.unit.name
    if name == "fraction":
        return f"{_rounded(exact * 100, rounding)} %"
    if name == "min" and exact >= _MINUTES_OF_AN_HOUR:
        tenths = exact.quantize(Decimal("0.1"), rounding)
        hours, minutes = divmod(tenths, _MINUTES_OF_AN_HOUR)
        return f"{hours} hr {_trimmed(minutes)} min" if minutes else f"{hours} hr"
    if varied.is_money:
        per = name.partition("/")[2] if varied.sort is Sort.RATE else ""
        return f"${exact.quantize(CENT, rounding):,f}" + (f" per {per}" if per else "")
    return f"{_rounded(exact, rounding)} {name}"


@dataclass(frozen=True)
class TurningWords:
    """A turning point in words.

    Parameters
    ----------
    lead : str
        `throwing it in by conveyor truck beats wheeling it in by skid steer`
    condition : str
        `the truck's round trip stays under 1 hr 47.9 min`
    as_written : str
        `as written: 1 hr 34 min`
    """

    lead: str
    condition: str
    as_written: str


@exact_arithmetic
def turning_words(comparison: Comparison, point: TurningPoint) -> TurningWords:
    """Return in words what is better now, or next to it, and within what limit.

    Notes
    -----
    A value is rounded toward the side that the sentence speaks of, so that it holds as printed.
    """
    varied = point.varied
    names = [comparison.prepared[side.method].method.name for side in (point.below, point.above)]
    if varied.base <= point.below.value:
        limit = f"under {value_text(varied, point.below.value, ROUND_FLOOR)}"
    else:
        names.reverse()
        limit = f"over {value_text(varied, point.above.value, ROUND_CEILING)}"
    return TurningWords(
        f"{names[0]} beats {names[1]}",
        f"{varied.subject} {varied.verb} {limit}",
        f"as written: {value_text(varied, varied.base)}",
    )


def turning_sentence(comparison: Comparison, point: TurningPoint) -> str:
    """Return a turning point as one sentence, without its full stop."""
    words = turning_words(comparison, point)
    return f"{words.lead} while {words.condition} ({words.as_written})"


@exact_arithmetic
def no_turning_sentence(comparison: Comparison, curves: Curves) -> str:
    """Return that one method is cheapest over a whole range, with the costs at both ends."""
    varied, values = curves.varied, curves.values
    best = int(curves.cheapest[0])
    others = [place for place in range(len(comparison.prepared)) if place != best]
    ends = []
    for end in (0, -1):
        next_best = min(others, key=lambda place: curves.cents[place, end])
        name = comparison.prepared[next_best].method.name
        ends.append(
            f"{money_text(dollars(int(curves.cents[best, end])))} against "
            f"{money_text(dollars(int(curves.cents[next_best, end])))} of {name} at "
            f"{value_text(varied, float(values[end]))}"
        )
    name = comparison.prepared[best].method.name
    low, high = (value_text(varied, float(values[end])) for end in (0, -1))
    return f"{name} is cheapest from {low} to {high}: {' and '.join(ends)}"


@exact_arithmetic
def saving_sentence(saving: SaveOrScrap) -> str:
    """Return from what recovery on saving pays, or that it does nowhere or everywhere."""
    varied, save, scrap = saving.recovery, saving.save.method.name, saving.scrap.method.name
    as_written = f"as written: {value_text(varied, varied.base)}"
    low, high = (value_text(varied, value) for value in (varied.least, varied.most))
    if saving.pays is None:
        better, worse = (
            (save, scrap) if saving.save.in_all <= saving.scrap.in_all else (scrap, save)
        )
        return f"{better} beats {worse} at any {varied.name} from {low} to {high} ({as_written})"
    limit = value_text(varied, saving.pays.above.value, ROUND_CEILING)
    return f"{save} pays off at a {varied.name} of {limit} or more ({as_written})"


@exact_arithmetic
def course_sentence(course: ChangedCourse) -> str:
    """Return which way on is best, and by how much."""
    going_on = next(way for way in course.ways if way.is_under_way)
    best, unit = course.best, course.unit
    left = f"{counted(f'{course.now.remaining:,.2f}', unit)} are left"
    if best is going_on:
        other = min((way for way in course.ways if way is not best), key=lambda way: way.in_all)
        more = money_text(other.in_all - best.in_all)
        return f"{left}: stay with it; {other.method.name} would cost {more} more in total"
    less = money_text(going_on.in_all - best.in_all)
    return f"{left}: {best.method.name} costs {less} less in total than staying with it"


def _rounded(value: Decimal, rounding: str) -> str:
    """Return a number with four digits, at most four of them decimals, grouped by thousands."""
    decimals = max(0, min(_DIGITS, _DIGITS - 1 - value.adjusted())) if value else 0
    return _trimmed(value.quantize(Decimal(1).scaleb(-decimals), rounding))


def _trimmed(value: Decimal) -> str:
    text = f"{value:,f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
