"""A draw as JSON for people and other programs: sums as decimal texts under their own names."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from functools import cache
from typing import Any

from estimator.funding.draw_requests import DrawRequest, RequestLine
from estimator.funding.draws import DrawLine
from estimator.funding.loan_rules import rules_of
from estimator.funding.loan_terms import LoanTerms
from estimator.money import cents_text

_SUM, _CENTS = "cents", "_cents"
_OF_LINE = (
    "revised_cents",
    "done_this_period_cents",
    "done_and_stored_cents",
    "billed_cents",
    "retainage_this_period_cents",
    "earned_cents",
    "balance_to_finish_cents",
    "over_billed_cents",
)


def draw_fields(request: DrawRequest) -> dict[str, Any]:
    """Return a draw as `docs/draws.md` describes it.

    Parameters
    ----------
    request : DrawRequest
        As it stands, or as it was frozen.
    """
    totals = request.totals
    plain: dict[str, Any] = _plain(request) | {"terms": terms_fields(request.terms)}
    return plain | {
        "lines": [_line(one) for one in request.lines],
        "totals": _plain(totals)
        | {
            "requested": cents_text(totals.requested_cents),
            "short_funded": cents_text(totals.short_funded_cents),
            "billed": cents_text(request.billed_cents),
        },
    }


def terms_fields(terms: LoanTerms) -> dict[str, Any]:
    """Return the terms of a loan, and its rules in words with those that are the default.

    Parameters
    ----------
    terms : LoanTerms
        Of the loan.
    """
    rules = [{"name": one.name, "words": one.words, "default": one.is_default}
             for one in rules_of(terms)]  # fmt: skip
    plain: dict[str, Any] = _plain(terms)
    return plain | {"rules": rules}


def _line(line: RequestLine) -> dict[str, Any]:
    figures: DrawLine = line.figures
    plain: dict[str, Any] = _plain(line)
    del plain["figures"]
    beside = {name: plain.pop(name) for name in ("earned", "incurred", "paid")}
    own = {key: value for key, value in _plain(figures).items() if key != "state"}
    more = {
        _name(name): cents_text(getattr(figures if hasattr(figures, name) else figures.state, name))
        for name in _OF_LINE
    }
    state: dict[str, Any] = _plain(figures.state)
    return state | own | more | plain | {"beside": beside}


def _plain(value: Any) -> Any:
    if isinstance(value, str | int):
        return value
    if isinstance(value, tuple | list):
        return [_plain(one) for one in value]
    if isinstance(value, Decimal):
        return f"{value:f}"
    if isinstance(value, date):
        return value.isoformat()
    return _fields(value) if is_dataclass(value) else value


def _fields(row: Any) -> dict[str, Any]:
    plain = {}
    for name, words, is_sum in _names(row.__class__):
        value = getattr(row, name)
        plain[words] = cents_text(value) if is_sum and value is not None else _plain(value)
    return plain


@cache
def _names(kind: type[Any]) -> tuple[tuple[str, str, bool], ...]:
    """Return each field of a row with its name in JSON, and whether it is a sum."""
    names = [one.name for one in fields(kind)]
    return tuple((name, _name(name), name == _SUM or name.endswith(_CENTS)) for name in names)


def _name(name: str) -> str:
    return "amount" if name == _SUM else name.removesuffix(_CENTS).removeprefix("is_")
