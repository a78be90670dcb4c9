"""An estimate to be compared, read from the JSON that it was printed as.

Nothing is taken on trust: amounts must be their quantity times their rate, and totals the sums of
their lines, or a difference would be explained by what is not there.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from typing import Any

from estimator.errors import AmountTooLarge, Faults, InputFaulty, fault, quoted
from estimator.money import RATE_DECIMALS, dollars, fixed_point
from estimator.pricing.cost_line import CostLine, line_from_fields
from estimator.pricing.estimate_json import FORM
from estimator.pricing.priced_lines import extended_cents
from estimator.rates.kinds import KINDS
from estimator.studies.difference.compared_estimate import Compared, MarkupSum

_REMEDY = "give what `groundsill price --json` prints"
_NUMBER = re.compile(r"-?[0-9]{1,12}(?:\.([0-9]{1,6}))?", re.ASCII)
_CODE = re.compile(r"[0-9A-Za-z-]{1,25}\.[0-9A-Za-z-]{1,25}", re.ASCII)
_CENT_DECIMALS = 2
_MOST_LINE = 10**6


def compared_from_json(text: str, where: str) -> Compared:
    """Return an estimate as one of two that are compared.

    Parameters
    ----------
    text : str
        What `estimate_json` gives.
    where : str
        What to call it in a fault, such as the name of its file.

    Raises
    ------
    InputFaulty
        If it is not an estimate, is of a newer form, or its figures do not agree; `AmountTooLarge`
        if an order at its rate is too large to be priced to the cent.
    """
    fields = _object(text, where)
    faults = Faults()
    items = {one["item"]: one for one in _rows(fields, "items", _ITEM, where, faults)}
    phases = list(_rows(fields, "by_phase", _PHASE, where, faults))
    markups = tuple(
        MarkupSum(one["code"], one["name"], _scaled(one["amount"], _CENT_DECIMALS))
        for one in _rows(fields, "markups", _MARKUP, where, faults)
    )
    rows = list(_rows(fields, "lines", _LINE, where, faults))
    faults.raise_if_any(InputFaulty)
    for row in rows:
        if row["item"] not in items:
            faults.add(where, f"line {row['item']}/{row['line']} belongs to no item of it", _REMEDY)
    faults.raise_if_any(InputFaulty)
    lines = tuple(line_from_fields(row, items[row["item"]]["assembly"]) for row in rows)
    names = {one["phase"]: one["name"] for one in phases}
    names |= {code: one["name"] for code, one in items.items()}
    compared = Compared(lines, markups, names)
    _check_figures(compared, fields.get("totals"), where)
    return compared


def _object(text: str, where: str) -> dict[str, Any]:
    """Return the outermost object of a file that says it is an estimate in our form."""
    try:
        fields = json.loads(text)
    except (ValueError, RecursionError):
        raise fault(InputFaulty, "is not JSON", _REMEDY, where) from None
    form = fields.get("form") if isinstance(fields, dict) else None
    if type(form) is not int or form < 1 or "lines" not in fields:
        raise fault(InputFaulty, "is not an estimate", _REMEDY, where)
    if form > FORM:
        what = f"is an estimate in form {form}; this program reads form {FORM}"
        raise fault(InputFaulty, what, "compare it with the program that printed it", where)
    return dict(fields)


def _text(value: object) -> bool:
    # tables and scopes hold no other text, and a terminal would obey control characters
    return isinstance(value, str) and value.isprintable()


def _number(value: object) -> bool:
    return isinstance(value, str) and _NUMBER.fullmatch(value) is not None


def _rate(value: object) -> bool:
    return _is_number_of(value, RATE_DECIMALS) and not str(value).startswith("-")


def _money(value: object) -> bool:
    return _is_number_of(value, _CENT_DECIMALS)


def _is_number_of(value: object, decimals: int) -> bool:
    return _number(value) and len(str(value).partition(".")[2]) <= decimals


def _code(value: object) -> bool:
    return isinstance(value, str) and _CODE.fullmatch(value) is not None


def _line_number(value: object) -> bool:
    return type(value) is int and 0 < value < _MOST_LINE


_KEYS = {
    "items": ("item",),
    "by_phase": ("phase",),
    "markups": ("code",),
    "lines": ("item", "line"),
}
_ITEM = {"item": _code, "name": _text, "assembly": _text}
_PHASE = {"phase": _text, "name": _text}
_MARKUP = {"code": _text, "name": _text, "amount": _money}
_LINE = {
    "item": _code, "line": _line_number, "resource": _text, "name": _text,
    "kind": lambda value: value in KINDS, "unit": _text, "net": _number, "waste": _number,
    "left_over": _number, "ordered": _number, "rate": _rate, "source": _text, "rate_row": _text,
    "paid": lambda value: isinstance(value, bool), "amount": _money,
}  # fmt: skip


def _rows(
    fields: Mapping[str, Any], key: str, wanted: Mapping[str, Any], where: str, faults: Faults
) -> Iterator[dict[str, Any]]:
    """Yield the objects of a list that are as they are printed, each once, noting what is not."""
    seen = set()
    rows = fields.get(key)
    if not isinstance(rows, list):
        faults.add(where, f"{key} is not a list", _REMEDY)
        return
    for number, row in enumerate(rows, start=1):
        place = f"{where}, {key} {number}"
        if not isinstance(row, dict):
            faults.add(place, "is not an object", _REMEDY)
            continue
        wrong = [name for name, fits in wanted.items() if name not in row or not fits(row[name])]
        for name in wrong:
            message = f"{name} {quoted(row[name])} is not as printed" if name in row else ""
            faults.add(place, message or f"{name} is missing", _REMEDY)
        if wrong:
            continue
        names = tuple(row[name] for name in _KEYS[key])
        if names in seen:
            faults.add(place, f"repeats {quoted('/'.join(map(str, names)))}", _REMEDY)
        seen.add(names)
        yield row


def _scaled(text: str, decimals: int) -> int:
    return fixed_point(Decimal(text), decimals)


def _check_figures(compared: Compared, totals: object, where: str) -> None:
    """Refuse amounts that are not quantity times rate, and totals that are not their sums."""
    faults = Faults()
    for line, right in zip(compared.lines, _extensions(compared.lines, where), strict=True):
        if line.net + line.waste + line.left_over != line.ordered:
            place = f"{where}, line {line.item}/{line.line}"
            faults.add(place, "net, waste and left_over do not add up to ordered", _REMEDY)
        if line.cents != right:
            message = f"{dollars(line.cents)} is not its order at its rate, {dollars(right)}"
            faults.add(f"{where}, line {line.item}/{line.line}", message, _REMEDY)
    for key, total in compared.totals.items():
        # an estimate of before, when sales reduced the direct cost, says nothing of them
        missing = None if total or key != "salvage_sales" else "0.00"
        stated = totals.get(key, missing) if isinstance(totals, dict) else None
        if stated != f"{dollars(total):f}":
            message = f"{key} {quoted(stated)} is not what its lines and markups add up to"
            faults.add(where, f"{message}, {dollars(total)}", _REMEDY)
    faults.raise_if_any(InputFaulty)


def _extensions(lines: Sequence[CostLine], where: str) -> list[int]:
    """Return what each line's order comes to at its rate, in cents."""
    try:
        return extended_cents(lines)
    except AmountTooLarge as error:
        faults = Faults()
        faults.take(where, error)
        raise AmountTooLarge(faults.entries) from None
