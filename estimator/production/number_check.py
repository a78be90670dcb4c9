"""Times, counts and rates at the door of the production floor: plain, finite, positive.

Every dataclass and function that takes them passes them through here once; the arithmetic after
that is bare.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterator, Sequence
from contextlib import contextmanager
from decimal import Decimal
from functools import wraps
from inspect import signature
from numbers import Integral, Real
from typing import Any, cast

from estimator.errors import Faults, GeometryFaulty, InputFaulty, ProductionFaulty
from estimator.money import Thing
from estimator.quantity.named_units import number_of_text, unit_in_name
from estimator.quantity.takeoff.dimensions import dimensions

# What `number_inputs` takes: a float, a whole number, a `Decimal`, or text with any unit of its
# kind. A type checker lets all of them in, and checks the code with the float that they become.
Number = float | Any
# A count of things: a bare whole number, which may be a text or a `Decimal` too.
Count = int | Any


def number_inputs(error: type[InputFaulty] = ProductionFaulty) -> Callable[[Thing], Thing]:
    """Return a decorator of a function or dataclass whose plain numbers may also be text or exact.

    A text has any unit of the kind that the parameter's name says; where the name says none, of
    the kind of the parameter `unit`. What the numbers may be is checked by `check_numbers`.

    Parameters
    ----------
    error : type of InputFaulty
        What is raised for a text that is no such measure.

    Examples
    --------
    >>> @number_inputs()
    ... def hours_for(minutes: Number) -> float:
    ...     return minutes / 60.0
    >>> hours_for("1 hr 30 min"), hours_for(Decimal(30))
    (1.5, 0.5)
    """

    def decorated(thing: Thing) -> Thing:
        if not isinstance(thing, type):
            return cast("Thing", _converting(thing, error))
        setattr(thing, "__init__", _converting(getattr(thing, "__init__"), error))  # noqa: B009, B010
        return cast("Thing", thing)

    return decorated


def _converting(function: Callable[..., Any], error: type[InputFaulty]) -> Callable[..., Any]:
    call = signature(function)
    numbers = [name for name, one in call.parameters.items() if "Number" in str(one.annotation)]
    counts = [name for name, one in call.parameters.items() if one.annotation == "Count"]

    @wraps(function)
    def converted(*arguments: Any, **named: Any) -> Any:
        bound = call.bind(*arguments, **named)
        faults = Faults()
        for name in bound.arguments.keys() & numbers:
            with faults_under(name, faults):
                value, unit_name = bound.arguments[name], bound.arguments.get("unit")
                bound.arguments[name] = _plain(name, value, unit_name)
        for name in bound.arguments.keys() & counts:
            with faults_under(name, faults):
                bound.arguments[name] = _whole(name, bound.arguments[name])
        faults.raise_if_any(error)
        return function(*bound.args, **bound.kwargs)

    return converted


def _plain(name: str, value: Any, unit_name: str | None) -> Any:
    """Return a value, or each of a list, as a float if it is text or a `Decimal`."""
    if isinstance(value, (list, tuple)):
        return type(value)([_plain(name, one, unit_name) for one in value])
    if isinstance(value, Decimal):
        return _float(value)
    if not isinstance(value, str):
        return value
    if unit_name and unit_in_name(name) in ("ea", "ea/hr"):
        per_hour = "/hr" if name.endswith("_per_hr") else ""
        return number_of_text(name, value, f"{unit_name}{per_hour}")
    return number_of_text(name, value)


def _whole(name: str, value: Any) -> Any:
    """Return a count as it is; a whole text or `Decimal` as a whole number."""
    if not isinstance(value, (str, Decimal)):
        return value
    number = number_of_text(name, value, "fraction") if isinstance(value, str) else _float(value)
    return int(number) if number.is_integer() else value


def _float(exact: Decimal) -> float:
    """Return a `Decimal` as a float; a signaling NaN, which no float is, as a NaN."""
    return math.nan if exact.is_nan() else float(exact)


def check_numbers(
    error: type[InputFaulty] = ProductionFaulty,
    *,
    where: str = "",
    may_be_zero: Collection[str] = (),
    fractions: Collection[str] = (),
    **by_name: object,
) -> None:
    """Check times, rates and shares, and tell every fault at once.

    Parameters
    ----------
    error : type of InputFaulty
        What is raised.
    where : str
        What a fault tells before the name: `step 'haul'`.
    may_be_zero : collection of str
        Names of those that may be zero; the others must be positive.
    fractions : collection of str
        Names of those that are shares of a whole, 0 to 1.
    **by_name : float
        Numbers under the names that a fault tells.

    Raises
    ------
    InputFaulty
        Of the class `error`, with one fault for each that is not a plain number, not finite,
        negative, zero, or absurdly small or large (10^-9, 10^9), and for each share above 1.

    Examples
    --------
    >>> check_numbers(minutes=-2.5)
    Traceback (most recent call last):
        ...
    estimator.errors.ProductionFaulty: minutes: is negative; enter it without the minus sign
    """
    faults = Faults()
    numbers: dict[str, Any] = {}
    for name, value in by_name.items():
        if isinstance(value, bool) or not isinstance(value, Real):
            place = f"{where}, {name}" if where else name
            faults.add(place, "is not a plain number", "enter it as 12.5")
        else:
            numbers[name] = value
    try:
        dimensions(may_be_zero=may_be_zero, fractions=fractions, **numbers)
    except GeometryFaulty as faulty:
        faults.take(where, faulty)
    faults.raise_if_any(error)


def check_each(
    name: str,
    values: Sequence[float],
    error: type[InputFaulty] = ProductionFaulty,
    *,
    may_be_zero: bool = False,
) -> None:
    """Check every number of a list, counting from 1 in the messages.

    Raises
    ------
    InputFaulty
        Of the class `error`, as `check_numbers` does.

    Examples
    --------
    >>> check_each("tons of day", [42.0, -3.0])
    Traceback (most recent call last):
        ...
    estimator.errors.ProductionFaulty: tons of day 2: is negative; enter it without the minus sign
    """
    named: dict[str, Any] = {f"{name} {place}": value for place, value in enumerate(values, 1)}
    check_numbers(error, may_be_zero=tuple(named) if may_be_zero else (), **named)


def check_count(name: str, count: object, most: int, least: int = 1) -> None:
    """Check that a count is a whole number between `least` and `most`.

    Raises
    ------
    ProductionFaulty
        If it is not.

    Examples
    --------
    >>> check_count("carriers", 0, 500)
    Traceback (most recent call last):
        ...
    estimator.errors.ProductionFaulty: carriers: is below 1; enter a count from 1 to 500
    """
    faults = Faults()
    remedy = f"enter a count from {least:,} to {most:,}"
    if isinstance(count, bool) or not isinstance(count, Integral):
        faults.add(name, "is not a whole number", remedy)
    elif int(count) < least:
        faults.add(name, f"is below {least:,}", remedy)
    elif int(count) > most:
        faults.add(name, f"is above {most:,}", remedy)
    faults.raise_if_any(ProductionFaulty)


@contextmanager
def faults_under(where: str, faults: Faults) -> Iterator[None]:
    """Note the faults that are raised inside, placed under `where`, and go on.

    Examples
    --------
    >>> faults = Faults()
    >>> with faults_under("step 'haul'", faults):
    ...     check_numbers(minutes=0)
    >>> faults.entries[0].where
    "step 'haul', minutes"
    """
    try:
        yield
    except InputFaulty as error:
        faults.take(where, error)
