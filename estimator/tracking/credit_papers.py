"""What the file of the rehabilitation credit needs besides costs: answers and approvals."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date, datetime

from estimator.errors import Faults, LedgerFaulty, did_you_mean, quoted
from estimator.tracking.entry_checks import note_day
from estimator.tracking.ledger_rows import Cost

YES, NO, ASK_FIRST = "yes", "no", "ask"
ANSWERS = (YES, NO, ASK_FIRST)
PART_1, PART_2, PART_3, AMENDMENT = "part 1", "part 2", "part 3", "amendment"
BEFORE, AFTER = "photographs before", "photographs after"
PHOTOGRAPHS = (BEFORE, AFTER)
PAPERS = (PART_1, PART_2, PART_3, AMENDMENT, *PHOTOGRAPHS)
ON_FILE, SUBMITTED, APPROVED, CONDITIONS, DENIED = (
    "on file", "submitted", "approved", "approved with conditions", "denied",
)  # fmt: skip
STATES = (ON_FILE, SUBMITTED, APPROVED, CONDITIONS, DENIED)


@dataclass(frozen=True)
class CreditAnswer:
    """Whether a cost of the books counts toward the credit, where its code does not say so.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day of the answer; when it was entered [UTC].
    cost : int
        Row of the cost; what takes that cost back follows it.
    answer : str
        `yes`, `no`, or `ask`.
    reason, decides : str
        Why, and who says so: `tax adviser`.
    code : str
        Cost code of the split that it is for; empty for the whole cost.
    """

    row: int
    happened: date
    entered: datetime
    cost: int
    answer: str
    reason: str
    decides: str
    code: str = ""


@dataclass(frozen=True)
class BasisRow:
    """The adjusted basis of the building as it is stated for a day on.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        On the morning of that day; when it was entered [UTC].
    cents : int
        [0.01 $] Without the land.
    note : str
        Who states it, and on what.
    """

    row: int
    happened: date
    entered: datetime
    cents: int
    note: str = ""


@dataclass(frozen=True)
class Approval:
    """A part of the application, an amendment, or photographs; the last row of one counts.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day of its state; when it was entered [UTC].
    paper : str
        `part 1` (the building), `part 2` (the work), `part 3` (finished), `amendment`,
        `photographs before` or `photographs after`.
    state : str
        `on file` of photographs; else `submitted`, `approved`, `approved with conditions` or
        `denied`.
    name : str
        Number of an amendment, or what tells two papers of one kind apart.
    codes : tuple of str
        Cost codes or phases that it is about; none for all of the work.
    note : str
        Conditions, or where the paper lies.
    """

    row: int
    happened: date
    entered: datetime
    paper: str
    state: str
    name: str = ""
    codes: tuple[str, ...] = ()
    note: str = ""

    @property
    def holds(self) -> bool:
        """Whether it is there: photographs on file, or a paper that was approved."""
        return self.state in (ON_FILE, APPROVED, CONDITIONS)

    @property
    def title(self) -> str:
        """What it is called: `amendment 2`."""
        return f"{self.paper} {self.name}".rstrip()

    def covers(self, code: str) -> bool:
        """Return whether it is about a cost code."""
        return not self.codes or code in self.codes or code.partition(".")[0] in self.codes


def standing_approvals(rows: Iterable[Approval]) -> list[Approval]:
    """Return each paper as it stands: of rows with one kind and name, the last.

    Parameters
    ----------
    rows : iterable of Approval
        As known, in the order of the books: see `as_known`.
    """
    return list({(one.paper, one.name): one for one in rows}.values())


def check_credit_answer(answer: CreditAnswer, cost: Cost | None, today: date) -> None:
    """Refuse an answer about no cost, about a code that it does not have, or of a day to come.

    Parameters
    ----------
    answer : CreditAnswer
        To be posted.
    cost : Cost or None
        That it is about.
    today : date
        By the server's clock.

    Raises
    ------
    LedgerFaulty
        With every fault.
    """
    faults = Faults()
    note_day(answer.happened, today, faults)
    codes = [split.code for split in cost.splits] if cost else []
    if cost is None:
        faults.add("cost", f"there is no cost in row {answer.cost}", "hours are never counted")
    elif cost.reverses is not None:
        faults.add("cost", f"row {cost.row} takes back row {cost.reverses}", "answer for that row")
    elif answer.code and answer.code not in codes:
        what = f"row {cost.row} has nothing on {quoted(answer.code)}"
        faults.add("code", what, f"it has {', '.join(codes)}")
    faults.raise_if_any(LedgerFaulty)


def check_approval(approval: Approval, codes: Collection[str], today: date) -> None:
    """Refuse a paper in a state that its kind does not have, or about no code of the budget.

    Parameters
    ----------
    approval : Approval
        To be posted.
    codes : collection of str
        Cost codes and phases of the budget.
    today : date
        By the server's clock.

    Raises
    ------
    LedgerFaulty
        With every fault.
    """
    faults = Faults()
    note_day(approval.happened, today, faults)
    if (approval.paper in PHOTOGRAPHS) != (approval.state == ON_FILE):
        right = "photographs are on file; a paper is submitted, approved or denied"
        faults.add("state", f"{approval.paper} cannot be {quoted(approval.state)}", right)
    for code in approval.codes:
        if code not in codes:
            what = f"there is no cost code or phase {quoted(code)}"
            faults.add("codes", what, did_you_mean(code, codes))
    faults.raise_if_any(LedgerFaulty)
