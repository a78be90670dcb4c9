"""Units of measure: their size in base units and what they measure.

The sizes come from the units library with our own definitions (`definitions.txt`), as exact
fractions. Base units are the foot, the pound, the hour at work, the day on the calendar and the
dollar; counts and proportions have no dimension. Units are looked up once, at the door; the
arithmetic after that is bare numbers in base units.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cache, lru_cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any, NamedTuple

from estimator.errors import MeasureFaulty, Nearest, did_you_mean, fault, quoted

if TYPE_CHECKING:
    from pint import UnitRegistry

COUNTS = frozenset(
    {
        "ea", "load", "trip", "visit", "test", "permit", "blade", "bit", "sheet", "roll", "bag",
        "bar", "brick", "block", "pocket", "post", "box", "ls",
    }
)  # fmt: skip

_WHOLE_WORDS = COUNTS - {"ea", "ls"} | {
    "ton",
    "tonne",
    "day",
    "week",
    "month",
    "mile",
    "acre",
    "square",
}

_SHORT = {
    "foot": "ft", "running_foot": "lf", "inch": "in", "yard": "yd", "mile": "mile",
    "meter": "m", "centimeter": "cm", "millimeter": "mm", "kilometer": "km", "square_foot": "sf",
    "square_inch": "sq in", "square_yard": "sy", "roofing_square": "square", "acre": "acre",
    "square_meter": "sq m", "cubic_foot": "cf", "cubic_inch": "cu in", "cubic_yard": "cy",
    "gallon": "gal", "board_foot": "bf", "thousand_board_feet": "mbf", "cubic_meter": "cu m",
    "liter": "liter", "pound": "lb", "short_ton": "ton", "kilogram": "kg",
    "metric_ton": "tonne", "hundredweight": "cwt", "hour": "hr", "minute": "min",
    "second": "sec", "dollar": "$", "percent": "%", "each": "ea", "lump_sum": "ls",
}  # fmt: skip

_QUOTIENTS = {"mph": "mile/hr", "fpm": "ft/min", "kph": "km/hr"}
_WRITTEN = {"'": "foot", '"': "inch", "%": "percent", "$": "dollar"}
_AMBIGUOUS = {
    "perch": "a perch of stone is 22, 24.75 or 25 cubic feet by place; write cf or cy",
    "t": "a bare 't' may be a ton or a tonne; write 'ton' (2,000 lb) or 'tonne' (1,000 kg)",
}
_LENGTH = r"(ft|foot|feet|in|inch|inches|yd|yards?|m|meters?)"
_LONG_FORMS = (
    (re.compile(rf"^(?:sq|square)[ .]*{_LENGTH}\.?$"), "square"),
    (re.compile(rf"^(?:cu|cubic)[ .]*{_LENGTH}\.?$"), "cubic"),
    (re.compile(r"^(ft|in|yd|m)\^?2$"), "square"),
    (re.compile(r"^(ft|in|yd|m)\^?3$"), "cubic"),
)


class Dimension(NamedTuple):
    """What a quantity measures: exponents of length, mass, time at work, calendar time, money."""

    length: Fraction
    mass: Fraction
    work_time: Fraction
    calendar: Fraction
    money: Fraction

    def times(self, other: Dimension) -> Dimension:
        """Return the dimension of a product."""
        return Dimension(*(a + b for a, b in zip(self, other, strict=True)))

    def per(self, other: Dimension) -> Dimension:
        """Return the dimension of a quotient."""
        return Dimension(*(a - b for a, b in zip(self, other, strict=True)))

    def to_power(self, exponent: Fraction) -> Dimension:
        """Return the dimension of a power."""
        return Dimension(*(a * exponent for a in self))


NO_DIMENSION = Dimension(*(Fraction(0),) * 5)

_WORDS: dict[tuple[int, ...], str] = {
    (1, 0, 0, 0, 0): "a length",
    (2, 0, 0, 0, 0): "an area",
    (3, 0, 0, 0, 0): "a volume",
    (0, 1, 0, 0, 0): "a weight",
    (0, 0, 1, 0, 0): "working time",
    (0, 0, 0, 1, 0): "calendar time",
    (0, 0, 0, 0, 1): "money",
    (0, 0, 0, 0, 0): "a count or proportion",
    (-3, 1, 0, 0, 0): "weight per volume",
    (-2, 1, 0, 0, 0): "weight per area",
    (-1, 1, 0, 0, 0): "weight per length",
    (0, 0, 1, -1, 0): "hours per day",
}
_BASE_WORDS = ("ft", "lb", "hr", "day", "$")


def dimension_words(dimension: Dimension) -> str:
    """Return a dimension in words, for messages.

    Examples
    --------
    >>> dimension_words(unit("sf").dimension)
    'an area'
    >>> dimension_words(unit("sf/hr").dimension)
    'ft**2 * hr**-1'
    """
    exponents: tuple[Fraction, ...] = tuple(dimension)
    for known, words in _WORDS.items():
        if known == exponents:
            return words
    parts = [
        base if exponent == 1 else f"{base}**{exponent}"
        for base, exponent in zip(_BASE_WORDS, dimension, strict=True)
        if exponent
    ]
    return " * ".join(parts)


@dataclass(frozen=True)
class Unit:
    """A unit of measure.

    Parameters
    ----------
    name : str
        Short name as printed: `sf`, `ton/cy`.
    factor : Fraction
        How many base units (ft, lb, hr, day, $ and their products) it holds, exactly.
    dimension : Dimension
        What it measures.
    """

    name: str
    factor: Fraction
    dimension: Dimension

    @property
    def is_count(self) -> bool:
        """Whether it counts things, each of them whole."""
        return self.name in COUNTS

    @property
    def is_proportion(self) -> bool:
        """Whether it is a part of one: a fraction or a percentage."""
        return self.name in ("fraction", "%")


# Stands where a unit could not be read: that is one fault, and what follows from it is none.
UNREADABLE = Unit("?", Fraction(1), NO_DIMENSION)


@lru_cache(maxsize=4096)
def unit(written: str) -> Unit:
    """Return the unit that a text names, alone or as a quotient.

    Parameters
    ----------
    written : str
        A unit as in docs/units.md: `sq ft`, `cy`, `ton/cy`, `hr/day`.

    Raises
    ------
    MeasureFaulty
        If it is unknown or ambiguous (a perch, a bare `t`).

    Examples
    --------
    >>> unit("cubic yard").factor
    Fraction(27, 1)
    >>> unit("ton/cy").factor
    Fraction(2000, 27)
    """
    named = _QUOTIENTS.get(written.strip().lower(), written)
    numerator, *denominators = (part.strip() for part in named.split("/"))
    if len(denominators) > 2:
        raise fault(MeasureFaulty, f"unit {quoted(written)} has too many slashes")
    result = _simple_unit(numerator)
    for part in denominators:
        divisor = _simple_unit(part)
        result = Unit(
            f"{result.name}/{divisor.name}",
            result.factor / divisor.factor,
            result.dimension.per(divisor.dimension),
        )
    return result


@lru_cache(maxsize=4096)
def _simple_unit(written: str) -> Unit:
    name = _library_name(written)
    registry = _registry()
    if name not in _known_names():
        raise fault(MeasureFaulty, f"unknown unit {quoted(written)}", _nearest(written))
    one = registry.Quantity(Fraction(1), name)
    exponents = one.dimensionality
    full = registry.get_name(name)
    return Unit(
        _SHORT.get(full, full),
        Fraction(one.to_root_units().magnitude),
        Dimension(*(Fraction(str(exponents.get(f"[{base}]", 0))) for base in Dimension._fields)),
    )


def _library_name(written: str) -> str:
    """Return the library's name of a unit that a builder may write in several words."""
    text = " ".join(written.split())
    lower = text.lower().rstrip(".")
    if lower in _AMBIGUOUS:
        raise fault(MeasureFaulty, f"unit {quoted(written)} is ambiguous", _AMBIGUOUS[lower])
    if text in _WRITTEN:
        return _WRITTEN[text]
    for pattern, power in _LONG_FORMS:
        match = pattern.match(lower)
        if match:
            base = _registry().get_name(match.group(1))
            return f"{power}_{base}"
    if lower in ("lump sum", "board foot", "board feet", "lin ft"):
        return {"lump sum": "ls", "lin ft": "lf"}.get(lower, "bf")
    return lower


def _nearest(written: str) -> Nearest:
    names = [*_SHORT.values(), *COUNTS, "day", "week", "month"]
    return did_you_mean(written.lower(), names, "docs/units.md lists the units")


@cache
def _known_names() -> frozenset[str]:
    """Return the names of our definitions; the library itself also takes `nan` for one."""
    return frozenset(_registry())


@cache
def _registry() -> UnitRegistry[Any]:
    from pint import UnitRegistry

    definitions = files("estimator.quantity") / "definitions.txt"
    return UnitRegistry(str(definitions), non_int_type=Fraction, cache_folder=None)


def counted(quantity: str, unit_name: str) -> str:
    """Return a printed quantity with its unit; a unit that is a whole word is in the plural.

    Examples
    --------
    >>> counted("18", "post"), counted("1", "post"), counted("1,900.0", "sf")
    ('18 posts', '1 post', '1,900.0 sf')
    """
    is_plural = unit_name in _WHOLE_WORDS and Decimal(quantity.replace(",", "")) != 1
    ending = ("es" if unit_name.endswith("x") else "s") if is_plural else ""
    return f"{quantity} {unit_name}{ending}"
