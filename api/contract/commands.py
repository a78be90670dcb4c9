"""Bodies and queries as commands: one frozen dataclass says what is taken, and how it is read.

Each of its fields is annotated with the kind of field that reads it and, where the name does not
say it all, with a description. One with a default may be left out; where null is something to
state, as in a change of some fields, that default is `LEFT_OUT`.
"""

from __future__ import annotations

from copy import deepcopy
from dataclasses import MISSING, Field, fields
from enum import Enum
from functools import cache
from types import NoneType
from typing import TYPE_CHECKING, Annotated, Any, Final, get_args, get_origin, get_type_hints

import marshmallow as ma

from api.contract.schemas import ListOf, Part, Schema

if TYPE_CHECKING:
    from _typeshed import DataclassInstance


class LeftOut(Enum):
    """What a body does not state; `LEFT_OUT` is the only one."""

    LEFT_OUT = "left out"


LEFT_OUT: Final = LeftOut.LEFT_OUT
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
    said: dict[str, Any] = {one.name: _read_by(hints[one.name], one) for one in fields(command)}

    def made(_: Schema, body: dict[str, Any], **__: Any) -> DataclassInstance:
        return command(**body)

    said |= {"__doc__": command.__doc__, "__module__": command.__module__}
    completed = getattr(command, "completed", None)
    if completed is not None:  # what a body states stands for more than it says

        def complete(_: Schema, body: Any, **__: Any) -> Any:
            return completed(body) if isinstance(body, dict) else body

        said["_completed"] = ma.pre_load(complete)
    return type(command.__name__, (Schema,), {**said, "_made": ma.post_load(made)})


@cache
def reader_of(command: type[DataclassInstance]) -> Schema:
    """Return what reads a body or a query into a command: made once, as it copies every field."""
    return schema_of(command)()


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
        field.metadata = {**field.metadata, "description": annotated.__metadata__[1]}
    field.required = one.default is MISSING and one.default_factory is MISSING
    field.allow_none |= {LeftOut, NoneType} <= {*get_args(hint), *get_args(annotated.__origin__)}
    if one.default not in _NOT_NAMED:
        field.load_default = one.default
    return field
