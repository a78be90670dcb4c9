"""Slips of the pen in a measure that have a sentence of their own: what was meant."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from decimal import Decimal
from fractions import Fraction

from estimator.errors import InputFaulty, MeasureFaulty, fault, quoted
from estimator.quantity.units import Unit, dimension_words, unit

# Reads a text as a value with its unit, None for a bare number; raises where it is no measure.
Reader = Callable[[str], tuple[Fraction, Unit | None]]

_DECIMAL_COMMA = re.compile(r"(?<![\d,.])(\d+),(\d+)(?![\d,.])", re.ASCII)
_THOUSANDS = re.compile(r"\d{1,3},\d{3}", re.ASCII)
_BETWEEN_VALUES = re.compile(r"\s*;\s*|\s*,\s+|(?<=[a-z'\"]),", re.IGNORECASE)
_TIMES = re.compile(r"\s*(?:[x×*]|\bby\b)\s*", re.IGNORECASE)
_MOST_DECIMALS = 2


def slip_of(text: str, wanted: Unit | None, read: Reader) -> InputFaulty | None:
    """Return what is wrong with a text that is no measure, None if nobody knows.

    Parameters
    ----------
    text : str
        As it was written.
    wanted : Unit or None
        A unit of the dimension that is needed; None where nobody knows it.
    read : callable
        Reads a part of the text.
    """
    for look in (_decimal_comma, _several_values, _product):
        slip = look(text, wanted, read)
        if slip is not None:
            what, remedy = slip
            return fault(MeasureFaulty, f"{quoted(text)} {what}", remedy)
    return None


def _decimal_comma(text: str, _: Unit | None, read: Reader) -> tuple[str, str] | None:
    match = _DECIMAL_COMMA.search(text)
    if match is None or _THOUSANDS.fullmatch(match[0]):
        return None
    mended = _DECIMAL_COMMA.sub(r"\1.\2", text)
    if _values((mended,), read) is None:
        return None
    return "has a comma where a decimal point belongs", f"write {quoted(mended)}"


def _several_values(text: str, _: Unit | None, read: Reader) -> tuple[str, str] | None:
    parts = [part for part in _BETWEEN_VALUES.split(text) if part]
    if len(parts) < 2 or _values(parts, read) is None:
        return None
    together = " ".join(parts)
    if _values((together,), read) is not None:
        return "has a mark between feet and inches", f"write {quoted(together)}"
    in_a_cell, in_yaml = quoted("; ".join(parts)), quoted(f"[{', '.join(parts)}]")
    return "is more than one measure", f"in a workbook write {in_a_cell}, in YAML {in_yaml}"


def _product(text: str, wanted: Unit | None, read: Reader) -> tuple[str, str] | None:
    parts = _TIMES.split(text.strip())
    values = _values(parts, read) if len(parts) in (2, 3) else None
    if values is None:
        return None
    # In `43 x 40 ft` the last unit stands for all.
    units = [one or values[-1][1] for _, one in values]
    if None in units or any(one.dimension != unit("ft").dimension for one in units if one):
        return None
    power = unit("sf") if len(values) == 2 else unit("cf")
    if wanted is not None and wanted.dimension == unit("ft").dimension:
        return "is more than one length", "write each under the input that it belongs to"
    product = Fraction(1)
    for (number, _), one in zip(values, units, strict=True):
        product *= number * (one.factor if one else 1)
    return "is a multiplication", _multiplied(product, power, wanted or power)


def _multiplied(product: Fraction, power: Unit, wanted: Unit) -> str:
    """Return the remedy: the product if it has few decimals, else what to do."""
    if wanted.dimension != power.dimension:
        return f"write {dimension_words(wanted.dimension)}, in {wanted.name}"
    scaled = product / wanted.factor * 10**_MOST_DECIMALS
    if scaled.denominator != 1:
        return f"multiply, and write the result in {wanted.name}"
    number = f"{Decimal(scaled.numerator).scaleb(-_MOST_DECIMALS):,f}".rstrip("0").rstrip(".")
    return f"write {quoted(f'{number} {wanted.name}')}"


def _values(parts: Sequence[str], read: Reader) -> list[tuple[Fraction, Unit | None]] | None:
    try:
        return [read(part) for part in parts]
    except MeasureFaulty:
        return None
