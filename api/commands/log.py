"""`groundsill log`: one entry of the books, a command for each kind of entry.

The options are the fields of the body that the service takes, read by the same rules.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from dataclasses import MISSING, Field, fields
from datetime import date, datetime
from decimal import Decimal
from typing import Any

import click

from api.commands.body_options import colon_words, read_body
from api.commands.own_books import own_books
from api.commands.whole_help import Commands

_LISTS = {
    "splits": (
        "--split",
        "CODE:KIND, such as 30.020:material; or CODE:KIND:AMOUNT for each of several.",
        (("code", "kind"), ("code", "kind", "amount")),
    ),
    "parts": (
        "--part",
        "CODE:AMOUNT, or CODE:KIND:AMOUNT[:QUANTITY[:DAYS]]; below zero takes off. "
        "Without KIND it is spread like the code's baseline. Give several for a transfer.",
        (
            ("code", "amount"),
            ("code", "kind", "amount"),
            ("code", "kind", "amount", "quantity"),
            ("code", "kind", "amount", "quantity", "days"),
        ),
    ),
    "taxes": (
        "--tax",
        "NAME:FRACTION, or NAME:FRACTION:WAGE BASE, such as Medicare:0.0145.",
        (("name", "fraction"), ("name", "fraction", "wage_base")),
    ),
    "insurance": (
        "--insurance",
        "NAME:DOLLARS PER $100 OF PAY, or with :MODIFIER.",
        (("name", "per_100"), ("name", "per_100", "modifier")),
    ),
    "lost": (
        "--lost",
        "HOURS:REASON, the hours that everybody together lost.",
        (("hours", "reason"),),
    ),
    "elsewhere": (
        "--elsewhere",
        "PERSON:AMOUNT paid earlier in the year outside these books.",
        (("person", "amount"),),
    ),
}
# Given once for each of several: rows of tickets and of rents, people.
_SEVERAL: dict[str, tuple[str, type]] = {
    "tickets": ("--ticket", int), "rents": ("--rent", int), "people": ("--person", str),
    "codes": ("--code", str),
}  # fmt: skip
# What stands for the value of an option, by the field that reads it; TEXT for all others.
_VALUES = {
    "Day": "DATE", "ClockTime": "TIME", "Money": "MONEY", "RatePerUnit": "MONEY",
    "Quantity": "NUMBER", "Fraction": "FRACTION", "Whole": "NUMBER", "Choice": "WORD",
}  # fmt: skip
_WEEK = "week"
_NAMES = {
    "costs": "cost", "payments": "payment", "receipts": "receipt", "tickets": "ticket",
    "commitments": "order", "changes": "change", "hours": "hours", "progress": "progress",
    "holds": "hold", "results": "hold-result", "stock": "stock", "rents": "rent",
    "points": "point", "readings": "reading", "plans": "plan",
    "days": "day", "payroll": "payroll-terms", "called_off": "call-off",
    "machine_hours": "machine-hours", "banks": "bank", "bank_rules": "bank-rule",
    "credit_answers": "credit-answer", "approvals": "approval", "bases": "basis",
}  # fmt: skip


class _Entries(Commands):
    """The kinds of entry, each made into a command when it is named."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002
        return [*_NAMES.values(), _WEEK]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        if cmd_name == _WEEK:
            return week
        kind = next((kind for kind, name in _NAMES.items() if name == cmd_name), None)
        return None if kind is None else _command(cmd_name, kind)


@click.group(cls=_Entries)
def log() -> None:
    """Post what happened: a bill, a delivery, hours, a measurement.

    Nothing is ever changed: a wrong entry is taken back with 'groundsill reverse NUMBER'.
    """


def _command(name: str, kind_name: str) -> click.Command:
    """Return the command that posts an entry of a kind."""
    from api.contract.commands import schema_of
    from api.ledger.entry_kinds import ENTRY_KINDS

    kind = ENTRY_KINDS[kind_name]
    schema = schema_of(kind.body)()

    def post_entry(project: str | None, as_json: bool, **options: Any) -> None:
        from api.app import utc_now
        from estimator.errors import LedgerFaulty

        body = {field: _sent(field, one) for field, one in options.items() if one not in (None, ())}
        body.setdefault("happened", utc_now().date().isoformat())
        command = read_body(kind.body, body, LedgerFaulty)
        _post(kind, command, project, as_json=as_json)

    shown = [_option(one, schema.fields[one.name]) for one in fields(kind.body)]
    command: Callable[..., Any] = post_entry
    for option in [*reversed(shown), _project_option, _json_option]:
        command = option(command)
    return click.command(name, help=kind.body.__doc__)(command)


_project_option = click.option("--project", help="Name of the project, if several are open.")
_json_option = click.option("--json", "as_json", is_flag=True, help="Print the entry as JSON.")


def _option(one: Field[Any], field_of: Any) -> Callable[..., Any]:
    """Return the option that a field of a body becomes."""
    from api.contract.fields import Whole, YesNo

    name = f"--{one.name.replace('_', '-')}"
    words = _help(field_of)
    if one.name == "happened":
        return click.option(
            name, default=None, metavar="DATE", help="The day it happened; today if left out."
        )
    is_required = one.default is MISSING
    if one.name in _LISTS:
        option, help_text, _ = _LISTS[one.name]
        return click.option(option, one.name, multiple=True, required=is_required, help=help_text)
    if one.name in _SEVERAL:
        option_name, kind = _SEVERAL[one.name]
        row = "ROW" if kind is int else None
        return click.option(
            option_name, one.name, multiple=True, type=kind, metavar=row, help=words
        )
    if isinstance(field_of, YesNo):
        flag = f"{name}/--not-{one.name}" if is_required else name
        return click.option(
            flag, one.name, is_flag=True, default=None, required=is_required, help=words
        )
    kind, value = int if isinstance(field_of, Whole) else str, _VALUES.get(type(field_of).__name__)
    return click.option(name, required=is_required, type=kind, metavar=value, help=words)


def _help(field_of: Any) -> str:
    """Return what an option says of its field: its description, and the words to choose from."""
    from api.contract.fields import Choice, YesNo

    words: str = field_of.metadata.get("description", "")
    if isinstance(field_of, YesNo):  # an option without a value is never "true for" something
        words = words.removeprefix("True ")
        return words[:1].upper() + words[1:]
    choices = f"One of: {', '.join(field_of.words)}." if isinstance(field_of, Choice) else ""
    return f"{words} {choices}".strip()


def _sent(field: str, value: Any) -> Any:
    """Return an option as the body has it."""
    if field in _LISTS:
        _, help_text, forms = _LISTS[field]
        return [_with_days(colon_words(one, help_text, forms)) for one in value]
    return list(value) if isinstance(value, tuple) else value


def _with_days(part: dict[str, Any]) -> dict[str, Any]:
    """Return a part of several with its days as the number that the body takes."""
    days = part.get("days", "")
    return part | {"days": int(days)} if re.fullmatch(r"-?[0-9]{1,6}", days, re.ASCII) else part


def _post(kind: Any, body: Any, project: str | None, *, as_json: bool) -> None:
    from api.ledger.entries import post
    from api.ledger.entry_json import entry_json
    from api.ledger.opened_books import project_named
    from api.store.writing_session import WritingSession

    def change(work: WritingSession) -> dict[str, Any]:
        return entry_json(post(work, project_named(work, project).id, kind, body), work.caller)

    with own_books() as (store, caller, now):
        show_entry(store.carry_out(caller, now, change), as_json=as_json)


def show_entry(entry: dict[str, Any], *, as_json: bool) -> None:
    """Print an entry that was posted, with its notes."""
    if as_json:
        click.echo(json.dumps(entry, ensure_ascii=False))
        return
    from estimator.money import money_text

    amount = "" if entry["amount"] is None else f", {money_text(Decimal(entry['amount']))}"
    name = _NAMES[entry["kind"]].replace("-", " ")
    reversed_ = f", reversing row {entry['reverses']}" if entry["reverses"] else ""
    click.echo(f"Row {entry['number']} is posted: {name} of {entry['happened']}{amount}{reversed_}")
    for note in entry["notes"]:
        click.echo(f"Note: {note}.")


@click.command(_WEEK)
@click.option(
    "--ends", type=click.DateTime(["%Y-%m-%d"]), metavar="DATE", required=True, help="Its last day."
)
@_project_option
@_json_option
def week(ends: datetime, project: str | None, *, as_json: bool) -> None:
    """Close a workweek: its paid hours become rows of payroll, one for each person.

    Late hours in a closed week are posted as a difference when it is closed again.
    """
    from api.ledger.closed_weeks import close_week
    from api.ledger.entry_json import entry_json
    from api.ledger.opened_books import project_named
    from api.store.writing_session import WritingSession

    def change(work: WritingSession) -> list[dict[str, Any]]:
        entries = close_week(work, project_named(work, project).id, ends.date())
        return [entry_json(one, work.caller) for one in entries]

    with own_books() as (store, caller, now):
        for entry in store.carry_out(caller, now, change):
            show_entry(entry, as_json=as_json)


@click.command()
@click.argument("number", type=click.IntRange(1))
@click.option(
    "--happened",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="DATE",
    help="Day of the reversal; today if left out.",
)
@_project_option
@_json_option
def reverse(number: int, happened: Any, project: str | None, *, as_json: bool) -> None:
    """Reverse row NUMBER of the books in full; the reversal is a row of its own."""
    from api.ledger.entries import take_back
    from api.ledger.entry_json import entry_json
    from api.ledger.opened_books import project_named
    from api.store.writing_session import WritingSession

    with own_books() as (store, caller, now):
        day: date = happened.date() if happened else now.date()

        def change(work: WritingSession) -> dict[str, Any]:
            project_id = project_named(work, project).id
            return entry_json(take_back(work, project_id, number, day), work.caller)

        show_entry(store.carry_out(caller, now, change), as_json=as_json)
