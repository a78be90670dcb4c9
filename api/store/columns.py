"""The kinds of column there are, each the same on SQLite and PostgreSQL, with its own checks.

Models and migrations share these kinds, so a kind never changes its meaning: what is to be kept
differently becomes a new kind. SQLite takes anything anywhere (text in a number, fifty letters
in a column of five, a time without its zone), so every kind brings a CHECK of its own.
"""

# ruff: noqa: ARG002 -- the arguments of a kind's methods are SQLAlchemy's

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime
from functools import lru_cache
from typing import Any

from sqlalchemy import BigInteger, CheckConstraint, Column, Dialect, String, Text, types
from sqlalchemy.types import TypeDecorator, TypeEngine

from api.store.errors import ValueRefused
from estimator.errors import fault, quoted

LARGEST_WHOLE = 10**18
MOST_DECIMALS = 6
DIGEST_LENGTH = 64

_POSTGRESQL = "postgresql"
_SQLITE = "sqlite"
_DIGIT = "[0-9]"
_UTC_GLOB = "-".join([_DIGIT * 4, _DIGIT * 2, _DIGIT * 2])
_UTC_GLOB += f"T{_DIGIT * 2}:{_DIGIT * 2}:{_DIGIT * 2}.{_DIGIT * 6}Z"

_CANONICAL = json.JSONEncoder(
    sort_keys=True, ensure_ascii=True, separators=(",", ":"), allow_nan=False,
    check_circular=False,  # a circle goes too deep instead
)  # fmt: skip

# A check: what it is called behind the column's name, its SQL, and the one database it is for.
Check = tuple[str, str, str | None]


def canonical_json(value: object) -> str:
    """Return a value as JSON in its one form: sorted keys, no blanks, ASCII.

    Examples
    --------
    >>> canonical_json({"width": "4 ft", "length": ["62 ft 6 in"]})
    '{"length":["62 ft 6 in"],"width":"4 ft"}'
    """
    return _CANONICAL.encode(value)


class JsonText(str):
    """JSON in its one form, as a column of JSON and the trail take it without writing it anew."""

    __slots__ = ()


@lru_cache(maxsize=64)  # many rows are written at one moment
def utc_text(moment: datetime) -> str:
    """Return a time as the store writes it.

    Examples
    --------
    >>> utc_text(datetime(2026, 3, 2, 7, 30, tzinfo=UTC))
    '2026-03-02T07:30:00.000000Z'
    """
    return moment.astimezone(UTC).replace(tzinfo=None).isoformat(timespec="microseconds") + "Z"


class _Kind(TypeDecorator[Any]):
    """A kind of column that knows the checks it needs."""

    impl: Any = Text

    def checks(self, name: str) -> Iterator[Check]:
        """Yield the checks of a column of this kind."""
        raise NotImplementedError


class ShortText(_Kind):
    """Text of a person: a code, a name, a note. Compared letter by letter on either database.

    Parameters
    ----------
    most, least : int
        Letters it may have.
    """

    cache_ok = True

    def __init__(self, most: int, least: int = 1) -> None:
        super().__init__()
        self.most = most
        self.least = least

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        """Return the database's own text type, sorted by code point, not by language."""
        collation = "C" if dialect.name == _POSTGRESQL else None
        return dialect.type_descriptor(String(self.most, collation=collation))

    def process_bind_param(self, value: str | None, dialect: Dialect) -> str | None:
        """Refuse what a database would cut, change or choke on."""
        if value is None:
            return None
        if not self.least <= len(value) <= self.most:
            raise fault(
                ValueRefused,
                f"{quoted(value)} has {len(value):,} letters",
                f"{self.least:,} to {self.most:,} are kept",
            )
        return _storable(value)

    def checks(self, name: str) -> Iterator[Check]:
        """Yield the check of its length."""
        yield "length", f"length({name}) BETWEEN {self.least} AND {self.most}", None


class OneOf(_Kind):
    """One of a few words."""

    cache_ok = True

    def __init__(self, *words: str) -> None:
        super().__init__()
        self.words = words

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        """Return a text type that the longest word fits."""
        return dialect.type_descriptor(String(max(map(len, self.words))))

    def checks(self, name: str) -> Iterator[Check]:
        """Yield the check that it is one of them."""
        listed = ", ".join(f"'{word}'" for word in self.words)
        yield "known", f"{name} IN ({listed})", None


class Digest(_Kind):
    """A SHA-256 digest in lower-case hexadecimal."""

    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        """Return a text type of its length."""
        return dialect.type_descriptor(String(DIGEST_LENGTH))

    def checks(self, name: str) -> Iterator[Check]:
        """Yield the checks of its length and letters."""
        yield "length", f"length({name}) = {DIGEST_LENGTH}", None
        yield "hex", f"{name} NOT GLOB '*[^0-9a-f]*'", _SQLITE
        yield "hex", f"{name} ~ '^[0-9a-f]*$'", _POSTGRESQL


class Document(_Kind):
    """Text of any length, stored to the byte, such as an estimate as JSON."""

    cache_ok = True

    def process_bind_param(self, value: str | None, dialect: Dialect) -> str | None:
        """Refuse what a database would choke on."""
        return None if value is None else _storable(value)

    def checks(self, name: str) -> Iterator[Check]:
        """Yield the check that it is text."""
        yield "text", f"typeof({name}) IN ('text', 'null')", _SQLITE


class Json(_Kind):
    """Plain dictionaries, lists, texts and whole numbers, stored as canonical JSON."""

    cache_ok = True

    def process_bind_param(self, value: object, dialect: Dialect) -> str | None:
        """Return the canonical text."""
        if isinstance(value, JsonText):
            return str(value)
        try:
            return None if value is None else canonical_json(value)
        except (TypeError, ValueError, RecursionError) as error:
            raise fault(ValueRefused, f"cannot be kept as JSON: {error}") from error

    def process_result_value(self, value: str | None, dialect: Dialect) -> Any:
        """Return what the text says."""
        return None if value is None else json.loads(value)

    def checks(self, name: str) -> Iterator[Check]:
        """Yield the check that it is JSON."""
        yield "json", f"{name} IS NULL OR json_valid({name})", _SQLITE
        yield "json", f"{name} IS NULL OR {name}::json IS NOT NULL", _POSTGRESQL


class IntRange(_Kind):
    """A whole number: cents, or a quantity in units of its last printed decimal.

    Parameters
    ----------
    least, most : int
        Bounds; a database that rounds or wraps never sees more.
    """

    cache_ok = True
    impl = BigInteger

    def __init__(self, least: int = -LARGEST_WHOLE, most: int = LARGEST_WHOLE) -> None:
        super().__init__()
        self.least = least
        self.most = most

    def process_bind_param(self, value: int | None, dialect: Dialect) -> int | None:
        """Refuse what is not a whole number or out of bounds."""
        if value is None:
            return None
        if not isinstance(value, int) or isinstance(value, bool):
            raise fault(ValueRefused, f"{quoted(value)} is not a whole number")
        if not self.least <= value <= self.most:
            raise fault(
                ValueRefused, f"{value} is out of bounds", f"{self.least} to {self.most} is kept"
            )
        return value

    def takes_all(self, values: Sequence[Any]) -> bool:
        """Whether values are whole numbers within bounds, looked at together; none is None."""
        are_whole = set(map(type, values)) == {int}
        return are_whole and self.least <= min(values) and max(values) <= self.most

    def checks(self, name: str) -> Iterator[Check]:
        """Yield the checks that it is whole and within bounds."""
        yield "whole", f"typeof({name}) IN ('integer', 'null')", _SQLITE
        yield "bounds", f"{name} BETWEEN {self.least} AND {self.most}", None


class Flag(_Kind):
    """Yes or no."""

    cache_ok = True
    impl = types.Boolean

    def checks(self, name: str) -> Iterator[Check]:
        """Yield the check that it is neither 2 nor text."""
        yield "yes_no", f"{name} IN (0, 1)", _SQLITE


class UtcTime(_Kind):
    """A moment, stored in UTC to the microsecond; a time without a zone is refused."""

    cache_ok = True

    def load_dialect_impl(self, dialect: Dialect) -> TypeEngine[Any]:
        """Return the database's time with zone, or text that sorts as time does."""
        if dialect.name == _POSTGRESQL:
            return dialect.type_descriptor(types.TIMESTAMP(timezone=True))
        return dialect.type_descriptor(String(27))

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> Any:
        """Return the moment as this database writes it."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise fault(ValueRefused, f"time {quoted(value)} has no zone", "give it in UTC")
        return value if dialect.name == _POSTGRESQL else utc_text(value)

    def process_result_value(self, value: Any, dialect: Dialect) -> datetime | None:
        """Return the moment in UTC."""
        if value is None:
            return None
        moment = datetime.fromisoformat(value) if isinstance(value, str) else value
        return moment.astimezone(UTC)

    def checks(self, name: str) -> Iterator[Check]:
        """Yield the check of the form that text has."""
        yield "utc", f"{name} GLOB '{_UTC_GLOB}'", _SQLITE


def column_checks(column: Column[Any]) -> list[CheckConstraint]:
    """Return the CHECK constraints that the kind of a column asks for."""
    if not isinstance(column.type, _Kind):
        return []
    checks = []
    for name, sql, dialect in column.type.checks(column.name):
        check = CheckConstraint(sql, name=f"{column.name}_{name}")
        checks.append(check.ddl_if(dialect=dialect) if dialect else check)
    return checks


def _storable(text: str) -> str:
    """Return a text that both databases can hold, or refuse it."""
    if "\x00" in text:
        raise fault(ValueRefused, f"{quoted(text)} holds the character NUL", "remove it")
    try:
        text.encode()
    except UnicodeEncodeError:
        raise fault(
            ValueRefused, f"{quoted(text)} holds half a character", "write it again"
        ) from None
    return text
