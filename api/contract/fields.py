"""Kinds of field, each strict, each with the same rule in the specification as in the code.

A pattern of ASCII comes before any conversion: "1_000", " 1.5 ", full-width digits and "1E+999999"
are refused by it, and no number has more digits than can be stored.
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime
from decimal import Decimal
from functools import lru_cache
from typing import Any
from uuid import UUID

import marshmallow as ma

from estimator.errors import Remedy, did_you_mean

REMEDY = "; "
EARLIEST, LATEST = date(1900, 1, 1), date(2199, 12, 31)
_ID = re.compile("-".join(f"[0-9a-f]{{{digits}}}" for digits in (8, 4, 4, 4, 12)), re.ASCII)
_MOMENT = "^(19|2[01])[0-9]{2}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}Z$"
_DAY = re.compile("[0-9-]{10}")
_CONTROL = r"[^\u0000-\u001f\u007f-\u009f\ud800-\udfff]"
_PRINTED = re.compile(f"{_CONTROL}*")


class OneField(ma.fields.Field[Any]):
    """A field that says in one sentence what is missing."""

    default_error_messages = {  # noqa: RUF012
        "required": "is missing",
        "null": "is null; leave it out, or give a value",
    }

    def read(self, value: Any) -> Any:
        """Return the value, or refuse it in a sentence."""
        raise NotImplementedError

    def _deserialize(self, value: Any, *_: Any, **__: Any) -> Any:
        return self.read(value)

    def _refuse(self, what: str, remedy: Remedy = "") -> ma.ValidationError:
        return ma.ValidationError(f"{what}{REMEDY}{remedy}" if remedy else what)


class DecimalText(OneField, ma.fields.String):
    """A number as text: what a person would write, and what no program rounds.

    Parameters
    ----------
    most_digits, most_decimals : int
        Before and behind the point.
    least, most : str or None
        Bounds, as they would be written; `least` of "0" refuses a minus sign.
    above : str or None
        A bound that is not itself allowed.
    """

    def __init__(
        self,
        most_digits: int,
        most_decimals: int,
        *,
        least: str | None = "0",
        most: str | None = None,
        above: str | None = None,
        **options: Any,
    ) -> None:
        self.least = None if least is None else Decimal(least)
        self.most = None if most is None else Decimal(most)
        self.above = None if above is None else Decimal(above)
        self.pattern = decimal_pattern(most_digits, most_decimals, is_signed=least is None)
        self.matches = re.compile(self.pattern, re.ASCII).fullmatch
        digits = "1 digit" if most_digits == 1 else f"{most_digits} digits"
        decimals = f" and {most_decimals} decimals" if most_decimals else ""
        example = "0.25" if most_digits == 1 else "12.50" if most_decimals > 1 else "12"
        self.shape = f'up to {digits}{decimals}, as "{example}"'
        metadata = {"pattern": self.pattern, **options.pop("metadata", {})}
        super().__init__(metadata=metadata, **options)

    def read(self, value: Any) -> Any:
        """Return the value, or refuse it in a sentence."""
        if not isinstance(value, str) or not self.matches(value):
            if isinstance(value, int | Decimal) and not isinstance(value, bool):
                raise self._refuse("is a bare number", 'write it in quotes, as "12.50"')
            if self.least is not None and self._is_negative(value):
                raise self._refuse("is below zero", "write it without a minus")
            raise self._refuse("is not a decimal number", f"write {self.shape}")
        number = Decimal(value)
        if self.least is not None and number < self.least:
            raise self._refuse("is too small", f"{self.least} is the least")
        if self.above is not None and number <= self.above:
            raise self._refuse("is too small", f"it must be above {self.above}")
        if self.most is not None and number > self.most:
            raise self._refuse("is too large", f"{self.most} is the most")
        return number

    def _is_negative(self, value: Any) -> bool:
        is_one = isinstance(value, str) and value.startswith("-") and self.matches(value[1:])
        return bool(is_one and Decimal(value))

    def _serialize(self, value: Any, *_: Any, **__: Any) -> str | None:
        return None if value is None else decimal_text(value)


def decimal_pattern(most_digits: int, most_decimals: int, *, is_signed: bool) -> str:
    """Return the pattern of a decimal number in ASCII, in words that JSON Schema knows too.

    Examples
    --------
    >>> decimal_pattern(3, 2, is_signed=False)
    '^(0|[1-9][0-9]{0,2})([.][0-9]{1,2})?$'
    """
    sign = "-?" if is_signed else ""
    broken = f"([.][0-9]{{1,{most_decimals}}})?" if most_decimals else ""
    return f"^{sign}(0|[1-9][0-9]{{0,{most_digits - 1}}}){broken}$"


def decimal_text(value: Decimal | float) -> str:
    """Return a number as decimal text, never in powers of ten: a float as the library prints it.

    Examples
    --------
    >>> decimal_text(Decimal("1E+3")), decimal_text(1072.5), decimal_text(1e-7)
    ('1000', '1072.5', '0.0000001')
    """
    exact = value if isinstance(value, Decimal) else Decimal(repr(float(value)))
    return f"{exact:f}"


class Money(DecimalText):
    """Dollars and cents, up to a billion."""

    def __init__(self, **options: Any) -> None:
        super().__init__(9, 2, **options)


class RatePerUnit(DecimalText):
    """Dollars per unit, with four decimals."""

    def __init__(self, **options: Any) -> None:
        super().__init__(9, 4, **options)


class Quantity(DecimalText):
    """A quantity, dimension or time in the unit that its name carries."""

    def __init__(self, **options: Any) -> None:
        super().__init__(9, 6, **options)


class Fraction(DecimalText):
    """A share from 0 to 1."""

    def __init__(self, **options: Any) -> None:
        super().__init__(1, 6, most="1", **options)


class Figure(DecimalText):
    """A number that comes back: of any sign, as the library has it."""

    def __init__(self, **options: Any) -> None:
        super().__init__(40, 40, least=None, **options)


class Words(OneField, ma.fields.String):
    """Text of a person on one line.

    Parameters
    ----------
    most : int
        Letters it may have; at least one is no blank.
    """

    def __init__(self, most: int, **options: Any) -> None:
        self.most = most
        metadata = {
            "minLength": 1,
            "maxLength": most,
            "pattern": rf"^{_CONTROL}*[^\s\u0000-\u001f\u007f-\u009f\ud800-\udfff]{_CONTROL}*$",
            **options.pop("metadata", {}),
        }
        super().__init__(metadata=metadata, **options)

    def read(self, value: Any) -> Any:
        """Return the value, or refuse it in a sentence."""
        if not isinstance(value, str):
            raise self._refuse("is not text", "write it in quotes")
        if not 1 <= len(value) <= self.most:
            raise self._refuse(f"has {len(value):,} letters", f"1 to {self.most:,} are taken")
        if not _PRINTED.fullmatch(value):
            raise self._refuse("has control characters", "type the text again, on one line")
        if not value.strip():
            raise self._refuse("is blank")
        return value


class Choice(OneField, ma.fields.String):
    """One of a few words."""

    def __init__(self, *words: str, **options: Any) -> None:
        self.words = words
        metadata = {"enum": list(words), **options.pop("metadata", {})}
        super().__init__(metadata=metadata, **options)

    def read(self, value: Any) -> Any:
        """Return the value, or refuse it in a sentence."""
        if value not in self.words:
            raise self._refuse("is not known", did_you_mean(str(value), filter(None, self.words)))
        return value


class Whole(OneField, ma.fields.Integer):
    """A whole number within bounds."""

    def __init__(self, least: int, most: int, **options: Any) -> None:
        self.least, self.most = least, most
        metadata = {"minimum": least, "maximum": most, **options.pop("metadata", {})}
        super().__init__(metadata=metadata, **options)

    def read(self, value: Any) -> Any:
        """Return the value, or refuse it in a sentence."""
        is_whole = isinstance(value, int) and not isinstance(value, bool)
        if not is_whole or not self.least <= value <= self.most:
            raise self._refuse(
                "is not right", f"give a whole number from {self.least} to {self.most}"
            )
        return value


class YesNo(OneField, ma.fields.Boolean):
    """True or false, and nothing that merely counts as such."""

    def read(self, value: Any) -> Any:
        """Return the value, or refuse it in a sentence."""
        if isinstance(value, bool):
            return value
        raise self._refuse("is neither true nor false", "write it without quotes")


class WholeInQuery(Whole):
    """A whole number as a query parameter, where everything is text."""

    def read(self, value: Any) -> Any:
        """Return the value, or refuse it in a sentence."""
        is_short = isinstance(value, str) and re.fullmatch(r"0|[1-9][0-9]{0,17}", value, re.ASCII)
        return super().read(int(value) if is_short else value)


class Id(OneField, ma.fields.UUID):
    """The id of something, as answers tell it: 32 hexadecimal digits in five groups."""

    def read(self, value: Any) -> Any:
        """Return the value, or refuse it in a sentence."""
        if not isinstance(value, str) or not _ID.fullmatch(value):
            raise self._refuse("is not an id", "copy the id from an answer")
        return UUID(value)


class Day(OneField, ma.fields.String):
    """A date, as 2026-03-02."""

    def __init__(self, **options: Any) -> None:
        metadata = {"format": "date", "pattern": "^(19|2[01])[0-9]{2}-[0-9]{2}-[0-9]{2}$"}
        super().__init__(metadata=metadata | options.pop("metadata", {}), **options)

    def read(self, value: Any) -> Any:
        """Return the value, or refuse it in a sentence."""
        day = _day_of(value) if isinstance(value, str) else None
        if day is None:
            raise self._refuse(
                "is not a date", f"write it as 2026-03-02, from {EARLIEST} to {LATEST}"
            )
        return day

    def _serialize(self, value: Any, *_: Any, **__: Any) -> str | None:
        return None if value is None else value.isoformat()


@lru_cache(maxsize=1_000)  # row after row is of the same few days
def _day_of(text: str) -> date | None:
    try:
        day = date.fromisoformat(text) if _DAY.fullmatch(text) else None
    except ValueError:
        return None
    return day if day is not None and EARLIEST <= day <= LATEST else None


class Moment(ma.fields.String):
    """A time in UTC, to the second, as 2026-03-02T07:30:00Z."""

    def __init__(self, **options: Any) -> None:
        super().__init__(metadata={"format": "date-time"} | options.pop("metadata", {}), **options)

    def _serialize(self, value: Any, *_: Any, **__: Any) -> str | None:
        return None if value is None else moment_text(value)


class MomentInQuery(OneField, ma.fields.String):
    """A time in UTC as a query parameter, as 2026-03-02T07:30:00Z."""

    def __init__(self, **options: Any) -> None:
        super().__init__(metadata={"format": "date-time", "pattern": _MOMENT}, **options)

    def read(self, value: Any) -> Any:
        """Return the value, or refuse it in a sentence."""
        try:
            moment = datetime.fromisoformat(value) if re.fullmatch(_MOMENT, value) else None
        except (TypeError, ValueError):
            moment = None
        if moment is None:
            raise self._refuse("is not a time in UTC", "write it as 2026-03-02T07:30:00Z")
        return moment


def moment_text(moment: datetime) -> str:
    """Return a time as answers tell it.

    Examples
    --------
    >>> moment_text(datetime(2026, 3, 2, 7, 30, tzinfo=UTC))
    '2026-03-02T07:30:00Z'
    """
    return moment.astimezone(UTC).isoformat(timespec="seconds").removesuffix("+00:00") + "Z"
