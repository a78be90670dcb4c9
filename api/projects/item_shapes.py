"""Shapes of items as the service takes and tells them."""

from __future__ import annotations

from typing import Any, ClassVar

import marshmallow as ma

from api.contract.commands import Command
from api.contract.example_ids import ITEM, PHASE, SECOND_ITEM
from api.contract.fields import Id, Whole, Words
from api.contract.lists import Page, PageQuery
from api.contract.schemas import Answer, ListOf, Part
from api.projects import commands
from api.projects.sequence import MOST_IN_ORDER, AtVersion
from api.projects.written_fields import Written, YesNo
from api.store.models.base import CODE_LENGTH, HIGHEST_POSITION, NAME_LENGTH, NOTE_LENGTH

MOST_AT_ONCE = 1_000

EXAMPLE_ITEM: dict[str, Any] = {
    "phase_id": PHASE,
    "code": "050",
    "name": "Stone fill, west pit",
    "assembly": "stone-fill-skid-steer",
    "inputs": {"length": "62 ft 6 in", "width": "22'-4\"", "depth": ["1 ft", "7 ft 3 in"]},
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
_METHODS = "Other ways to do the work, as docs/choosing-a-method.md describes them."
_RISK = "How far quantity and pace may come out differently, as docs/ranges.md describes it."
_CREW = "Another crew than the assembly's."
_ELEMENT = "Another UNIFORMAT II element than the assembly's."


class _Work(Command):
    inputs = Written(dict, meaning=_INPUTS)
    crew = Words(CODE_LENGTH, allow_none=True, metadata={"description": _CREW})
    element = Words(CODE_LENGTH, allow_none=True, metadata={"description": _ELEMENT})
    note = Words(NOTE_LENGTH, allow_none=True)
    methods = Written(list, meaning=_METHODS, allow_none=True)
    risk = Written(dict, meaning=_RISK, allow_none=True)


class ItemAsked(_Work):
    """What a new item is to be."""

    makes = commands.NewItem
    phase_id = Id(required=True)
    code = Words(CODE_LENGTH, required=True, metadata={"description": "Such as 010."})
    name = Words(NAME_LENGTH, required=True)
    assembly = Words(NAME_LENGTH, required=True, metadata={"description": "Code of its assembly."})


class ItemChange(_Work):
    """What may be changed of an item; what is left out stays."""

    makes: ClassVar[Any] = commands.ItemChange
    phase_id = Id()
    code = Words(CODE_LENGTH)
    name = Words(NAME_LENGTH)
    assembly = Words(NAME_LENGTH)


class OneOfChanges(ItemChange):
    """A change of one item, or its removal."""

    makes: ClassVar[Any] = commands.OneOfChanges
    id = Id(required=True)
    version = Whole(1, HIGHEST_POSITION, required=True)
    removed = YesNo(metadata={"description": "Whether it goes."})


class ItemAdditions(Command):
    """Several new items, all of them or none."""

    makes = commands.ItemAdditions
    items = ListOf(Part(ItemAsked), 1, MOST_AT_ONCE, required=True)


class ItemChanges(Command):
    """Several changes, all of them or none."""

    makes = commands.ItemChanges
    items = ListOf(Part(OneOfChanges), 1, MOST_AT_ONCE, required=True)


class ItemOrder(Command):
    """All items of a phase, as they are to stand."""

    makes = commands.ItemOrder
    items = ListOf(Part(AtVersion), 1, MOST_IN_ORDER, required=True)


class ItemQuery(PageQuery):
    """Which items are listed."""

    phase = Id(metadata={"description": "Id of a phase."})
    assembly = Words(NAME_LENGTH, metadata={"description": "Code of an assembly."})
    search = Words(
        NAME_LENGTH,
        metadata={"description": "Part of code, name or note; of a to z, either case."},
    )


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
    methods = ma.fields.List(ma.fields.Dict(), required=True, allow_none=True)
    risk = ma.fields.Dict(required=True, allow_none=True)
    version = Whole(1, HIGHEST_POSITION, required=True)


class ItemsAnswer(Answer):
    """Items that were added, changed or put in order; deleted ones are left out."""

    items = ma.fields.List(ma.fields.Nested(ItemAnswer), required=True)


class ItemPage(Page):
    """Some items, phase by phase, in their order."""

    items = ma.fields.List(ma.fields.Nested(ItemAnswer), required=True)
