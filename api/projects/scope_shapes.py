"""Schemas of whole scopes, sent and returned."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any
from uuid import UUID

import marshmallow as ma

from api.calculations.examples import SCOPE_TEXT
from api.calculations.scope_shapes import QuotesField, ScopeField
from api.contract.fields import Id
from api.contract.schemas import Answer, Part

EXAMPLE_UPLOAD: dict[str, Any] = {"scope": SCOPE_TEXT}
EXAMPLE_FROM_SCOPE: dict[str, Any] = {"scope": SCOPE_TEXT, "rate_set_id": None}


@dataclass(frozen=True, kw_only=True)
class NewScope:
    """A scope in the place of all that a project says; quotes that are left out stay."""

    scope: Annotated[str | dict[str, Any], ScopeField()]
    quotes: Annotated[Mapping[str, str] | None, QuotesField()] = None


@dataclass(frozen=True, kw_only=True)
class ProjectOfScope(NewScope):
    """A scope that a new project is to have."""

    rate_set_id: Annotated[UUID | None, Id(allow_none=True)] = None


class ScopeShown(Answer):
    """A scope with the keys of a scope file; what says nothing is left out."""

    project = ma.fields.String(required=True)
    address = ma.fields.String()
    prepared_for = ma.fields.String()
    prepared_by = ma.fields.String()
    revision = ma.fields.String()
    on = ma.fields.String()
    shift = ma.fields.String()
    markups = ma.fields.List(ma.fields.String())
    day_worth = ma.fields.String()
    assumptions = ma.fields.List(ma.fields.String())
    calendar = ma.fields.Dict()
    crew = ma.fields.Dict()
    risk = ma.fields.Dict()
    phases = ma.fields.List(ma.fields.Dict(), required=True)


class ScopeAnswer(Answer):
    """A scope as `PUT` takes it."""

    scope = Part(ScopeShown, required=True)
