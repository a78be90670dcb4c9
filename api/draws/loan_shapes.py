"""What the terms of a loan say when it is posted, and how a file of terms is read."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, fields, make_dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any, get_type_hints

import marshmallow as ma

from api.contract.commands import LEFT_OUT, schema_of, several
from api.contract.fields import Choice, Day, DecimalText, Money, Whole, Words, YesNo
from api.contract.schemas import Answer, ListOf, Part
from api.draws.loan_presets import PRESETS
from api.ledger.entry_fields import Amount, Name, rows_named
from api.store.models.base import CODE_LENGTH, HIGHEST_POSITION, NAME_LENGTH, NOTE_LENGTH

MOST_LINES, MOST_CODES, MOST_ROWS = 300, 1_000, 1_000
BASES = ("cost", "percent", "lesser")
DAY_COUNTS = ("actual/360", "actual/365", "30/360", "30/360, end of February as 30", "30E/360")

EXAMPLE_AMENDMENT: dict[str, Any] = {
    "since": "2026-03-02",
    "reason": "letter of the bank, signed by both: four months more",
    "terms": {"ends": "2027-06-01", "smallest_draw": "2500.00"},
}
EXAMPLE_LOAN: dict[str, Any] = {
    "lender": "Canal Street Bank (invented)",
    "commitment": "100000.00",
    "equity": "60000.00",
    "closed": "2026-02-01",
    "ends": "2027-02-01",
    "costs_from": "2026-01-15",
    "rates": [{"since": "2026-02-01", "percent": "8.75"}],
    "no_waiver_from": ["City permit office"],
    "lines": [
        {"line": "1", "name": "Pits filled", "codes": ["30"]},
        {"line": "2", "name": "Slab", "codes": ["50"]},
        {"line": "3", "name": "Overhead", "kind": "soft", "codes": ["*"]},
        {"line": "4", "name": "Contingency", "kind": "contingency", "codes": ["contingency"]},
    ],
}


class Percent(DecimalText):
    """A percent from 0 to 100, with four decimals."""

    def __init__(self, **options: Any) -> None:
        super().__init__(3, 4, most="100", **options)


@dataclass(frozen=True, kw_only=True)
class Rate:
    """The rate from a day on."""

    since: Annotated[date, Day()]
    percent: Annotated[Decimal, Percent(), "Interest a year."]


@dataclass(frozen=True, kw_only=True)
class Reduction:
    """When less is held back."""

    effect: Annotated[str, Choice("stop", "new work", "everything")]
    reached_percent: Annotated[Decimal, Percent(), "Percent of the scheduled value."] = Decimal(50)
    more_than: Annotated[bool, YesNo(), "True if it applies above that percent, not at it."] = False
    reduced_percent: Annotated[Decimal, Percent()] = Decimal(0)
    of: Annotated[str, Choice("line", "whole")] = "line"
    counts: Annotated[str, Choice("work", "work and stored")] = "work"


@dataclass(frozen=True, kw_only=True)
class Retainage:
    """What is held back."""

    work_percent: Annotated[Decimal, Percent()] = Decimal(10)
    stored_percent: Annotated[Decimal, Percent()] = Decimal(10)
    reduction: Annotated[Reduction | None, Part(schema_of(Reduction))] = None


@dataclass(frozen=True, kw_only=True)
class EvidenceWanted:
    """A paper that the lender wants to see."""

    kind: Name
    each_draw: Annotated[bool, YesNo(), "True if each draw needs one of its own."] = False


@dataclass(frozen=True, kw_only=True)
class Share:
    """A part of a cost code."""

    code: Annotated[str, Words(CODE_LENGTH)]
    share: Annotated[Decimal, DecimalText(9, 6, above="0"), "Such as 0.5."]


@dataclass(frozen=True, kw_only=True)
class NewLine:
    """A line of the lender's schedule."""

    line: Annotated[str, Words(CODE_LENGTH)]
    name: Name
    kind: Annotated[str, Choice("work", "soft", "contingency", "interest")] = "work"
    codes: Annotated[
        Sequence[str],
        ListOf(Words(CODE_LENGTH), 0, MOST_CODES),
        "Cost codes, phases, or * for the rest.",
    ] = ()
    shares: Annotated[
        Sequence[Share], several(Share, 0, MOST_CODES), "Shares of codes that are in several lines."
    ] = ()
    amount: Annotated[Decimal | None, Money(), "Sum of an interest reserve without codes."] = None
    basis: Annotated[str, Choice(*BASES), "If left out, the loan's; for a soft cost, cost."] = ""


@dataclass(frozen=True, kw_only=True)
class NewLoan:
    """The terms of a loan and the lender's schedule; what is left out is the default."""

    lender: Name
    commitment: Amount
    equity: Amount
    closed: Annotated[date, Day(), "First day of the loan."]
    ends: Annotated[date, Day(), "Last day to draw on it."]
    rates: Annotated[Sequence[Rate], several(Rate, 0, 100)]
    lines: Annotated[Sequence[NewLine], several(NewLine, 1, MOST_LINES)]
    costs_from: Annotated[date | None, Day(), "First day of costs; the closing if left out."] = None
    equity_order: Annotated[str, Choice("equity first", "pro rata")] = "equity first"
    changes: Annotated[
        str, Choice("owner", "lender"), "Who pays for changes beyond the contingency."
    ] = "owner"
    basis: Annotated[str, Choice(*BASES)] = "lesser"
    retainage: Annotated[Retainage | None, Part(schema_of(Retainage))] = None
    stored_on_site: Annotated[bool, YesNo()] = True
    stored_off_site: Annotated[bool, YesNo()] = False
    deposits: Annotated[bool, YesNo(), "Deposits on what is not yet delivered."] = False
    day_count: Annotated[str, Choice(*DAY_COUNTS)] = "actual/360"
    interest: Annotated[str, Choice("paid", "reserve")] = "paid"
    origination_fee: Amount = Decimal(0)
    inspection_fee: Annotated[Decimal, Money(), "Fee at each draw."] = Decimal(0)
    fees: Annotated[str, Choice("withheld", "paid")] = "withheld"
    smallest_draw: Amount = Decimal(0)
    most_draws: Annotated[int, Whole(0, HIGHEST_POSITION), "0 for no limit."] = 0
    days_to_funding: Annotated[int, Whole(0, 365)] = 10
    waivers: Annotated[str, Choice("none", "conditional", "both")] = "both"
    no_waiver_from: Annotated[
        Sequence[str], ListOf(Words(NAME_LENGTH), 0, 100), "Payees who give no waiver."
    ] = ()
    vendors: Annotated[
        str, Choice("owner", "vendor", "jointly"), "Who is paid what is still open."
    ] = "owner"
    evidence: Annotated[Sequence[EvidenceWanted] | None, several(EvidenceWanted, 0, 100)] = None
    contingency_percent: Annotated[
        Decimal, Percent(), "Percent of the cost to complete that must be left as contingency."
    ] = Decimal(0)
    contingency_use: Annotated[
        str, Choice("free", "in proportion"), "in proportion: to the work that is done."
    ] = "free"
    transfer_percent: Annotated[
        Decimal, Percent(), "Percent of a line's value by which transfers may lower it."
    ] = Decimal(100)
    approved_rows: Annotated[
        Sequence[int], rows_named(MOST_ROWS), "Changes the lender approved beyond these limits."
    ] = ()
    preset: Annotated[
        str, Choice("", *PRESETS), "A public program: its rules apply where none is stated."
    ] = ""

    @staticmethod
    def completed(body: dict[str, Any]) -> dict[str, Any]:
        """Return a body with the rules of the program that it names, where it states none."""
        name = body.get("preset")
        preset = PRESETS.get(name) if isinstance(name, str) else None
        return {**preset.terms, **body} if preset else body


_HINTS = get_type_hints(NewLoan, include_extras=True)
_AT_CLOSING = (
    "lender", "equity", "closed", "costs_from", "day_count", "interest", "lines", "preset",
)  # fmt: skip
ChangedTerms = make_dataclass(
    "ChangedTerms",
    [
        (one.name, _HINTS[one.name], field(default=LEFT_OUT))
        for one in fields(NewLoan)
        if one.name not in _AT_CLOSING
    ],
    frozen=True,
    kw_only=True,
)
ChangedTerms.__doc__ = """The terms that an amendment states anew; what it leaves out stays."""


@dataclass(frozen=True, kw_only=True)
class NewAmendment:
    """What the lender agreed to later: an extension, another rate, an approval."""

    since: Annotated[date, Day(), "First day it applies."]
    reason: Annotated[str, Words(NOTE_LENGTH), "Why, and where it is signed."]
    terms: Annotated[Any, Part(schema_of(ChangedTerms))]


class PresetsAnswer(Answer):
    """Public programs that `preset` may name: the source, and the terms that each rules."""

    presets = ma.fields.List(ma.fields.Dict(), required=True)


class LoanAnswer(Answer):
    """A loan: its terms of today, its rules in words, its amendments, and the frozen schedule."""

    id = ma.fields.UUID(required=True)
    frozen_on = ma.fields.String(required=True)
    frozen_by = ma.fields.String(required=True)
    digest = ma.fields.String(required=True)
    terms = ma.fields.Dict(required=True)
    amendments = ma.fields.List(ma.fields.Dict(), required=True)
    scheduled = ma.fields.String(required=True)
    lines = ma.fields.List(ma.fields.Dict(), required=True)
