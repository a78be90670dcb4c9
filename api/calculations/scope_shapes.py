"""Shapes of what is priced and compared, and of the estimates and comparisons that come back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any

import marshmallow as ma

from api.contract.bodies import check_how_many
from api.contract.commands import schema_of, several
from api.contract.fields import (
    Choice,
    Day,
    Figure,
    Fraction,
    Money,
    Whole,
    Words,
)
from api.contract.schemas import Answer, Part
from estimator.rates.kinds import SALES_WORDS

MOST_OF_ONE, MOST_RESOURCES = 1_000, 50
LONGEST_TEXT = 10_000_000
MOST_VARIED = 2
MEASURE_LENGTH = 60
MOST_PLACED = 5_000
LARGEST_SEED = 2**32 - 1
DEFAULT_SEED = 1906
FEWEST_ITERATIONS, MOST_ITERATIONS = 100, 10_000

_SCOPE_MEANING = (
    "The scope: the text of a YAML file, or the same as an object. docs/scope-file.md describes it."
)
_CREW = "How many there are, where hands or machines are limited; overrides the scope."
_WEEK = "Days and hours of work, such as 4 days of 10 hr; overrides what the scope says."
_BUDGET = "A budget, for the chance of staying within it."
_CONFIDENCE = "Chance that the contingency is enough, above 0 and below 1."


class ScopeField(ma.fields.Field[Any]):
    """A scope as YAML text, or as an object with the same keys."""

    default_error_messages = {  # noqa: RUF012
        "required": "is missing",
        "null": "is null; give a scope",
    }

    def __init__(self, **options: Any) -> None:
        kinds = [{"type": "string", "minLength": 1}, {"type": "object", "minProperties": 1}]
        metadata = {"oneOf": kinds, "description": _SCOPE_MEANING}
        super().__init__(metadata=metadata, **options)

    def _deserialize(self, value: Any, *_: Any, **__: Any) -> Any:
        if isinstance(value, str | dict) and value:
            return value
        raise ma.ValidationError("is not a scope; give the text of a YAML file, or an object")


class QuotesField(ma.fields.Field[Any]):
    """Tables that are laid over the shipped ones: texts of CSV by file name."""

    def __init__(self, **options: Any) -> None:
        described = "CSV text by file name; docs/rate-tables.md describes it."
        texts = {"type": "object", "additionalProperties": {"type": "string"}}
        super().__init__(metadata={**texts, "description": described}, **options)

    def _deserialize(self, value: Any, *_: Any, **__: Any) -> Any:
        if isinstance(value, dict) and all(isinstance(text, str) for text in value.values()):
            rows = sum(len(text.splitlines()[1:]) for text in value.values())
            check_how_many(rows, "set of tables", "rows")
            return value
        raise ma.ValidationError("is not a set of texts; give {'resources.csv': 'code,name,...'}")


class CountsField(ma.fields.Field[Any]):
    """How many there are of each resource: `{"laborer": 3}`."""

    def __init__(self, **options: Any) -> None:
        count = {"type": "integer", "minimum": 1, "maximum": MOST_OF_ONE}
        kind = {"type": "object", "additionalProperties": count, "maxProperties": MOST_RESOURCES}
        super().__init__(metadata={**kind, "description": _CREW}, **options)

    def _deserialize(self, value: Any, *_: Any, **__: Any) -> Any:
        if isinstance(value, dict) and len(value) <= MOST_RESOURCES:
            counts = value.values()
            if all(type(one) is int and 1 <= one <= MOST_OF_ONE for one in counts):
                return value
        raise ma.ValidationError("is not a set of whole numbers; give {'laborer': 3}")


@dataclass(frozen=True, kw_only=True)
class DatesToWorkOut:
    """From which day, in what week, with how many of whom; else it is as the scope says."""

    start: Annotated[date | None, Day(), "First day of work."] = None
    week: Annotated[str | None, Words(MEASURE_LENGTH), _WEEK] = None
    crew: Annotated[Mapping[str, int] | None, CountsField()] = None


@dataclass(frozen=True, kw_only=True)
class ScopeToPrice(DatesToWorkOut):
    """A scope, the tables and the date to price it at, and what goes before its times."""

    scope: Annotated[str | dict[str, Any], ScopeField()]
    quotes: Annotated[Mapping[str, str] | None, QuotesField()] = None
    on: Annotated[date | None, Day(), "Pricing date; else the scope's own, else today."] = None


@dataclass(frozen=True, kw_only=True)
class RangesToDraw:
    """How sure one wants to be."""

    confidence: Annotated[Decimal, Fraction(), _CONFIDENCE] = Decimal("0.8")
    seed: Annotated[int, Whole(0, LARGEST_SEED)] = DEFAULT_SEED
    iterations: Annotated[int, Whole(FEWEST_ITERATIONS, MOST_ITERATIONS)] = MOST_ITERATIONS
    budget: Annotated[Decimal | None, Money(), _BUDGET] = None


@dataclass(frozen=True, kw_only=True)
class ScopeWithRisk(ScopeToPrice, RangesToDraw):
    """A scope to price, and how sure one wants to be."""


@dataclass(frozen=True, kw_only=True)
class FileOfDates:
    """A file that shows dates."""

    form: Annotated[
        str,
        Choice("svg", "png", "xlsx", "ics", "pdf"),
        "svg, png: the bar chart; xlsx: the same in cells; ics: a calendar; pdf: two weeks.",
    ]
    first: Annotated[
        date | None, Day(), "First day of the two weeks; the first day of the job if left out."
    ] = None


@dataclass(frozen=True, kw_only=True)
class ScopeToShow(ScopeToPrice, FileOfDates):
    """A scope, how its dates are worked out, and the file that shows them."""


@dataclass(frozen=True, kw_only=True)
class DatesToShow(DatesToWorkOut, FileOfDates):
    """How dates are worked out, and the file that shows them."""


@dataclass(frozen=True, kw_only=True)
class FileQuery:
    """How a file is priced."""

    on: Annotated[date | None, Day()] = None


@dataclass(frozen=True, kw_only=True)
class VariedValue:
    """A value that a comparison changes, over a range."""

    name: Annotated[str, Words(MEASURE_LENGTH)]
    low: Annotated[str, Words(MEASURE_LENGTH)] = ""
    high: Annotated[str, Words(MEASURE_LENGTH)] = ""


@dataclass(frozen=True, kw_only=True)
class PlacedSoFar:
    """Work that is done: how much, on how many days, by which method."""

    quantity: Annotated[
        str, Words(MOST_PLACED), "Day by day, '38 ton; 46 ton', or in all, '400 ton in 9 days'."
    ]
    by: Annotated[str, Words(MEASURE_LENGTH), "Method that placed it, or a part of its name."]
    switch: Annotated[Decimal, Money(), "What switching methods costs [$]."] = Decimal(0)


@dataclass(frozen=True, kw_only=True)
class MethodsToCompare:
    """The item whose methods are compared, and over what."""

    item: Annotated[str, Words(40), "Cost code, such as 30.020."]
    day_worth: Annotated[Decimal | None, Money(), "Value of finishing a day sooner [$]."] = None
    vary: Annotated[Sequence[VariedValue], several(VariedValue, 0, MOST_VARIED)] = ()
    placed: Annotated[PlacedSoFar | None, Part(schema_of(PlacedSoFar))] = None


@dataclass(frozen=True, kw_only=True)
class ScopeToCompare(ScopeToPrice, MethodsToCompare):
    """A scope, and the item whose methods are compared."""


class TotalsAnswer(Answer):
    """Totals of an estimate [$]."""

    direct_cost = Figure(required=True)
    cash_cost = Figure(required=True)
    own_value = Figure(required=True)
    full_cost = Figure(required=True)
    salvage_sales = Figure(required=True, metadata={"description": SALES_WORDS + "."})


class EstimateAnswer(Answer):
    """An estimate, as docs/estimate-json.md describes it."""

    form = Whole(1, 1, required=True)
    made_with = ma.fields.String(required=True)
    project = ma.fields.String(required=True)
    title_block = ma.fields.Dict(required=True)
    on = Day(required=True)
    shift = ma.fields.String(required=True)
    digest = ma.fields.String(required=True)
    scope_digest = ma.fields.String(required=True)
    lines_digest = ma.fields.String(required=True)
    tables = ma.fields.Dict(required=True)
    totals = Part(TotalsAnswer, required=True)
    rests_on = ma.fields.Dict(required=False)
    alternates = ma.fields.List(ma.fields.Dict(), required=False)
    markups = ma.fields.List(ma.fields.Dict(), required=True)
    by_phase = ma.fields.List(ma.fields.Dict(), required=True)
    by_kind = ma.fields.Dict(required=True)
    by_element = ma.fields.Dict(required=True)
    by_credit = ma.fields.Dict(required=True)
    labor_hours = ma.fields.Dict(required=True)
    machine_days = ma.fields.Dict(required=True)
    machine_hours = ma.fields.Dict(required=True)
    planning_quantities = ma.fields.Dict(required=True)
    own_material = ma.fields.List(ma.fields.Dict(), required=True)
    items = ma.fields.List(ma.fields.Dict(), required=True)
    lines = ma.fields.List(ma.fields.Dict(), required=True)
    rates = ma.fields.List(ma.fields.Dict(), required=True)
    decimals = ma.fields.Dict(required=True)
    warnings = ma.fields.List(ma.fields.String(), required=True)
    cautions = ma.fields.List(ma.fields.Dict(), required=True)
    assumptions = ma.fields.List(ma.fields.String(), required=True)


class RiskAnswer(EstimateAnswer):
    """An estimate with how sure it is, as docs/ranges.md describes it."""

    risk = ma.fields.Dict(required=True)


class ScheduleAnswer(Answer):
    """The dates of a job, as docs/schedule.md describes them."""

    project = ma.fields.String(required=True)
    start = Day(required=True)
    finish = Day(required=True)
    days = Figure(required=True)
    at_least_days = Figure(required=True)
    path_days = Figure(required=True)
    is_proven = ma.fields.Boolean(required=True)
    gap = Figure(required=True)
    calendar = ma.fields.Dict(required=True)
    crew = ma.fields.Dict(required=True)
    chain = ma.fields.List(ma.fields.String(), required=True)
    phases = ma.fields.List(ma.fields.Dict(), required=True)
    items = ma.fields.List(ma.fields.Dict(), required=True)
    on_site = ma.fields.List(ma.fields.Dict(), required=True)
    one_more = ma.fields.List(ma.fields.Dict(), required=True)


class ComparisonAnswer(Answer):
    """A comparison, as docs/choosing-a-method.md describes it."""

    form = Whole(2, 2, required=True)
    methods = ma.fields.List(ma.fields.Dict(), required=True)
