"""Schemas of bodies: known fields only, and every fault of a body with its pointer."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, ClassVar

import marshmallow as ma

from api.contract.fields import REMEDY
from api.contract.places import parameter, pointer
from estimator.errors import Fault, Remedy, did_you_mean

_UNKNOWN = "is not a field"


class Schema(ma.Schema):
    """A shape of a body: its fields and no others; `command` is what it loads, if it is one."""

    command: ClassVar[Any] = None

    error_messages = {  # noqa: RUF012
        "unknown": _UNKNOWN,
        "type": "is not an object; write {...}",
    }

    class Meta:
        """Unknown fields are faults."""

        unknown = ma.RAISE


class Answer(ma.Schema):
    """A shape of an answer; more fields may come later."""

    class Meta:
        """Clients pass over fields that they do not know."""

        unknown = ma.INCLUDE


class ListOf(ma.fields.List[Any]):
    """Values in order, so many at least and at most."""

    default_error_messages = {  # noqa: RUF012
        "required": "is missing",
        "null": "is null; leave it out, or give a list",
        "invalid": "is not a list; write [...]",
    }

    def __init__(self, of: Any, least: int, most: int, **options: Any) -> None:
        what = "has too few or too many entries" if least else "has too many entries"
        message = f"{what}{REMEDY}{least} to {most:,} are taken"
        self.bounds = ma.validate.Length(least, most, error=message)
        super().__init__(of, validate=self.bounds, **options)

    def _deserialize(self, value: Any, *rest: Any, **options: Any) -> Any:
        if isinstance(value, list):
            self.bounds(value)  # before any of them is looked at
        return super()._deserialize(value, *rest, **options)


class Part(ma.fields.Nested):
    """A shape within a shape."""

    default_error_messages = {  # noqa: RUF012
        "required": "is missing",
        "null": "is null; leave it out, or give a value",
        "type": "is not an object; write {...}",
    }


def faults_of(messages: Any, schema: ma.Schema, location: str) -> Iterator[Fault]:
    """Yield marshmallow's messages as faults with their places.

    Parameters
    ----------
    messages : dict or list
        Of a ValidationError, by field.
    schema : Schema
        What was read, which knows the fields there are.
    location : str
        `json`, `query` or `headers`.
    """
    for steps, message in _messages(messages, ()):
        what, _, advice = message.partition(REMEDY)
        remedy: Remedy = advice
        if what == _UNKNOWN:
            remedy = did_you_mean(str(steps[-1]), _fields_at(schema, steps[:-1]))
        where = pointer(*steps) if location == "json" else parameter(str(steps[0]))
        yield Fault(where, what.rstrip("."), remedy)


def _messages(messages: Any, steps: tuple[str | int, ...]) -> Iterator[tuple[tuple[Any, ...], str]]:
    if isinstance(messages, Mapping):
        for key, inner in messages.items():
            yield from _messages(inner, steps if key == "_schema" else (*steps, key))
    elif isinstance(messages, list):
        for message in messages:
            yield from _messages(message, steps)
    else:
        yield steps, str(messages)


def _fields_at(schema: ma.Schema, steps: tuple[str | int, ...]) -> Mapping[str, Any]:
    """Return the fields there are under the steps that lead to a part of a body."""
    fields: Mapping[str, Any] = schema.fields
    for step in steps:
        if isinstance(step, int):
            continue
        field: Any = fields.get(step)
        if isinstance(field, ma.fields.List):
            field = field.inner
        if not isinstance(field, ma.fields.Nested):
            return {}
        fields = field.schema.fields
    return fields
