"""Fields that hold what a scope file says, as it is written there; the library reads them."""

from __future__ import annotations

from typing import Any

import marshmallow as ma

from api.contract.fields import REMEDY

_KINDS: dict[Any, str] = {str: "string", list: "array", dict: "object"}
_MESSAGES: dict[str, Any] = {
    "required": "is missing",
    "null": "is null; leave it out, or give a value",
}


class Written(ma.fields.Field[Any]):
    """A text, a list or an object, as a scope file has it; null where nothing is said.

    Parameters
    ----------
    *kinds : type
        Of `str`, `list` and `dict`: what is taken.
    """

    default_error_messages = _MESSAGES

    def __init__(self, *kinds: type, **options: Any) -> None:
        self.kinds = kinds
        named = [_KINDS[kind] for kind in kinds]
        described: dict[str, Any] = {"type": named} | ({"items": {}} if list in kinds else {})
        super().__init__(metadata=described, **options)

    def _deserialize(self, value: Any, *_: Any, **__: Any) -> Any:
        if isinstance(value, self.kinds):
            return value
        taken = " or ".join(_KINDS[kind] for kind in self.kinds)
        raise ma.ValidationError(f"is not of that kind{REMEDY}write a JSON {taken}")
