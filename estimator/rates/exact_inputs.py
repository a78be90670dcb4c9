"""Sums of money, hours and fractions at the door of labor and machine rates.

Every function and dataclass that takes them names their units once, in its decorator. Then each is
taken as text with any unit of its kind, as `Decimal` or as a whole number, and the arithmetic runs
in the one decimal context of the house. Binary floats are refused.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import wraps
from inspect import signature
from typing import Any, cast

from estimator.errors import Faults, InputFaulty
from estimator.money import HOUSE, Thing, exact_arithmetic, exact_decimal
from estimator.quantity.measures import read_measure
from estimator.quantity.units import unit

# What `exact_inputs` takes: text with any unit of its kind, a whole number or a `Decimal`. A type
# checker lets all of them in, and checks the code behind the door with the `Decimal` they become.
Exact = Decimal | Any
Count = int | Any

LARGEST = Decimal(10) ** 9
# In place of a unit: a bare number without a fraction, which comes in as an `int`.
COUNT = "count"


def exact_inputs(
    error: type[InputFaulty],
    *,
    positive: Collection[str] = (),
    fractions: Collection[str] = (),
    signed: Collection[str] = (),
    **units: str,
) -> Callable[[Thing], Thing]:
    """Return a decorator of a function or dataclass that takes exact numbers of known units.

    Parameters
    ----------
    error : type of InputFaulty
        What is raised.
    positive : collection of str
        Names of those that may not be zero.
    fractions : collection of str
        Names of those that may not be above 1.
    signed : collection of str
        Names of those that may be negative.
    **units : str
        Unit by parameter, or `COUNT` for whole numbers. Where the default is None, or the type has
        None beside it, None is taken too; a list or tuple is taken number by number.

    Raises
    ------
    InputFaulty
        Of the class `error`, when the decorated thing is called, with one fault for each number
        that is wrong: no exact number, not finite, negative, or absurdly large (10^9).

    Examples
    --------
    >>> from estimator.errors import LaborFaulty
    >>> @exact_inputs(LaborFaulty, hours="hr", wage_per_hr="$/hr")
    ... def pay(hours, wage_per_hr):
    ...     return hours * wage_per_hr
    >>> pay("30 min", 24), pay(Decimal("1.5"), "$24/hr")
    (Decimal('12.0'), Decimal('36.0'))
    >>> pay(8, -12)
    Traceback (most recent call last):
        ...
    estimator.errors.LaborFaulty: wage_per_hr: is negative; enter it without the minus sign
    """
    rules = {
        name: _Rule(unit_name, name in positive, name in fractions, name in signed)
        for name, unit_name in units.items()
    }

    def decorated(thing: Thing) -> Thing:
        if isinstance(thing, type):
            exact_arithmetic(thing)
            door = _checking(getattr(thing, "__init__"), rules, error)  # noqa: B009
            setattr(thing, "__init__", door)  # noqa: B010
            return cast("Thing", thing)
        return cast("Thing", _checking(exact_arithmetic(thing), rules, error))

    return decorated


@dataclass(frozen=True)
class _Rule:
    unit: str
    is_positive: bool
    is_fraction: bool
    is_signed: bool

    def number(self, value: object, error: type[InputFaulty]) -> Decimal:
        """Return a value in the unit of its parameter, exactly where a decimal can hold it."""
        if not isinstance(value, str):
            return exact_decimal(value, error)
        wanted = unit("fraction" if self.unit == COUNT else self.unit)
        exact = read_measure(value, wanted).in_unit(wanted)
        return HOUSE.divide(Decimal(exact.numerator), Decimal(exact.denominator))


def _checking(
    function: Callable[..., Any], rules: Mapping[str, _Rule], error: type[InputFaulty]
) -> Callable[..., Any]:
    call = signature(function)
    may_be_none = [
        name
        for name, one in call.parameters.items()
        if one.default is None or "None" in str(one.annotation)
    ]

    @wraps(function)
    def checked(*arguments: Any, **named: Any) -> Any:
        bound = call.bind(*arguments, **named)
        faults = Faults()
        for name, value in bound.arguments.items():
            if name in rules and not (value is None and name in may_be_none):
                bound.arguments[name] = _number(name, value, rules[name], error, faults)
        faults.raise_if_any(error)
        return function(*bound.args, **bound.kwargs)

    return checked


def _number(
    name: str, value: object, rule: _Rule, error: type[InputFaulty], faults: Faults
) -> object:
    if isinstance(value, (list, tuple)):
        each = enumerate(value, 1)
        return [_number(f"{name} {place}", one, rule, error, faults) for place, one in each]
    try:
        number = rule.number(value, error)
    except InputFaulty as faulty:
        faults.take(name, faulty)
        return None
    if number < 0 and not rule.is_signed:
        faults.add(name, "is negative", "enter it without the minus sign")
    elif number == 0 and rule.is_positive:
        faults.add(name, "is zero", "enter a number above zero")
    elif rule.is_fraction and number > 1:
        faults.add(name, "is above 1", "write 6.2 % as 0.062")
    elif number > LARGEST:
        faults.add(name, "is too large", "at most 1,000,000,000")
    elif rule.unit == COUNT:
        if not number % 1:
            return int(number)
        faults.add(name, "is not a whole number", "enter a count, such as 12")
    return number
