"""Shapes of what can be looked up in rate tables: assemblies and resources."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any
from uuid import UUID

import marshmallow as ma

from api.contract.fields import Choice, Day, Figure, Id, Moment, Whole, Words
from api.contract.lists import Page, PageQuery
from api.contract.schemas import Answer
from api.store.models.base import CODE_LENGTH, HIGHEST_POSITION, NAME_LENGTH

# As estimator/rates/resources.py has them, which is not imported before it is needed.
KINDS = (
    "labor", "material", "equipment", "consumable", "haul", "disposal", "subcontract", "fee",
    "interest", "salvage",
)  # fmt: skip

_PROJECT = "Tables this project is priced with: shipped, its rate set, its quotes."
_VERSION = "Tables with this version of a rate set laid over the shipped ones."
_SEARCH = "Part of a code or name; capitals do not matter."


@dataclass(frozen=True, kw_only=True)
class TablesQuery:
    """In which tables something is looked up; without either, in those that ship."""

    project: Annotated[UUID | None, Id(), _PROJECT] = None
    version: Annotated[UUID | None, Id(), _VERSION] = None


@dataclass(frozen=True, kw_only=True)
class LookupQuery(PageQuery, TablesQuery):
    """Which assemblies or resources are listed."""

    search: Annotated[str | None, Words(NAME_LENGTH), _SEARCH] = None

    def names(self, code: str, name: str) -> bool:
        """Whether one of this code and name is among what is searched for."""
        return (self.search or "").casefold() in f"{code}\n{name}".casefold()


@dataclass(frozen=True, kw_only=True)
class AssemblyQuery(LookupQuery):
    """Which assemblies are listed."""

    unit: Annotated[str | None, Words(CODE_LENGTH)] = None


@dataclass(frozen=True, kw_only=True)
class ResourceQuery(LookupQuery):
    """Which resources are listed, and at the rates of which day."""

    kind: Annotated[str | None, Choice(*KINDS)] = None
    on: Annotated[date | None, Day(), "Date of the rates; today if left out."] = None


@dataclass(frozen=True, kw_only=True)
class SearchQuery(TablesQuery):
    """What is searched for, and at the rates of which day."""

    words: Annotated[str, Words(NAME_LENGTH), "Words or parts of words; every one must match."]
    on: Annotated[date | None, Day(), "Date of the prices; today if left out."] = None


def _formula(name: str, **options: Any) -> ma.fields.String:
    """Return the field of a formula's text; null where an assembly has none of that name."""
    return ma.fields.String(required=True, attribute=f"{name}.text", dump_default=None, **options)


class AssemblyHead(Answer):
    """An assembly in a list."""

    code = ma.fields.String(required=True)
    name = ma.fields.String(required=True)
    unit = ma.fields.String(required=True, attribute="unit.name")
    crew = ma.fields.String(required=True)


class AssemblyInputAnswer(Answer):
    """A name that the formulas of an assembly use: entered, with a default, or worked out."""

    name = ma.fields.String(required=True)
    unit = ma.fields.String(required=True, attribute="unit.name")
    meaning = ma.fields.String(required=True)
    is_required = ma.fields.Boolean(required=True)
    default = Figure(required=True, allow_none=True)
    least = Figure(required=True, allow_none=True)
    most = Figure(required=True, allow_none=True)
    formula = _formula("formula", allow_none=True)
    source = ma.fields.String(required=True)


class AssemblyLineAnswer(Answer):
    """A resource that an assembly uses; first the members of its crew."""

    resource = ma.fields.String(required=True)
    unit = ma.fields.String(required=True)
    need = _formula("formula")
    waste = _formula("waste", allow_none=True)
    order_multiple = _formula("order_multiple", allow_none=True)
    minimum = _formula("minimum", allow_none=True)
    ordered_per = ma.fields.String(required=True)
    is_crew = ma.fields.Boolean(required=True)


class AssemblyCaution(Answer):
    """A caution that belongs to the work."""

    code = ma.fields.String(required=True)
    caution = ma.fields.String(required=True)
    defer_to = ma.fields.String(required=True)
    source = ma.fields.String(required=True)


class AssemblyAnswer(AssemblyHead):
    """An assembly with what it asks for and uses."""

    quantity = _formula("quantity")
    element = ma.fields.String(required=True)
    credit = ma.fields.String(required=True)
    source = ma.fields.String(required=True)
    tables = ma.fields.String(
        required=True,
        attribute="origin.tables",
        metadata={"description": "Tables that it comes from."},
    )
    inputs = ma.fields.List(ma.fields.Nested(AssemblyInputAnswer), required=True)
    lines = ma.fields.List(ma.fields.Nested(AssemblyLineAnswer), required=True)
    cautions = ma.fields.List(ma.fields.Nested(AssemblyCaution), required=True)


class AssemblyPage(Page):
    """Some assemblies, by code."""

    assemblies = ma.fields.List(ma.fields.Nested(AssemblyHead), required=True)


class AssemblyVersion(Answer):
    """A published version of a rate set in which an assembly became another."""

    version_id = ma.fields.UUID(required=True)
    number = Whole(1, HIGHEST_POSITION, required=True)
    published_at = Moment(required=True)
    manner = Choice("added", "changed", "removed", required=True)


class AssemblyVersionsAnswer(Answer):
    """The versions of a rate set in which an assembly became another, newest first."""

    versions = ma.fields.List(ma.fields.Nested(AssemblyVersion), required=True)


class SearchPrice(Answer):
    """What one unit costs on the day."""

    amount = Figure(required=True)
    unit = ma.fields.String(required=True)
    paid = ma.fields.Boolean(required=True)


class SearchMatch(Answer):
    """An assembly, resource, crew or caution that has the words in it."""

    sort = Choice("assembly", "resource", "crew", "caution", required=True)
    code = ma.fields.String(required=True)
    words = ma.fields.String(required=True)
    unit = ma.fields.String(required=True)
    prices = ma.fields.List(ma.fields.Nested(SearchPrice), required=True)


class SearchAnswer(Answer):
    """All that has the words in it, with the prices of a day."""

    on = Day(required=True)
    matches = ma.fields.List(ma.fields.Nested(SearchMatch), required=True)


class ResourceRateAnswer(Answer):
    """What a resource costs on a day, and the row that says so."""

    code = ma.fields.String(required=True)
    name = ma.fields.String(required=True)
    kind = ma.fields.String(required=True)
    unit = ma.fields.String(required=True, attribute="unit.name")
    rate = Figure(required=True)
    low = Figure(required=True, allow_none=True)
    high = Figure(required=True, allow_none=True)
    date = Day(required=True, attribute="set_on")
    valid_until = Day(required=True, allow_none=True)
    paid = ma.fields.Boolean(required=True, attribute="is_paid")
    source = ma.fields.String(required=True)
    note = ma.fields.String(required=True)
    rate_row = ma.fields.String(required=True, attribute="origin")


class ResourcePage(Page):
    """Some resources, by code, at the rates of a day."""

    on = Day(required=True)
    resources = ma.fields.List(ma.fields.Nested(ResourceRateAnswer), required=True)
