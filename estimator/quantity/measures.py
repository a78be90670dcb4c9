"""Measures as a builder writes them: `62 ft 6 in`, `12'-6 1/2"`, `1,900 sq ft`, `70 %`.

The value is kept as an exact fraction in the unit that was written, with the text itself for the
printed sheet; pricing takes it in base units.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import cached_property, lru_cache
from itertools import pairwise

from estimator.errors import MeasureFaulty, fault, quoted
from estimator.money import dollars
from estimator.quantity.measure_slips import slip_of
from estimator.quantity.units import NO_DIMENSION, Unit, dimension_words, unit

LONGEST_TEXT = 60
LARGEST_VALUE = 10**9

_WHOLE = r"(?:\d{1,3}(?:,\d{3})+(?!\d)|\d+)"
_NUMBER = rf"(?:{_WHOLE}(?:\s+|-)\d+/\d+|\d+/\d+|{_WHOLE}(?:\.\d+)?|\.\d+)"
_UNIT = r"(?:['\"%]|(?:\$|[a-z]+[23]?(?:[ .]+[a-z]+[23]?)*\.?)(?:\s*/\s*[a-z]+(?: [a-z]+)?)*)"
_PART = re.compile(rf"[\s-]*(?P<number>{_NUMBER})\s*-?(?P<unit>{_UNIT})?", re.ASCII | re.IGNORECASE)
_DOLLARS = re.compile(
    rf"\$\s*(?P<number>{_NUMBER})(?P<per>\s*/\s*[a-z ]+)?", re.ASCII | re.IGNORECASE
)

_PLAIN = str.maketrans(
    {
        "\u2032": "'", "\u2019": "'", "\u2033": '"', "\u201d": '"', "\u00b2": "2", "\u00b3": "3",
        "\u2044": "/", "\u2013": "-", "\u00a0": " ",
        "\u00bd": " 1/2", "\u00bc": " 1/4", "\u00be": " 3/4", "\u215b": " 1/8", "\u215c": " 3/8",
        "\u215d": " 5/8", "\u215e": " 7/8",
    }
)  # fmt: skip


@dataclass(frozen=True)
class Measure:
    """A measured value.

    Parameters
    ----------
    value : Fraction
        The number, exactly, in `unit`.
    unit : Unit
        The unit it was written in (the first one of `62 ft 6 in`).
    text : str
        As it was written.
    """

    value: Fraction
    unit: Unit
    text: str

    @cached_property
    def base_value(self) -> float:
        """The value in base units (ft, lb, hr, day, $), as a float."""
        return float(self.value * self.unit.factor)

    def in_unit(self, other: Unit) -> Fraction:
        """Return the value in another unit of the same dimension, exactly.

        Raises
        ------
        MeasureFaulty
            If the other unit measures something else.
        """
        if other.dimension != self.unit.dimension:
            raise fault(MeasureFaulty, f"{quoted(self.text)} cannot be expressed in {other.name}")
        return self.value * self.unit.factor / other.factor


def read_measure(text: str, wanted: Unit) -> Measure:
    r"""Return the measure that a text says, of the kind of the wanted unit.

    Parameters
    ----------
    text : str
        A number with its unit: decimals, thousands commas, fractions, feet and inches, metric.
        A proportion may be written bare (`0.7`) or in percent; every other measure has a unit.
    wanted : Unit
        A unit of the dimension that is needed; the answer need not be in it.

    Raises
    ------
    MeasureFaulty
        If the text is no such measure: no unit, the wrong kind of unit, negative, not a number.

    Examples
    --------
    >>> read_measure("12'-6 1/2\"", unit("ft")).value
    Fraction(301, 24)
    >>> read_measure("0.5 m", unit("ft")).in_unit(unit("in"))
    Fraction(2500, 127)
    """
    try:
        value, first_unit = _value(text)
    except MeasureFaulty as error:
        raise slip_of(text, wanted, _value) or error from None
    if first_unit is None:
        return Measure(value, _unit_of_bare_number(text, wanted), text)
    _check_kind(text, first_unit, wanted)
    return Measure(value, first_unit, text)


def check_measure(text: str) -> None:
    """Raise if a text is no measure of any kind.

    Raises
    ------
    MeasureFaulty
        With the reason.
    """
    try:
        _value(text)
    except MeasureFaulty as error:
        raise slip_of(text, None, _value) or error from None


@lru_cache(maxsize=16384)
def _value(text: str) -> tuple[Fraction, Unit | None]:
    """Return the value of a text in its first unit; a bare number has none."""
    parts = _parts(text)
    number, first_unit = parts[0]
    if first_unit is None:
        return number, None
    total = sum((number * one.factor for number, one in parts if one), Fraction(0))
    return total / first_unit.factor, first_unit


def read_dollars(text: str, wanted: Unit, where: str = "") -> Decimal:
    """Return the amount that a text says, in whole cents of the wanted unit.

    Parameters
    ----------
    text : str
        Such as `$310/day`.
    wanted : Unit
        Of dollars, alone or per something.
    where : str
        Where the text stands, for the fault.

    Raises
    ------
    MeasureFaulty
        If it is no such measure, or has parts of a cent.

    Examples
    --------
    >>> read_dollars("310 $/day", unit("$/day"))
    Decimal('310.00')
    """
    cents = read_measure(text, wanted).in_unit(wanted) * 100
    if cents.denominator != 1 or cents < 0:
        what = f"{quoted(text)} is not an amount in dollars and cents"
        raise fault(MeasureFaulty, what, where=where)
    return dollars(cents.numerator)


def _parts(text: str) -> tuple[tuple[Fraction, Unit | None], ...]:
    """Return the numbers of a text with their units, largest unit first."""
    plain = _plain(text)
    parts = _dollar_parts(plain) or _unit_parts(text, plain)
    _check_compound(text, parts)
    if any(number > LARGEST_VALUE for number, _ in parts):
        raise fault(MeasureFaulty, f"{quoted(text)} is too large", "at most 1,000,000,000")
    return tuple(parts)


def _plain(text: str) -> str:
    if len(text) > LONGEST_TEXT:
        raise fault(MeasureFaulty, f"{quoted(text)} is too long for a measure")
    plain = re.sub(r"\s+per\s+", "/", text.translate(_PLAIN).strip())
    if not plain:
        raise fault(MeasureFaulty, "is empty", "write a number with its unit, such as '12 ft 6 in'")
    if plain.startswith("-"):
        raise fault(MeasureFaulty, f"{quoted(text)} is negative", "write it without the minus sign")
    return plain


def _dollar_parts(plain: str) -> list[tuple[Fraction, Unit | None]]:
    match = _DOLLARS.fullmatch(plain)
    if not match:
        return []
    return [(_number(match["number"]), unit("$" + (match["per"] or "")))]


def _unit_parts(text: str, plain: str) -> list[tuple[Fraction, Unit | None]]:
    parts: list[tuple[Fraction, Unit | None]] = []
    position = 0
    while position < len(plain):
        match = _PART.match(plain, position)
        if not match:
            raise fault(
                MeasureFaulty,
                f"{quoted(text)} is not a measure",
                "write a number with its unit, such as '12 ft 6 in' or '1,900 sf'",
            )
        parts.append((_number(match["number"]), unit(match["unit"]) if match["unit"] else None))
        position = match.end()
    return parts


def _number(written: str) -> Fraction:
    """Return a whole, decimal, fractional or mixed number exactly."""
    whole, _, rest = re.sub(r"[\s-]+", " ", written.replace(",", "")).rpartition(" ")
    if "/" in rest and Fraction(rest.rpartition("/")[2]) == 0:
        raise fault(MeasureFaulty, f"{quoted(written)} divides by zero")
    return (Fraction(whole) if whole else Fraction(0)) + Fraction(rest)


def _check_compound(text: str, parts: list[tuple[Fraction, Unit | None]]) -> None:
    """Refuse sums that are not feet-and-inches like: one dimension, each unit smaller, below it."""
    if len(parts) == 1:
        return
    for (_, larger), (number, smaller) in pairwise(parts):
        fits = (
            larger is not None
            and smaller is not None
            and larger.dimension == smaller.dimension != NO_DIMENSION
            and larger.factor > smaller.factor
            and number * smaller.factor < larger.factor
        )
        if not fits:
            raise fault(
                MeasureFaulty,
                f"{quoted(text)} does not add up to one measure",
                "write feet and inches such as '12 ft 6 in', the inches below 12",
            )


def _unit_of_bare_number(text: str, wanted: Unit) -> Unit:
    if not wanted.is_proportion:
        example = f"{text.strip()} {wanted.name}"
        raise fault(MeasureFaulty, f"{quoted(text)} has no unit", f"write {quoted(example)}")
    return unit("fraction")


def refuse_bare_percent(text: str, value: Fraction, wanted: Unit, most: Fraction) -> None:
    """Raise if a proportion is too large only because its percent sign is missing.

    Parameters
    ----------
    text : str
        As it was written.
    value : Fraction
        What it says, too large.
    wanted : Unit
        What it is measured in.
    most : Fraction
        The largest that makes sense, in the wanted unit.

    Raises
    ------
    MeasureFaulty
        With the measure that was probably meant.

    Examples
    --------
    >>> refuse_bare_percent("8", Fraction(8), unit("fraction"), Fraction(3, 10))
    Traceback (most recent call last):
    estimator.errors.MeasureFaulty: '8' without a percent sign would be 800 %; write '8 %'
    """
    is_bare = wanted.is_proportion and not text.rstrip().endswith("%")
    if is_bare and 1 < value <= most * 100:
        as_percent = f"{float(value * 100):,.6g} %"
        what = f"{quoted(text)} without a percent sign would be {as_percent}"
        raise fault(MeasureFaulty, what, f"write {quoted(f'{text.strip()} %')}")


def _check_kind(text: str, written: Unit, wanted: Unit) -> None:
    if written.dimension != wanted.dimension:
        raise fault(
            MeasureFaulty,
            f"{quoted(text)} is {dimension_words(written.dimension)}, "
            f"not {dimension_words(wanted.dimension)}",
            f"write it in {wanted.name} or a unit that converts to it",
        )
    if wanted.is_count and written not in (wanted, unit("ea")) and wanted != unit("ea"):
        raise fault(
            MeasureFaulty,
            f"{quoted(text)} counts {written.name}, not {wanted.name}",
            f"write it in {wanted.name} or ea",
        )
    if wanted.is_proportion != written.is_proportion and (wanted.is_count or written.is_count):
        raise fault(MeasureFaulty, f"{quoted(text)} is not in {wanted.name}")
