"""Bodies as commands: a shape loads into the frozen dataclass that it names.

What a body may leave out, as a change of some fields does, is `LEFT_OUT` in the command; null is
something that it states.
"""

from __future__ import annotations

from dataclasses import fields
from enum import Enum
from typing import TYPE_CHECKING, Any, ClassVar, Final

import marshmallow as ma

from api.contract.schemas import Schema

if TYPE_CHECKING:
    from _typeshed import DataclassInstance


class LeftOut(Enum):
    """What a body does not state; `LEFT_OUT` is the only one."""

    LEFT_OUT = "left out"


LEFT_OUT: Final = LeftOut.LEFT_OUT


class Command(Schema):
    """A shape of a body that is loaded into a command."""

    makes: ClassVar[Any]

    @ma.post_load
    def _made(self, body: dict[str, Any], **_: Any) -> Any:
        return self.makes(**body)


def stated(command: DataclassInstance) -> dict[str, Any]:
    """Return what a body states, by field; what it leaves out is not there."""
    values = {one.name: getattr(command, one.name) for one in fields(command)}
    return {name: value for name, value in values.items() if value is not LEFT_OUT}
