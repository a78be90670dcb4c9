"""What is sent of a lien waiver or another paper, and how it is shown."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any

import marshmallow as ma

from api.contract.fields import Day, Moment, Whole, Words, YesNo
from api.contract.lists import Page
from api.contract.schemas import Answer
from api.ledger.entry_fields import Amount, Name, Note
from api.store.models.base import HIGHEST_POSITION, NOTE_LENGTH

EXAMPLE_WAIVER: dict[str, Any] = {
    "payee": "Ridge Road Quarry", "draw": 1, "conditional": True, "amount": "1440.00",
    "received": "2026-03-01",
}  # fmt: skip
EXAMPLE_EVIDENCE: dict[str, Any] = {
    "kind": "insurance", "name": "builder's risk, BR-6114", "issued": "2026-02-01",
    "expires": "2027-02-01",
}  # fmt: skip
EXAMPLE_WITHDRAWAL: dict[str, Any] = {"reason": "it names another job"}

DrawNumber = Annotated[int, Whole(1, HIGHEST_POSITION), "Number of a draw."]


@dataclass(frozen=True, kw_only=True)
class NewWaiver:
    """A lien waiver that came in."""

    payee: Name
    draw: DrawNumber
    amount: Amount
    received: Annotated[date, Day()]
    conditional: Annotated[bool, YesNo(), "Conditional on payment."] = False
    final: Annotated[bool, YesNo(), "Final, not progress."] = False
    note: Note = ""


@dataclass(frozen=True, kw_only=True)
class NewEvidence:
    """A paper that the lender wants to see."""

    kind: Name
    name: Name
    issued: Annotated[date, Day()]
    expires: Annotated[date | None, Day(), "Last day it is valid."] = None
    draw: Annotated[int | None, Whole(1, HIGHEST_POSITION), "For one draw only."] = None
    row: Annotated[int | None, Whole(1, HIGHEST_POSITION), "Entry it belongs to."] = None
    note: Note = ""


@dataclass(frozen=True, kw_only=True)
class NewWithdrawal:
    """Why a paper is taken back."""

    reason: Annotated[str, Words(NOTE_LENGTH)]


class PaperAnswer(Answer):
    """A paper."""

    id = ma.fields.UUID(required=True)
    number = ma.fields.Integer(required=True)
    entered_at = Moment(required=True)
    entered_by = ma.fields.String(required=True)
    paper = ma.fields.Dict(required=True, attribute="fields")
    withdrawn = ma.fields.Dict(
        allow_none=True, metadata={"description": "When, by whom and why it was taken back."}
    )


class PaperPage(Page):
    """Some papers, in the order in which they came in."""

    papers = ma.fields.List(ma.fields.Nested(PaperAnswer), required=True)
