"""Shapes of items as the service takes and tells them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Annotated, Any
from uuid import UUID

import marshmallow as ma

from api.contract.commands import LEFT_OUT, NotStated, several
from api.contract.example_ids import ITEM, PHASE, SECOND_ITEM
from api.contract.fields import Id, Whole, Words, YesNo
from api.contract.lists import Page, PageQuery
from api.contract.schemas import Answer
from api.projects.sequence import MOST_IN_ORDER, AtVersion
from api.projects.written_fields import Written
from api.store.models.base import CODE_LENGTH, HIGHEST_POSITION, NAME_LENGTH, NOTE_LENGTH

MOST_AT_ONCE = 1_000

EXAMPLE_ITEM: dict[str, Any] = {
    "phase_id": PHASE,
    "code": "050",
    "name": "Stone fill, west pit",
    "assembly": "stone-fill-skid-steer",
    "inputs": {"length": "62 ft 6 in", "width": "22'-4\"", "depth": ["2 ft", "6 ft 3 in"]},
    "note": "Depths are checked once the planks are up.",
    "risk": {"quantity": ["90 %", "120 %"]},
}
EXAMPLE_CHANGE: dict[str, Any] = {
    "inputs": {"length": "64 ft", "width": "22'-4\"", "depth": "4 ft 2 in"},
    "note": None,
}
EXAMPLE_ADDITIONS: dict[str, Any] = {
    "items": [EXAMPLE_ITEM | {"code": "060"}, EXAMPLE_ITEM | {"code": "070", "risk": None}]
}
EXAMPLE_CHANGES: dict[str, Any] = {
    "items": [
        {"id": ITEM, "version": 1, "name": "Stone fill, both ends of the west pit"},
        {"id": SECOND_ITEM, "version": 1, "removed": True},
    ]
}
EXAMPLE_ORDER: dict[str, Any] = {
    "items": [{"id": SECOND_ITEM, "version": 1}, {"id": ITEM, "version": 1}]
}

_INPUTS = "What the assembly asks for, as measured: 62 ft 6 in, or depths as a list or spots."
_METHODS = "Ways to do the work, as docs/choosing-a-method.md describes them."
_LEVEL = "Level of its top, and marks on the way up: {top: 100 ft, marks: [96 ft, 98 ft]}."
_DELAYS = "What slows its crew: {working_minutes: 50 min, first_days: [50 %, 75 %]}."
_OPENING = "What its methods go through: {name: wagon door, width: 8 ft, height: 9 ft}."
_METHOD = "Name of the method that prices the item; the first if left out."
_STATED = "Instead of an assembly: a price as a sum, as docs/scope-file.md describes it."
_ALTERNATE = "Code of the alternate it belongs to; part of the base if left out."
_ASSEMBLY = "Code of its assembly, unless it states its price."
_RISK = "How far quantity and pace may come out differently, as docs/ranges.md describes it."
_AFTER = "Codes of items that must be done first: 020 of its phase, or 30.020; [] for none."
_WAIT = "Time between what it waits for and its start: 7 calendar days, or 3 working days."
_STARTS_WITH = "Codes of items that must have begun."
_ALONG = "Codes of items that it runs beside, from first start to last finish."
_DURATION = "Working days, such as 3 day; null for the days of its own pace."
_CREW = "A crew other than the assembly's."
_ELEMENT = "A UNIFORMAT II element other than the assembly's."
_SEARCH = "Part of a code, name or note; for a to z, capitals do not matter."


_Phase = Annotated[UUID, Id()]
_Code = Annotated[str, Words(CODE_LENGTH), "Such as 010."]
_Name = Annotated[str, Words(NAME_LENGTH)]
# What a scope file has there, as it is written; the library reads it.
_Written = Mapping[str, Any]
_Stated = str | Sequence[Any] | Mapping[str, Any]


@dataclass(frozen=True, kw_only=True)
class ItemChange:
    """What may be changed of an item; what is left out stays."""

    phase_id: _Phase | NotStated = LEFT_OUT
    code: _Code | NotStated = LEFT_OUT
    name: _Name | NotStated = LEFT_OUT
    assembly: Annotated[str | NotStated | None, Words(NAME_LENGTH), _ASSEMBLY] = LEFT_OUT
    inputs: Annotated[_Written | NotStated | None, Written(dict), _INPUTS] = LEFT_OUT
    crew: Annotated[str | NotStated | None, Words(CODE_LENGTH), _CREW] = LEFT_OUT
    element: Annotated[str | NotStated | None, Words(CODE_LENGTH), _ELEMENT] = LEFT_OUT
    note: Annotated[str | NotStated | None, Words(NOTE_LENGTH)] = LEFT_OUT
    level: Annotated[_Written | NotStated | None, Written(dict), _LEVEL] = LEFT_OUT
    opening: Annotated[_Written | NotStated | None, Written(dict), _OPENING] = LEFT_OUT
    delays: Annotated[_Written | NotStated | None, Written(dict), _DELAYS] = LEFT_OUT
    methods: Annotated[Sequence[_Written] | NotStated | None, Written(list), _METHODS] = LEFT_OUT
    method: Annotated[str | NotStated | None, Words(NAME_LENGTH), _METHOD] = LEFT_OUT
    subcontract: Annotated[_Written | NotStated | None, Written(dict), _STATED] = LEFT_OUT
    lump_sum: Annotated[_Written | NotStated | None, Written(dict), _STATED] = LEFT_OUT
    allowance: Annotated[_Written | NotStated | None, Written(dict), _STATED] = LEFT_OUT
    alternate: Annotated[str | NotStated | None, Words(CODE_LENGTH), _ALTERNATE] = LEFT_OUT
    risk: Annotated[_Written | NotStated | None, Written(dict), _RISK] = LEFT_OUT
    after: Annotated[Sequence[str] | NotStated | None, Written(list), _AFTER] = LEFT_OUT
    wait: Annotated[_Stated | NotStated | None, Written(str, list), _WAIT] = LEFT_OUT
    starts_with: Annotated[Sequence[str] | NotStated | None, Written(list), _STARTS_WITH] = LEFT_OUT
    along: Annotated[Sequence[str] | NotStated | None, Written(list), _ALONG] = LEFT_OUT
    duration: Annotated[_Stated | NotStated | None, Written(str, list, dict), _DURATION] = LEFT_OUT


@dataclass(frozen=True, kw_only=True)
class NewItem(ItemChange):
    """What a new item is to be."""

    # Required here: `field()` takes the place of the default of a change.
    phase_id: _Phase = field()
    code: _Code = field()
    name: _Name = field()


@dataclass(frozen=True, kw_only=True)
class OneOfChanges(ItemChange, AtVersion):
    """A change of one item among several, or its removal."""

    removed: Annotated[bool, YesNo(), "True to delete it."] = False


@dataclass(frozen=True, kw_only=True)
class ItemAdditions:
    """Several new items, all of them or none."""

    items: Annotated[Sequence[NewItem], several(NewItem, 1, MOST_AT_ONCE)]


@dataclass(frozen=True, kw_only=True)
class ItemChanges:
    """Several changes, all of them or none."""

    items: Annotated[Sequence[OneOfChanges], several(OneOfChanges, 1, MOST_AT_ONCE)]


@dataclass(frozen=True, kw_only=True)
class ItemOrder:
    """All items of a phase, as they are to stand."""

    items: Annotated[Sequence[AtVersion], several(AtVersion, 1, MOST_IN_ORDER)]


@dataclass(frozen=True, kw_only=True)
class ItemQuery(PageQuery):
    """Which items are listed."""

    phase: Annotated[UUID | None, Id(), "Id of a phase."] = None
    assembly: Annotated[str | None, Words(NAME_LENGTH), "Code of an assembly."] = None
    search: Annotated[str | None, Words(NAME_LENGTH), _SEARCH] = None


class ItemAnswer(Answer):
    """One priced piece of work."""

    id = ma.fields.UUID(required=True)
    phase_id = ma.fields.UUID(required=True)
    cost_code = ma.fields.String(required=True, metadata={"description": "Such as 20.010."})
    code = ma.fields.String(required=True)
    name = ma.fields.String(required=True)
    assembly = ma.fields.String(required=True)
    inputs = ma.fields.Dict(required=True)
    crew = ma.fields.String(required=True, allow_none=True)
    element = ma.fields.String(required=True, allow_none=True)
    note = ma.fields.String(required=True, allow_none=True)
    level = ma.fields.Dict(required=True, allow_none=True)
    opening = ma.fields.Dict(required=True, allow_none=True)
    delays = ma.fields.Dict(required=True, allow_none=True)
    methods = ma.fields.List(ma.fields.Dict(), required=True, allow_none=True)
    method = ma.fields.String(required=True, allow_none=True)
    subcontract = ma.fields.Dict(required=True, allow_none=True)
    lump_sum = ma.fields.Dict(required=True, allow_none=True)
    allowance = ma.fields.Dict(required=True, allow_none=True)
    alternate = ma.fields.String(required=True, allow_none=True)
    risk = ma.fields.Dict(required=True, allow_none=True)
    after = ma.fields.Raw(required=True, allow_none=True)
    wait = ma.fields.Raw(required=True, allow_none=True)
    starts_with = ma.fields.Raw(required=True, allow_none=True)
    along = ma.fields.Raw(required=True, allow_none=True)
    duration = ma.fields.Raw(required=True, allow_none=True)
    version = Whole(1, HIGHEST_POSITION, required=True)


class ItemsAnswer(Answer):
    """Items that were added, changed or put in order; deleted ones are left out."""

    items = ma.fields.List(ma.fields.Nested(ItemAnswer), required=True)


class ItemPage(Page):
    """Some items, phase by phase, in their order."""

    items = ma.fields.List(ma.fields.Nested(ItemAnswer), required=True)
