"""How the statements of a bank or card are read, and which vendor a line of one is of."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from estimator.tracking.bank_words import ISO, NEGATIVE, POINT


@dataclass(frozen=True)
class BankTerms:
    """How to read the exports of a bank or card; the latest by a name counts.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        From which day on; when it was entered [UTC].
    name : str
        Of the account.
    date_column, description_column : str
        Headings of the columns of a CSV file.
    amount_column : str
        Heading of a column of amounts with a sign; empty where debit and credit have their own.
    debit_column, credit_column : str
        Headings of the columns of money out and money in, in which no sign counts.
    reference_column : str
        Heading of the column of check numbers and the like; may be empty.
    dates : str
        `iso`, `us` (05/23/2026), or `day first` (23/05/2026).
    decimal : str
        `point` (1,234.50) or `comma` (1.234,50).
    out : str
        The sign of money that goes out, `negative` or `positive`.
    """

    row: int
    happened: date
    entered: datetime
    name: str
    date_column: str = ""
    description_column: str = ""
    amount_column: str = ""
    debit_column: str = ""
    credit_column: str = ""
    reference_column: str = ""
    dates: str = ISO
    decimal: str = POINT
    out: str = NEGATIVE

    @property
    def columns(self) -> set[str]:
        """The headings that a file must have."""
        named = (
            self.date_column, self.description_column, self.amount_column, self.debit_column,
            self.credit_column, self.reference_column,
        )  # fmt: skip
        return {one for one in named if one}


@dataclass(frozen=True)
class BankRule:
    """Whose a line of a statement is whose description holds certain words.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        From which day on; when it was entered [UTC].
    words : str
        In the description of a line, without regard to case; of the same words the latest counts.
    vendor, code, kind : str
        Who was paid, and the cost code and kind; no code where such lines are none of the job's.
    """

    row: int
    happened: date
    entered: datetime
    words: str
    vendor: str = ""
    code: str = ""
    kind: str = ""


def rule_of(description: str, rules: Iterable[BankRule]) -> BankRule | None:
    """Return the rule of a description: the one of the most letters, of these the latest.

    Parameters
    ----------
    description : str
        Of a line of a statement.
    rules : iterable of BankRule
        In the order of the books.
    """
    text = " ".join(description.casefold().split())
    latest = {one.words.casefold(): one for one in rules}
    own = [one for words, one in latest.items() if words in text]
    return max(own, key=lambda one: (len(one.words), one.row), default=None)
