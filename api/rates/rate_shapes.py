"""Shapes of rate sets, their versions, and the tables that are sent whole."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any
from uuid import UUID

import marshmallow as ma

from api.calculations.scope_shapes import QuotesField
from api.contract.example_ids import PUBLISHED
from api.contract.fields import Id, Moment, Whole, Words
from api.contract.lists import Page
from api.contract.schemas import Answer
from api.store.models.base import HIGHEST_POSITION, NAME_LENGTH

NOTE_LENGTH = 500

_RESOURCES = (
    "code,name,kind,unit,rate,low,high,date,valid_until,paid,source,note\n"
    "stone-ballast,Ballast stone,material,ton,31.00,,,2026-02-10,,yes,invented quote,\n"
)
EXAMPLE_SET: dict[str, Any] = {"name": "Valley suppliers (invented)"}
EXAMPLE_DRAFT: dict[str, Any] = {"from_version": PUBLISHED, "note": "Spring prices"}
EXAMPLE_NOTE: dict[str, Any] = {"note": "Spring prices, second round"}
EXAMPLE_TABLES: dict[str, Any] = {"tables": {"resources.csv": _RESOURCES}}

_FROM = "Version of the set whose rows the draft starts with, to change or to restore it."
_AGAINST = "Id of another version, 'previous' (the published one before) or 'shipped'."


@dataclass(frozen=True, kw_only=True)
class NamedSet:
    """What a rate set is called."""

    name: Annotated[str, Words(NAME_LENGTH)]


class RateSetAnswer(Answer):
    """A set of rate tables of one's own, laid over the shipped ones."""

    id = ma.fields.UUID(required=True)
    name = ma.fields.String(required=True)
    created_at = Moment(required=True)
    version = Whole(1, HIGHEST_POSITION, required=True)


class RateSetPage(Page):
    """Some rate sets, by name."""

    rate_sets = ma.fields.List(ma.fields.Nested(RateSetAnswer), required=True)


@dataclass(frozen=True, kw_only=True)
class NewDraft:
    """What a draft begins with: another version's rows, tables, or nothing."""

    from_version: Annotated[UUID | None, Id(), _FROM] = None
    tables: Annotated[Mapping[str, str] | None, QuotesField()] = None
    note: Annotated[str, Words(NOTE_LENGTH)] = ""


@dataclass(frozen=True, kw_only=True)
class NewNote:
    """What is said of a version."""

    note: Annotated[str, Words(NOTE_LENGTH)]


@dataclass(frozen=True, kw_only=True)
class NewTables:
    """Tables in the place of all rows: texts of CSV by file name."""

    tables: Annotated[Mapping[str, str], QuotesField()]


class TablesAnswer(Answer):
    """Tables as texts of CSV by file name."""

    tables = ma.fields.Dict(keys=ma.fields.String(), values=ma.fields.String(), required=True)


class VersionAnswer(Answer):
    """A version of a rate set: a draft, or published and final."""

    id = ma.fields.UUID(required=True)
    number = Whole(1, HIGHEST_POSITION, required=True)
    note = ma.fields.String(required=True)
    created_at = Moment(required=True)
    published_at = Moment(required=True, allow_none=True)
    row_count = Whole(0, HIGHEST_POSITION, required=True)
    content_digest = ma.fields.String(required=True)
    version = Whole(1, HIGHEST_POSITION, required=True)


class VersionPage(Page):
    """Some versions of a rate set, newest first."""

    versions = ma.fields.List(ma.fields.Nested(VersionAnswer), required=True)


@dataclass(frozen=True, kw_only=True)
class RatesDifferenceQuery:
    """What a version is compared with."""

    against: Annotated[str, Words(40), _AGAINST] = "previous"


class RatesDifferenceAnswer(Answer):
    """What changed between two stacks of tables, row by row, as pricing would see it."""

    form = Whole(1, 1, required=True)
    before = ma.fields.Dict(required=True)
    after = ma.fields.Dict(required=True)
    changes = ma.fields.List(ma.fields.Dict(), required=True)
