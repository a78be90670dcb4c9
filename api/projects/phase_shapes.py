"""Shapes of phases as the service takes and tells them."""

from __future__ import annotations

from typing import Any

import marshmallow as ma

from api.contract.commands import Command
from api.contract.example_ids import PHASE, SECOND_PHASE
from api.contract.fields import Whole, Words
from api.contract.lists import Page
from api.contract.schemas import Answer, ListOf, Part
from api.projects import commands
from api.projects.sequence import MOST_IN_ORDER, AtVersion
from api.projects.written_fields import Written
from api.store.models.base import CODE_LENGTH, HIGHEST_POSITION, NAME_LENGTH

EXAMPLE_PHASE: dict[str, Any] = {
    "code": "60",
    "name": "Posts and beams",
    "after": [],
    "duration": ["8 day", "12 day", "25 day"],
}
EXAMPLE_CHANGE: dict[str, Any] = {"name": "Posts, beams and braces", "duration": None}
EXAMPLE_ORDER: dict[str, Any] = {
    "phases": [{"id": SECOND_PHASE, "version": 1}, {"id": PHASE, "version": 1}]
}

_AFTER = "Codes of phases that must be done first; null for the phase before, [] for none."
_DURATION = "Working days, such as [8 day, 12 day, 25 day]; null for the crew hours of its items."


class _Plan(Command):
    after = Written(list, meaning=_AFTER, allow_none=True)
    duration = Written(str, list, dict, meaning=_DURATION, allow_none=True)


class PhaseAsked(_Plan):
    """What a new phase is to be."""

    makes = commands.NewPhase
    code = Words(CODE_LENGTH, required=True, metadata={"description": "Such as 60."})
    name = Words(NAME_LENGTH, required=True)


class PhaseChange(_Plan):
    """What may be changed of a phase; what is left out stays."""

    makes = commands.PhaseChange
    code = Words(CODE_LENGTH)
    name = Words(NAME_LENGTH)


class PhaseOrder(Command):
    """All phases of a project, as they are to stand."""

    makes = commands.PhaseOrder
    phases = ListOf(Part(AtVersion), 1, MOST_IN_ORDER, required=True)


class PhaseAnswer(Answer):
    """A stage of a project."""

    id = ma.fields.UUID(required=True)
    code = ma.fields.String(required=True)
    name = ma.fields.String(required=True)
    after = ma.fields.Raw(required=True, allow_none=True)
    duration = ma.fields.Raw(required=True, allow_none=True)
    version = Whole(1, HIGHEST_POSITION, required=True)


class PhasesAnswer(Answer):
    """All phases of a project, in their order."""

    phases = ma.fields.List(ma.fields.Nested(PhaseAnswer), required=True)


class PhasePage(Page):
    """Some phases, in their order."""

    phases = ma.fields.List(ma.fields.Nested(PhaseAnswer), required=True)
