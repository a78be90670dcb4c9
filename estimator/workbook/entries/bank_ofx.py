"""Bank and card exports as OFX (1 and 2), parsed by ofxtools, which is installed with `.[ofx]`."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from io import BytesIO
from typing import Any

from estimator.errors import Faults, LedgerFaulty, fault, quoted
from estimator.money import to_cents
from estimator.tracking.bank_lines import BankLine
from estimator.workbook.entries.bank_csv import MOST_LETTERS, MOST_LINES, statement_text
from estimator.workbook.writing.safe_text import clean_text

_AMOUNT = re.compile(r"[+-]?[0-9]{1,9}(?:\.[0-9]{1,2}0*)?")

_LONGEST_MARK = 60


def is_ofx(content: bytes) -> bool:
    """Tell whether a file says of itself that it is OFX."""
    start = content[:2000].upper()
    return b"OFXHEADER" in start or b"<OFX>" in start


def ofx_lines(content: bytes, name: str) -> list[BankLine]:
    """Return the lines of an OFX export.

    Parameters
    ----------
    content : bytes
        Of the file.
    name : str
        What to call the file in messages.

    Raises
    ------
    LedgerFaulty
        If it is no OFX, of other money than dollars, or with every faulty transaction.

    Notes
    -----
    The day is the one that is written, in the bank's own time. A line is known again by the FITID.
    """
    statement_text(content, name)
    tree, faults = _parsed(content, name), Faults()
    for currency in {one.text for one in tree.iter("CURDEF")} - {"USD"}:
        faults.add(name, f"is in {currency}", "only dollars are read")
    lines = list(_lines(tree, name, faults))
    faults.raise_if_any(LedgerFaulty)
    if not lines:
        raise fault(LedgerFaulty, "has no transaction", "export other days", name)
    return lines


def _parsed(content: bytes, name: str) -> Any:
    try:
        from ofxtools.header import OFXHeaderError
        from ofxtools.Parser import OFXTree, ParseError
    except ModuleNotFoundError:
        remedy = "install it with pip install 'groundsill[ofx]', or export CSV"
        raise fault(LedgerFaulty, "is OFX, whose reader is not installed", remedy, name) from None
    tree = OFXTree()
    try:
        return tree.parse(BytesIO(content))
    except (OFXHeaderError, ParseError, ValueError, LookupError):
        what = "is not OFX that can be read"
        raise fault(LedgerFaulty, what, "export it again, or as CSV", name) from None


def _lines(tree: Any, name: str, faults: Faults) -> Iterator[BankLine]:
    for number, one in enumerate(tree.iter("STMTTRN"), start=1):
        if number > MOST_LINES:
            faults.add(name, f"has over {MOST_LINES:,} transactions", "export fewer days at once")
            return
        fields = {part.tag: _cell(part.text or "") for part in one}
        where = f"{name} transaction {number}"
        day = _day(fields.get("DTPOSTED", ""), where, faults)
        amount = fields.get("TRNAMT", "").replace(",", ".")  # OFX allows either for the decimals
        if not _AMOUNT.fullmatch(amount):
            faults.add(where, f"{quoted(amount)} is not an amount")
        elif not fields.get("FITID"):
            faults.add(where, "has no FITID", "without one it cannot be known again: export CSV")
        elif day is not None:
            words = " ".join(filter(None, (fields.get("NAME"), fields.get("MEMO"))))
            check = fields.get("CHECKNUM", "")
            description = words or f"{fields.get('TRNTYPE', '')} {check}".strip()
            cents, mark = to_cents(Decimal(amount)), fields["FITID"]
            if len(mark) > _LONGEST_MARK:
                mark = hashlib.sha256(mark.encode()).hexdigest()[:20]
            yield BankLine(number, day, cents, description[:MOST_LETTERS], check, mark)


def _cell(text: str) -> str:
    return " ".join(clean_text(text).split())


def _day(text: str, where: str, faults: Faults) -> date | None:
    try:
        return date(int(text[:4]), int(text[4:6]), int(text[6:8]))
    except ValueError:
        faults.add(where, f"{quoted(text)} is not a date")
        return None
