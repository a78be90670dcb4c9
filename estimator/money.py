"""Money: rounding to the cent, splitting a sum so that the parts add up, how it is printed.

Ground floor: imports only the error family, and no numpy. One sum is a `Decimal` of dollars; many
are whole cents in the arrays of `cents`. Binary floating point never holds money.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import (
    ROUND_HALF_UP,
    Context,
    Decimal,
    DivisionByZero,
    InvalidOperation,
    Overflow,
    localcontext,
)
from fractions import Fraction
from functools import cache, cached_property, lru_cache, wraps
from inspect import isfunction
from numbers import Integral
from typing import Any, TypeVar, cast

from estimator.errors import AmountFaulty, AmountTooLarge, InputFaulty, fault

CENT = Decimal("0.01")
RATE_DECIMALS = 4

# The one decimal context of the house: no setting of a caller (precision, rounding, traps) changes
# a figure. 34 digits keep a chain of factors the same to the last cent of any sum.
HOUSE = Context(
    prec=34, rounding=ROUND_HALF_UP, Emin=-999999, Emax=999999, capitals=1, clamp=0, flags=[],
    traps=[DivisionByZero, InvalidOperation, Overflow],
)  # fmt: skip

_MOST_DOLLARS = 10**15

Thing = TypeVar("Thing", bound=Callable[..., Any])


def exact_arithmetic(thing: Thing) -> Thing:
    """Return a function, or a class with all its methods and properties, that computes in `HOUSE`.

    Examples
    --------
    >>> @exact_arithmetic
    ... def third(amount):
    ...     return amount / 3
    >>> with localcontext(prec=3):
    ...     third(Decimal(1))
    Decimal('0.3333333333333333333333333333333333')
    """
    if isinstance(thing, type):
        for name, member in list(vars(thing).items()):
            if isinstance(member, property) and member.fget:
                setattr(thing, name, member.getter(exact_arithmetic(member.fget)))
            elif isinstance(member, cached_property):
                member.func = exact_arithmetic(member.func)
            elif isfunction(member) and (not name.startswith("__") or name == "__post_init__"):
                setattr(thing, name, exact_arithmetic(member))
        return cast("Thing", thing)

    @wraps(thing)
    def in_house(*arguments: Any, **named: Any) -> Any:
        with localcontext(HOUSE):
            return thing(*arguments, **named)

    return cast("Thing", in_house)


def exact_decimal(number: object, error: type[InputFaulty] = AmountFaulty) -> Decimal:
    """Return an exact number: a finite `Decimal` as it is, a whole number as a `Decimal`.

    Parameters
    ----------
    number : Decimal or int
        A binary float is refused, because a tax of 0.062 in a float is not 6.2 %.
    error : type of InputFaulty
        The class of what is raised.

    Raises
    ------
    InputFaulty
        Of the class `error`, if it is no such number.

    Examples
    --------
    >>> exact_decimal(12)
    Decimal('12')
    """
    if not isinstance(number, Decimal):
        if isinstance(number, Integral) and not isinstance(number, bool):
            return Decimal(int(number))
        raise fault(error, "is not an exact number", "write Decimal('12.50'), never a binary float")
    if not number.is_finite():
        raise fault(error, "is not a finite number", "enter the number itself")
    return number


def round_to_cent(amount: Decimal) -> Decimal:
    """Return dollars rounded half-up (halves away from zero) to the cent.

    Parameters
    ----------
    amount : Decimal or int [$]
        At most 1,000,000,000,000,000 either way.

    Raises
    ------
    AmountFaulty
        If it is a binary float or no number.
    AmountTooLarge
        If it is beyond what is added up to the cent.

    Examples
    --------
    >>> round_to_cent(Decimal("2.675"))
    Decimal('2.68')
    """
    exact = exact_decimal(amount)
    if not -_MOST_DOLLARS <= exact <= _MOST_DOLLARS:
        raise fault(AmountTooLarge, "a sum is too large", f"at most {_MOST_DOLLARS:,} dollars")
    return exact.quantize(_last_decimal(2), ROUND_HALF_UP, HOUSE)


def rounded(number: Decimal, decimals: int) -> Decimal:
    """Return a number rounded half-up (halves away from zero) to so many decimals.

    Examples
    --------
    >>> rounded(Decimal("20.29005"), RATE_DECIMALS)
    Decimal('20.2901')
    """
    return exact_decimal(number).quantize(_last_decimal(decimals), ROUND_HALF_UP, HOUSE)


@cache
def _last_decimal(decimals: int) -> Decimal:
    return Decimal((0, (1,), -decimals))


def whole_half_up(number: Fraction) -> int:
    """Return the whole number nearest to an exact ratio; a half goes away from zero.

    Examples
    --------
    >>> whole_half_up(Fraction(5, 2)), whole_half_up(Fraction(-5, 2)), whole_half_up(Fraction(7, 3))
    (3, -3, 2)
    """
    magnitude = (2 * abs(number) + 1) // 2
    return magnitude if number >= 0 else -magnitude


def fixed_point(number: Decimal, decimals: int) -> int:
    """Return a number with so many decimals as a whole number of its last decimal.

    Parameters
    ----------
    number : Decimal
        With no more decimals than that.
    decimals : int
        How many decimals: 2 for cents, `RATE_DECIMALS` for a rate.

    Examples
    --------
    >>> fixed_point(Decimal("33.60"), RATE_DECIMALS)
    336000
    """
    return int(exact_decimal(number).scaleb(decimals, HOUSE))


def from_fixed_point(whole: int, decimals: int) -> Decimal:
    """Return a whole number of last decimals as the number with that many decimals.

    Parameters
    ----------
    whole : int
        How many of the last decimal.
    decimals : int
        How many decimals it stands for.

    Examples
    --------
    >>> from_fixed_point(336000, RATE_DECIMALS)
    Decimal('33.6000')
    """
    return Decimal(int(whole)).scaleb(-decimals, HOUSE)


def dollars(cents: int) -> Decimal:
    """Return whole cents as dollars with two decimals.

    Examples
    --------
    >>> dollars(-150)
    Decimal('-1.50')
    """
    return from_fixed_point(cents, 2)


def cents_text(cents: int) -> str:
    """Return whole cents as dollars in text, as JSON and files write them.

    Examples
    --------
    >>> cents_text(1_760_880), cents_text(-5)
    ('17608.80', '-0.05')
    """
    return fixed_point_text(cents, 2)


def fixed_point_text(whole: int, decimals: int) -> str:
    """Return a whole number of last decimals as text with that many decimals.

    Parameters
    ----------
    whole : int
        How many of the last decimal.
    decimals : int
        How many decimals it stands for.

    Examples
    --------
    >>> fixed_point_text(1250, 2), fixed_point_text(-5, 3), fixed_point_text(7, 0)
    ('12.50', '-0.005', '7')
    """
    sign, digits = "-" if whole < 0 else "", str(abs(whole)).zfill(decimals + 1)
    return f"{sign}{digits[:-decimals]}.{digits[-decimals:]}" if decimals else str(whole)


def fraction_of_percent(percent: float) -> Decimal:
    """Return a percentage, as it is printed, as the fraction that it stands for.

    Examples
    --------
    >>> fraction_of_percent(3.5), fraction_of_percent(-0.1)
    (Decimal('0.035'), Decimal('-0.001'))
    """
    return Decimal(str(percent)).scaleb(-2, HOUSE)


def rate_text(rate: Decimal) -> str:
    """Return a rate with at least two decimals, and the others only where they are not zero.

    Examples
    --------
    >>> rate_text(Decimal("36.5000")), rate_text(Decimal("0.0125"))
    ('36.50', '0.0125')
    """
    return _with_cents(f"{rate:f}")


@lru_cache(maxsize=1024)  # many lines have the same rate
def fixed_rate_text(rate: int) -> str:
    """Return a rate of so many of its last decimals, as a cost line has it, as `rate_text` does.

    Examples
    --------
    >>> fixed_rate_text(365000), fixed_rate_text(125)
    ('36.50', '0.0125')
    """
    cents, rest = divmod(rate, 10 ** (RATE_DECIMALS - 2))
    return _with_cents(fixed_point_text(rate, RATE_DECIMALS)) if rest else cents_text(cents)


def _with_cents(rate: str) -> str:
    whole, _, decimals = rate.partition(".")
    return f"{whole}.{decimals.rstrip('0').ljust(2, '0')}"


def to_cents(amount: Decimal) -> int:
    """Return dollars as whole cents, rounded half-up.

    Examples
    --------
    >>> to_cents(Decimal("19.995"))
    2000
    """
    return int(round_to_cent(amount).scaleb(2, HOUSE))


def apportion(total: int, weights: Sequence[int]) -> list[int]:
    """Return whole parts of a total in proportion to weights, adding up to it exactly.

    Each part is first rounded down; what remains goes, one unit each, to the parts with the
    largest remainders, ties by order (the largest-remainder or Hamilton method). A negative total
    gives the mirrored parts.

    Parameters
    ----------
    total : int
        What is split, in whole cents or whole units of a last decimal.
    weights : sequence of int
        Non-negative, at least one of them positive.

    Raises
    ------
    AmountFaulty
        If a number is not whole, or the weights are all zero or one is negative: there is no
        proportion to split by.

    References
    ----------
    M. L. Balinski and H. P. Young, "Fair Representation", 2nd ed. 2001, ch. 3 (from memory).

    Examples
    --------
    >>> apportion(100, [1, 1, 1])
    [34, 33, 33]
    """
    if not all(isinstance(number, Integral) for number in (total, *weights)):
        raise fault(AmountFaulty, "a sum is split in whole numbers", "give cents as integers")
    whole = sum(weights)
    if whole <= 0 or min(weights) < 0:
        raise fault(AmountFaulty, "a sum cannot be split by weights that are negative or all zero")
    if len(weights) == 1:
        return [total]
    if total < 0:
        return [-part for part in apportion(-total, weights)]
    parts = [total * weight // whole for weight in weights]
    by_remainder = sorted(range(len(weights)), key=lambda i: -(total * weights[i] % whole))
    for i in by_remainder[: total - sum(parts)]:
        parts[i] += 1
    return parts


def cents_money(cents: int) -> str:
    """Return whole cents as printed: `$1,234.50`, `-$3.00`.

    Examples
    --------
    >>> cents_money(-123450)
    '-$1,234.50'
    """
    sign, whole = "-" if cents < 0 else "", abs(cents)
    return f"{sign}${whole // 100:,}.{whole % 100:02}"


def money_text(amount: Decimal) -> str:
    """Return dollars as printed: `$1,234.50`, `-$3.00`.

    Examples
    --------
    >>> money_text(Decimal("-1234.5"))
    '-$1,234.50'
    """
    whole = round_to_cent(amount)
    sign = "-" if whole < 0 else ""
    return f"{sign}${whole.copy_abs():,.2f}"
