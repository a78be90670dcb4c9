"""What becomes of a line of a statement: as somebody decided it, or as it was proposed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from estimator.errors import Faults, LedgerFaulty, quoted
from estimator.tracking.bank_lines import COST, PAYMENT, RECEIPT, BankProposal

PAYING, COSTING, RECEIVED, SKIPPED = "paying", "costing", "received", "skipped"
_FORM = "write LINE=ROW, LINE=CODE:KIND, LINE=CODE:KIND:VENDOR, LINE=receipt or LINE=skip"
_DIGITS = 9


@dataclass(frozen=True)
class Decision:
    """What a line becomes.

    Parameters
    ----------
    what : str
        `paying`, `costing`, `received` or `skipped`.
    row : int
        Of the bill that it pays.
    code, kind, vendor : str
        Of the cost that it is; the description is the vendor without one.
    """

    what: str
    row: int = 0
    code: str = ""
    kind: str = ""
    vendor: str = ""


def decisions(words: Iterable[str]) -> dict[int, Decision]:
    """Return what was decided, by the number of the line.

    Raises
    ------
    LedgerFaulty
        With every one that is not of a known form, or that is listed twice.

    Examples
    --------
    >>> decisions(["4=13", "7=30.020:material"])[7]
    Decision(what='costing', row=0, code='30.020', kind='material', vendor='')
    """
    faults, decided = Faults(), dict[int, Decision]()
    for one in words:
        number, _, text = (part.strip() for part in one.partition("="))
        decision = _decision(text)
        if not number.isdecimal() or len(number) > _DIGITS or decision is None:
            faults.add("line", f"{quoted(one)} cannot be read", _FORM)
        elif int(number) in decided:
            faults.add("line", f"line {number} is decided twice", "decide it once")
        else:
            decided[int(number)] = decision
    faults.raise_if_any(LedgerFaulty)
    return decided


def _decision(text: str) -> Decision | None:
    if text in ("receipt", "skip"):
        return Decision(RECEIVED if text == "receipt" else SKIPPED)
    if text.isdecimal() and len(text) <= _DIGITS:
        return Decision(PAYING, int(text))
    code, _, rest = text.partition(":")
    kind, _, vendor = rest.partition(":")
    return Decision(COSTING, code=code, kind=kind, vendor=vendor) if code and kind else None


def decision_of(proposal: BankProposal, *, is_accepted: bool) -> Decision | None:
    """Return what a proposal comes to: a rule is a decision of its own, the rest wants accepting.

    Parameters
    ----------
    proposal : BankProposal
        Of a line.
    is_accepted : bool
        Whether what is proposed was accepted.
    """
    rule = proposal.rule
    if proposal.what == COST and rule is not None:
        return Decision(COSTING, code=rule.code, kind=rule.kind, vendor=rule.vendor)
    if not is_accepted:
        return None
    if proposal.what == PAYMENT:
        return Decision(PAYING, proposal.bills[0].row)
    return Decision(RECEIVED) if proposal.what == RECEIPT else None
