"""What is posted for the file of the rehabilitation credit: answers, approvals, the basis."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from api.contract.fields import Choice, Words
from api.contract.schemas import ListOf
from api.ledger.entry_fields import Amount, CostCode, NewEntry, Note, RowNumber
from api.store.models.base import CODE_LENGTH, NAME_LENGTH, NOTE_LENGTH
from estimator.tracking.credit_papers import ANSWERS, PAPERS, STATES

EXAMPLE_ANSWER: dict[str, Any] = {
    "happened": "2026-02-20", "cost": 1, "answer": "no", "reason": "paving outside the building",
    "decides": "tax adviser",
}  # fmt: skip
EXAMPLE_APPROVAL: dict[str, Any] = {
    "happened": "2026-01-12", "paper": "part 2", "state": "approved",
    "note": "letter of the preservation office",
}  # fmt: skip
EXAMPLE_BASIS: dict[str, Any] = {
    "happened": "2026-01-02", "amount": "180000.00", "note": "tax adviser, without the land",
}  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class NewAnswer(NewEntry):
    """Whether a cost, or its split on a code, counts toward the rehabilitation credit."""

    cost: Annotated[RowNumber, "Row of the cost."]
    answer: Annotated[str, Choice(*ANSWERS), "Whether it counts."]
    reason: Annotated[str, Words(NOTE_LENGTH), "Why."]
    decides: Annotated[str, Words(NAME_LENGTH), "Who says so, such as tax adviser."]
    code: CostCode = ""


@dataclass(frozen=True, kw_only=True)
class NewApproval(NewEntry):
    """A part of the application, an amendment or photographs; the latest of a name counts."""

    paper: Annotated[str, Choice(*PAPERS), "Which paper it is."]
    state: Annotated[str, Choice(*STATES), "Where it stands; photographs are on file."]
    name: Annotated[str, Words(NAME_LENGTH), "Number of an amendment."] = ""
    codes: Annotated[
        Sequence[str],
        ListOf(Words(2 * CODE_LENGTH + 1), 0, 1_000),
        "Cost codes or phases it covers; all if left out.",
    ] = ()
    note: Note = ""


@dataclass(frozen=True, kw_only=True)
class NewBasis(NewEntry):
    """The building's adjusted basis, without the land, starting on a day."""

    amount: Annotated[Amount, "The adjusted basis, such as 180000.00."]
    note: Note = ""
