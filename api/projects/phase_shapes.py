"""Shapes of phases as the service takes and tells them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Annotated, Any

import marshmallow as ma

from api.contract.commands import LEFT_OUT, NotStated, several
from api.contract.example_ids import PHASE, SECOND_PHASE
from api.contract.fields import Whole, Words
from api.contract.lists import Page
from api.contract.schemas import Answer
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

_AFTER = (
    "Codes of phases, or cost codes of items, that must be done first; null for the phase before, "
    "[] for none."
)
_WAIT = "Time between what it waits for and its start: 7 calendar days, or 3 working days."
_STARTS_WITH = "Codes of phases or items that must have begun."
_ALONG = "Codes of phases or items that it runs beside, from first start to last finish."
_DURATION = "Working days, such as [8 day, 12 day, 25 day]; null for the crew hours of its items."


_Code = Annotated[str, Words(CODE_LENGTH), "Such as 60."]
_Name = Annotated[str, Words(NAME_LENGTH)]
# A text, a list or an object, as a scope file has it.
_Written = str | Sequence[Any] | Mapping[str, Any]


@dataclass(frozen=True, kw_only=True)
class PhaseChange:
    """What may be changed of a phase; what is left out stays."""

    code: _Code | NotStated = LEFT_OUT
    name: _Name | NotStated = LEFT_OUT
    after: Annotated[Sequence[str] | NotStated | None, Written(list), _AFTER] = LEFT_OUT
    wait: Annotated[_Written | NotStated | None, Written(str, list), _WAIT] = LEFT_OUT
    starts_with: Annotated[Sequence[str] | NotStated | None, Written(list), _STARTS_WITH] = LEFT_OUT
    along: Annotated[Sequence[str] | NotStated | None, Written(list), _ALONG] = LEFT_OUT
    duration: Annotated[_Written | NotStated | None, Written(str, list, dict), _DURATION] = LEFT_OUT


@dataclass(frozen=True, kw_only=True)
class NewPhase(PhaseChange):
    """What a new phase is to be."""

    # Required here: `field()` takes the place of the default of a change.
    code: _Code = field()
    name: _Name = field()


@dataclass(frozen=True, kw_only=True)
class PhaseOrder:
    """All phases of a project, as they are to stand."""

    phases: Annotated[Sequence[AtVersion], several(AtVersion, 1, MOST_IN_ORDER)]


class PhaseAnswer(Answer):
    """A stage of a project."""

    id = ma.fields.UUID(required=True)
    code = ma.fields.String(required=True)
    name = ma.fields.String(required=True)
    after = ma.fields.Raw(required=True, allow_none=True)
    wait = ma.fields.Raw(required=True, allow_none=True)
    starts_with = ma.fields.Raw(required=True, allow_none=True)
    along = ma.fields.Raw(required=True, allow_none=True)
    duration = ma.fields.Raw(required=True, allow_none=True)
    version = Whole(1, HIGHEST_POSITION, required=True)


class PhasesAnswer(Answer):
    """All phases of a project, in their order."""

    phases = ma.fields.List(ma.fields.Nested(PhaseAnswer), required=True)


class PhasePage(Page):
    """Some phases, in their order."""

    phases = ma.fields.List(ma.fields.Nested(PhaseAnswer), required=True)
