"""Bodies and queries as commands: one frozen dataclass says what is taken, and how it is read.

Each of its fields is annotated with the kind of field that reads it and, where the name does not
say it all, with a description. One with a default may be left out; where null is something to
state, as in a change of some fields, that default is `LEFT_OUT`.
"""

from __future__ import annotations

from collections.abc import Callable
from copy import deepcopy
from dataclasses import MISSING, Field, fields
from enum import Enum
from functools import cache
from types import NoneType
from typing import (
    TYPE_CHECKING,
    Annotated,
    Any,
    Final,
    TypeVar,
    get_args,
    get_origin,
    get_type_hints,
)

import marshmallow as ma

from api.contract.fields import OneField
from api.contract.schemas import ListOf, Part, Schema

if TYPE_CHECKING:
    from _typeshed import DataclassInstance


Command = TypeVar("Command", bound="DataclassInstance")


class NotStated(Enum):
    """What a body does not state; `LEFT_OUT` is the only one."""

    LEFT_OUT = "left out"


LEFT_OUT: Final = NotStated.LEFT_OUT
# Defaults that the specification does not name: the field is just not there.
_NOT_NAMED = (MISSING, LEFT_OUT, None, "", ())


@cache
def schema_of(command: type[DataclassInstance]) -> type[Schema]:
    """Return the schema that reads a body or a query into a command.

    Parameters
    ----------
    command : type
        A dataclass, each field `Annotated` with what reads it and, if need be, a description.
    """
    hints = get_type_hints(command, include_extras=True)
    attributes: dict[str, Any] = {
        one.name: _read_by(hints[one.name], one) for one in fields(command)
    }

    def made(_: Schema, body: dict[str, Any], **__: Any) -> DataclassInstance:
        return command(**body)

    attributes |= {"__doc__": command.__doc__, "__module__": command.__module__, "command": command}
    completed = getattr(command, "completed", None)
    if completed is not None:  # what a body states stands for more than it says

        def complete(_: Schema, body: Any, **__: Any) -> Any:
            return completed(body) if isinstance(body, dict) else body

        attributes["_completed"] = ma.pre_load(complete)
    return type(command.__name__, (Schema,), {**attributes, "_made": ma.post_load(made)})


@cache
def reader_of(command: type[DataclassInstance]) -> Schema:
    """Return what reads a body or a query into a command: made once, as it copies every field."""
    return schema_of(command)()


def loaded(command: type[Command], body: Any) -> Command:
    """Return a body as the command that its schema loads.

    Where there is nothing to refuse, each field is read by itself, in a fifth of the time.

    Parameters
    ----------
    command : type
        See `schema_of`.
    body : object
        As it was sent.

    Raises
    ------
    ValidationError
        With every fault of the body.
    """
    try:
        made: Command = _quick(command)(body)
    except (_Unusual, ma.ValidationError):
        made = reader_of(command).load(body)
    return made


class _Unusual(Exception):
    """A body that its schema must look at: something is unknown, missing, null or wrong."""


@cache
def _quick(command: type[DataclassInstance]) -> Callable[[Any], Any]:
    readers = {name: _reader(field) for name, field in reader_of(command).fields.items()}
    required = {name for name, field in reader_of(command).fields.items() if field.required}

    completed = getattr(command, "completed", dict)

    def read(sent: Any) -> Any:
        if type(sent) is not dict:
            raise _Unusual
        body = completed(sent)
        if not (required <= body.keys() <= readers.keys()):
            raise _Unusual
        return command(**{name: readers[name](value) for name, value in body.items()})

    return read


def _reader(field: ma.fields.Field[Any]) -> Callable[[Any], Any]:
    """Return what reads a value as a field does that is stated and not null."""
    if isinstance(field, ListOf):
        one = _reader(field.inner)

        def read_all(value: Any) -> list[Any]:
            if type(value) is not list:
                raise _Unusual
            field.bounds(value)
            return [one(part) for part in value]

        return read_all
    if isinstance(field, Part):
        of = getattr(field.schema, "command", None)
        return _refused if of is None else _quick(of)
    return field.read if isinstance(field, OneField) and not field.validators else _refused


def _refused(_: Any) -> Any:
    raise _Unusual


def several(command: type[DataclassInstance], least: int, most: int) -> ListOf:
    """Return the field that reads several commands, so many at least and at most."""
    return ListOf(Part(schema_of(command)), least, most)


def stated(command: DataclassInstance) -> dict[str, Any]:
    """Return what a body states, by field; what it leaves out is not there."""
    values = {one.name: getattr(command, one.name) for one in fields(command)}
    return {name: value for name, value in values.items() if value is not LEFT_OUT}


def _read_by(hint: Any, one: Field[Any]) -> ma.fields.Field[Any]:
    """Return the field that an annotation names, alone or beside what stands for leaving it out."""
    annotated = next(way for way in (hint, *get_args(hint)) if get_origin(way) is Annotated)
    field: ma.fields.Field[Any] = deepcopy(annotated.__metadata__[0])
    if annotated.__metadata__[1:]:
        # Of a kind of field that is described again where it is used, the last word counts.
        field.metadata = {**field.metadata, "description": annotated.__metadata__[-1]}
    field.required = one.default is MISSING and one.default_factory is MISSING
    field.allow_none |= {NotStated, NoneType} <= {*get_args(hint), *get_args(annotated.__origin__)}
    if one.default not in _NOT_NAMED:
        field.load_default = one.default
    return field
