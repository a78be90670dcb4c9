"""What is sent to open, decide and fund a draw, and how one is shown."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Annotated, Any

import marshmallow as ma

from api.contract.commands import several
from api.contract.fields import Choice, Day, Money, Words, YesNo
from api.contract.lists import Page
from api.contract.schemas import Answer, ListOf
from api.ledger.entry_fields import RowNumber, rows_named
from api.store.models.base import CODE_LENGTH, NOTE_LENGTH

MOST_LINES, MOST_ROWS = 300, 10_000
EXAMPLE_DRAFT: dict[str, Any] = {"through": "2026-02-28"}
EXAMPLE_DECISION: dict[str, Any] = {
    "cuts": [{"line": "1", "amount": "100.00", "reason": "not seen in place"}]
}
EXAMPLE_FUNDING: dict[str, Any] = {"day": "2026-03-02"}


@dataclass(frozen=True, kw_only=True)
class Stored:
    """What of an entry is stored, or paid on what is to come."""

    row: RowNumber
    amount: Annotated[Decimal, Money(above="0")]
    line: Annotated[str, Words(CODE_LENGTH), "Which line, if the entry is on several."] = ""
    place: Annotated[str, Choice("on site", "off site", "deposit")] = "on site"


@dataclass(frozen=True, kw_only=True)
class NewDrawing:
    """What the owner says when a draw is opened; figures come from the books."""

    through: Annotated[date, Day(), "Last day of what is new in it."]
    last: Annotated[bool, YesNo(), "True for the last draw: no retainage is held."] = False
    stored: Annotated[Sequence[Stored], several(Stored, 0, MOST_ROWS)] = ()
    interest: Annotated[Decimal, Money(), "Interest that the lender posted to the reserve."] = (
        Decimal(0)
    )
    release: Annotated[
        Sequence[str],
        ListOf(Words(CODE_LENGTH), 0, MOST_LINES),
        "Lines whose retainage is requested; then the draw has no work.",
    ] = ()
    left_out: Annotated[Sequence[int], rows_named(MOST_ROWS), "Rows not requested yet."] = ()


@dataclass(frozen=True, kw_only=True)
class NewCut:
    """What the lender takes off a line."""

    line: Annotated[str, Words(CODE_LENGTH)]
    amount: Annotated[Decimal, Money(above="0")]
    reason: Annotated[str, Words(NOTE_LENGTH)]


@dataclass(frozen=True, kw_only=True)
class NewDecision:
    """What the lender decides: granted, with cuts line by line, or returned with the reason."""

    returned: Annotated[bool, YesNo(), "True if the whole draw goes back."] = False
    cuts: Annotated[Sequence[NewCut], several(NewCut, 0, MOST_LINES)] = ()
    reason: Annotated[str, Words(NOTE_LENGTH), "Reason for the return."] = ""


@dataclass(frozen=True, kw_only=True)
class NewFunding:
    """What the lender paid."""

    day: Annotated[date, Day()]
    amount: Annotated[Decimal | None, Money(least=None), "All that was granted if left out."] = None
    fees: Annotated[Decimal, Money(), "Fees withheld."] = Decimal(0)


class DrawHead(Answer):
    """A draw in a list."""

    id = ma.fields.UUID(required=True)
    number = ma.fields.Integer(required=True)
    issue = ma.fields.Integer(required=True)
    through = ma.fields.String(required=True)
    state = ma.fields.String(required=True)
    submitted_at = ma.fields.String(required=True)
    submitted_by = ma.fields.String(required=True)
    digest = ma.fields.String(required=True)


class DrawAnswer(DrawHead):
    """A draw: what was submitted, what was granted of it, and what came of it."""

    steps = ma.fields.List(ma.fields.Dict(), required=True)
    notes = ma.fields.List(ma.fields.String(), required=True)
    request = ma.fields.Dict(required=True)
    granted = ma.fields.Dict(required=True, allow_none=True)


class DraftAnswer(Answer):
    """A draw that is open, with its figures of today and what stands against submitting it."""

    opened_at = ma.fields.String(required=True)
    request = ma.fields.Dict(required=True)
    notes = ma.fields.List(ma.fields.String(), required=True)
    faults = ma.fields.List(ma.fields.String(), required=True)


class DrawPage(Page):
    """Some draws, in the order in which they were submitted."""

    draws = ma.fields.List(ma.fields.Nested(DrawHead), required=True)


class DrawTraceAnswer(Answer):
    """Each dollar of a draw with the receipts behind it."""

    draw = ma.fields.Integer(required=True)
    lines = ma.fields.List(ma.fields.Dict(), required=True)
    billed = ma.fields.String(required=True)
    retained = ma.fields.String(required=True)
    short_before = ma.fields.String(required=True)
    requested = ma.fields.String(required=True)
