"""Files of loan terms and amendments in YAML, read by the rules that the service has for a body."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import marshmallow as ma
import yaml

from api.contract.commands import schema_of
from api.contract.fields import DecimalText, Whole, YesNo
from api.contract.schemas import faults_of
from api.draws.loan_shapes import NewAmendment, NewLoan
from estimator.errors import Fault, FundingFaulty, fault

_YES, _NO = ("yes", "true"), ("no", "false")


def read_loan_file(text: str, name: str) -> NewLoan:
    """Return the terms that a file states: see `_read`."""
    loan: NewLoan = _read(NewLoan, text, name)
    return loan


def read_amendment_file(text: str, name: str) -> NewAmendment:
    """Return the amendment of a loan that a file states: see `_read`."""
    amendment: NewAmendment = _read(NewAmendment, text, name)
    return amendment


def _read(shape: Any, text: str, name: str) -> Any:
    """Return what a file states, read by the rules that the service has for a body.

    Parameters
    ----------
    text, name : str
        Its content, and what it is called.

    Raises
    ------
    FundingFaulty
        With every fault, and where it stands.
    """
    try:
        terms = yaml.load(text, yaml.BaseLoader)  # noqa: S506 -- it makes nothing but texts
    except (yaml.YAMLError, RecursionError) as error:
        line = getattr(getattr(error, "problem_mark", None), "line", 0) + 1
        what = f"line {line} is not YAML"
        raise fault(FundingFaulty, what, "indent with spaces; write 'name: value'", name) from None
    schema = schema_of(shape)()
    if not isinstance(terms, dict):
        raise fault(FundingFaulty, "states no terms", "write 'lender: ...' and the rest", name)
    try:
        return schema.load(_stated(terms, schema.fields))
    except ma.ValidationError as error:
        faults = faults_of(error.messages, schema, "json")
        raise FundingFaulty(_placed(one, name) for one in faults) from None


def _placed(one: Fault, name: str) -> Fault:
    """Return a fault with its place in the file: `rates 1, percent` for `#/rates/0/percent`."""
    where = ""
    for step in one.where.removeprefix("#").strip("/").split("/"):
        where += f" {int(step) + 1}" if step.isdigit() else f", {step}"
    return Fault(f"{name} {where.removeprefix(', ')}".strip(), one.what, one.remedy)


def _stated(terms: Mapping[Any, Any], fields: Mapping[str, Any]) -> dict[Any, Any]:
    return {name: _value(value, fields.get(name)) for name, value in terms.items()}


def _value(value: Any, field: Any) -> Any:
    """Return a text of the file as the field wants it: `$25,000` as 25000, `yes` as true."""
    if isinstance(value, dict) and isinstance(field, ma.fields.Nested):
        return _stated(value, field.schema.fields)
    if isinstance(value, list) and isinstance(field, ma.fields.List):
        return [_value(one, field.inner) for one in value]
    if not isinstance(value, str):
        return value
    if isinstance(field, YesNo):
        return True if value in _YES else False if value in _NO else value
    if isinstance(field, Whole):
        return int(value) if value.isascii() and value.isdigit() and len(value) < 10 else value
    if isinstance(field, DecimalText):
        return value.replace(",", "").removeprefix("$").removesuffix("%").strip()
    return value
