"""Schemas of whole scopes, sent and returned."""

from __future__ import annotations

from typing import Any

import marshmallow as ma

from api.calculations.examples import SCOPE_TEXT
from api.calculations.scope_shapes import QuotesField, ScopeField
from api.contract.commands import Command
from api.contract.fields import Id
from api.contract.schemas import Answer, Part
from api.projects import commands

EXAMPLE_UPLOAD: dict[str, Any] = {"scope": SCOPE_TEXT}
EXAMPLE_FROM_SCOPE: dict[str, Any] = {"scope": SCOPE_TEXT, "rate_set_id": None}


class ScopeUpload(Command):
    """A scope, and the quotes it is priced with."""

    makes = commands.NewScope
    scope = ScopeField(required=True)
    quotes = QuotesField()


class ProjectFromScope(ScopeUpload):
    """A scope that a new project is to have."""

    makes = commands.ProjectOfScope
    rate_set_id = Id(allow_none=True)


class ScopeShown(Answer):
    """A scope with the keys of a scope file; what says nothing is left out."""

    project = ma.fields.String(required=True)
    on = ma.fields.String()
    shift = ma.fields.String()
    markups = ma.fields.List(ma.fields.String())
    day_worth = ma.fields.String()
    assumptions = ma.fields.List(ma.fields.String())
    risk = ma.fields.Dict()
    phases = ma.fields.List(ma.fields.Dict(), required=True)


class ScopeAnswer(Answer):
    """A scope as `PUT` takes it."""

    scope = Part(ScopeShown, required=True)
