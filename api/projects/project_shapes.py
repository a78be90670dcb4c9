"""Shapes of projects as the service takes and tells them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Annotated, Any
from uuid import UUID

import marshmallow as ma

from api.contract.commands import LEFT_OUT, NotStated
from api.contract.example_ids import RATE_SET
from api.contract.fields import Day, Id, Moment, Whole, Words
from api.contract.lists import Page
from api.contract.schemas import Answer, ListOf
from api.projects.written_fields import Written
from api.store.models.base import CODE_LENGTH, HIGHEST_POSITION, NAME_LENGTH

SENTENCE_LENGTH = 500
MOST_MARKUPS, MOST_SENTENCES = 100, 500

EXAMPLE_PROJECT: dict[str, Any] = {
    "name": "Harrow Lane Carbarn (invented)",
    "address": "14 Harrow Lane (invented)",
    "revision": "B",
    "pricing_date": "2026-03-02",
    "shift": "8 hr/day",
    "day_worth": "$310/day",
    "markups": None,
    "assumptions": ["Pits are dry."],
    "calendar": {"start": "2026-04-06", "holidays": "OH"},
    "crew": {"laborer": "3", "skid-steer": "1"},
    "risk": {"quantity": ["95 %", "112 %"], "pace": ["75 %", "110 %"]},
    "rate_set_id": RATE_SET,
}
EXAMPLE_CHANGE: dict[str, Any] = {"shift": "10 hr/day", "day_worth": None}

_TITLE = "For the title of the printed estimate; null for none."
_SHIFT = "Length of the working day, 1 to 24 hr/day; null for the usual 8 hr/day."
_DAY_WORTH = "What finishing a day sooner is worth, such as $310/day."
_MARKUPS = "Codes of the markups that apply; null for all in the tables."
_CALENDAR = "First day, week, holidays, days off and weather, as docs/schedule.md describes them."
_CREW = "How many there are, where they are limited: {laborer: 3, skid-steer: 1}."
_RISK = "How sure the figures are, as docs/ranges.md describes it."
_ALTERNATES = "Work to be decided later, as docs/scope-file.md describes it."
_RATE_SET = "Rate set whose newest published version is laid over the shipped rates."


_Name = Annotated[str, Words(NAME_LENGTH)]
_Title = Annotated[str | None, Words(NAME_LENGTH), _TITLE]
_Codes = ListOf(Words(CODE_LENGTH), 0, MOST_MARKUPS)
_Sentences = ListOf(Words(SENTENCE_LENGTH), 0, MOST_SENTENCES)
_RateSet = Annotated[UUID | None, Id(allow_none=True), _RATE_SET]


@dataclass(frozen=True, kw_only=True)
class ProjectChange:
    """What may be changed of a project; what is left out stays, and null says nothing."""

    name: _Name | NotStated = LEFT_OUT
    address: _Title | NotStated = LEFT_OUT
    prepared_for: _Title | NotStated = LEFT_OUT
    prepared_by: _Title | NotStated = LEFT_OUT
    revision: _Title | NotStated = LEFT_OUT
    pricing_date: Annotated[date | NotStated | None, Day(), "Null for the day of pricing."] = (
        LEFT_OUT
    )
    shift: Annotated[str | NotStated | None, Words(CODE_LENGTH), _SHIFT] = LEFT_OUT
    day_worth: Annotated[str | NotStated | None, Words(CODE_LENGTH), _DAY_WORTH] = LEFT_OUT
    markups: Annotated[Sequence[str] | NotStated | None, _Codes, _MARKUPS] = LEFT_OUT
    assumptions: Annotated[Sequence[str] | NotStated, _Sentences] = LEFT_OUT
    calendar: Annotated[Mapping[str, Any] | NotStated | None, Written(dict), _CALENDAR] = LEFT_OUT
    crew: Annotated[Mapping[str, Any] | NotStated | None, Written(dict), _CREW] = LEFT_OUT
    risk: Annotated[Mapping[str, Any] | NotStated | None, Written(dict), _RISK] = LEFT_OUT
    alternates: Annotated[Sequence[Any] | NotStated | None, Written(list), _ALTERNATES] = LEFT_OUT
    rate_set_id: _RateSet | NotStated = LEFT_OUT


@dataclass(frozen=True, kw_only=True)
class NewProject(ProjectChange):
    """What a new project is to be."""

    # Required here: `field()` takes the place of the default of a change.
    name: _Name = field()
    rate_set_id: _RateSet = None


class ProjectAnswer(Answer):
    """A project: the head of its scope."""

    id = ma.fields.UUID(required=True)
    name = ma.fields.String(required=True)
    address = ma.fields.String(required=True, allow_none=True)
    prepared_for = ma.fields.String(required=True, allow_none=True)
    prepared_by = ma.fields.String(required=True, allow_none=True)
    revision = ma.fields.String(required=True, allow_none=True)
    pricing_date = Day(required=True, allow_none=True)
    shift = ma.fields.String(required=True, allow_none=True)
    day_worth = ma.fields.String(required=True, allow_none=True)
    markups = ma.fields.List(ma.fields.String(), required=True, allow_none=True)
    assumptions = ma.fields.List(ma.fields.String(), required=True)
    calendar = ma.fields.Dict(required=True, allow_none=True)
    crew = ma.fields.Dict(required=True, allow_none=True)
    risk = ma.fields.Dict(required=True, allow_none=True)
    alternates = ma.fields.List(ma.fields.Dict(), required=True, allow_none=True)
    rate_set_id = ma.fields.UUID(required=True, allow_none=True)
    created_at = Moment(required=True)
    version = Whole(1, HIGHEST_POSITION, required=True)

    @ma.pre_dump
    def _nothing_as_null(self, row: Any, **_: Any) -> dict[str, Any]:
        fields = {name: getattr(row, name) for name in self.fields}
        return fields | {name: fields[name] or None for name in ("shift", "day_worth")}


class ProjectOfCrew(ProjectAnswer):
    """A project without what is money in it, or may be."""

    @ma.post_dump
    def _without_money(self, fields: dict[str, Any], **_: Any) -> dict[str, Any]:
        nothing = ("day_worth", "markups", "risk", "alternates", "rate_set_id")
        return fields | dict.fromkeys(nothing) | {"assumptions": []}


class ProjectPage(Page):
    """Some projects, newest first."""

    projects = ma.fields.List(ma.fields.Nested(ProjectAnswer), required=True)
