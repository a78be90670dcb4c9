"""`groundsill account`: who has an account at this service, and keys for those who lost theirs."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from typing import TYPE_CHECKING
from uuid import UUID

import click

from api.commands.opened_store import opened_store
from api.commands.whole_help import Commands
from estimator.errors import how_many

if TYPE_CHECKING:
    from api.access.opened_accounts import TokenTerms

ROLES = ("owner", "bookkeeper", "crew", "lender")
USUAL_DAYS = 365
MOST_DAYS = 3_650


def _words(_: click.Context, parameter: click.Parameter, value: str | None) -> str | None:
    """Refuse a name of blanks, or with what no terminal shows."""
    if value is not None and not (value.strip() and value.isprintable()):
        raise click.BadParameter("give a name in letters, on one line", param=parameter)
    return None if value is None else value.strip()


_days_option = click.option(
    "--days",
    type=click.IntRange(1, MOST_DAYS),
    metavar="DAYS",
    default=USUAL_DAYS,
    show_default=True,
    help="Days the token is good for.",
)


@click.group(cls=Commands)
def account() -> None:
    """Open accounts and issue their tokens.

    One account sees nothing of another. The service can keep running meanwhile. Environment
    variables say which database, as for 'groundsill database'.
    """


@account.command("open")
@click.argument("name", callback=_words)
@click.option(
    "--holder",
    default="owner",
    show_default=True,
    callback=_words,
    help="Who gets the owner's token.",
)
@_days_option
def open_(name: str, holder: str, days: int) -> None:
    """Open an account named NAME, and print its id and the owner's token, once."""
    from api.access.opened_accounts import open_with_owner
    from api.app import utc_now

    now = utc_now()
    with opened_store() as store:
        opened = open_with_owner(store, name, _terms(holder, "owner", days, now), now)
    assert opened is not None
    click.echo(f"Account {name} is open: {opened.account_id}")
    click.echo(f"Owner's token, shown this once: {opened.token}")


@account.command("list")
def list_() -> None:
    """List the accounts: id, date opened, number of valid tokens, name."""
    from api.access.opened_accounts import known_accounts
    from api.app import utc_now

    with opened_store() as store:
        for one in known_accounts(store, utc_now()):
            tokens = how_many(one.tokens, "valid token")
            click.echo(f"{one.account_id}  {one.created_at:%Y-%m-%d}  {tokens:16}  {one.name}")


@account.command()
@click.argument("name_or_id")
@click.option(
    "--role",
    type=click.Choice(ROLES),
    default="owner",
    show_default=True,
    help="What the token may do.",
)
@click.option("--holder", callback=_words, help="Who gets it; the role if left out.")
@_days_option
def token(name_or_id: str, role: str, holder: str | None, days: int) -> None:
    """Print a new token for the account NAME_OR_ID, for somebody who lost theirs.

    The lost one stays good until it expires or the owner revokes it.
    """
    from api.access.opened_accounts import account_of, token_for
    from api.app import utc_now

    now = utc_now()
    with opened_store() as store:
        account_id = account_of(store, name_or_id)
        text = token_for(store, account_id, _terms(holder or role, role, days, now), now)
    click.echo(f"Token of account {account_id} as {role}, shown this once: {text}")


@account.command()
@click.argument("name_or_id")
@click.option("--subject", help="Only changes to rows of this kind, such as projects.")
@click.option("--id", "subject_id", type=click.UUID, help="Only changes to the row with this id.")
@click.option(
    "--limit",
    type=click.IntRange(1),
    metavar="NUMBER",
    default=50,
    show_default=True,
    help="Most changes to show.",
)
@click.option(
    "--json", "as_json", is_flag=True, help="One JSON object per change, with before and after."
)
def trail(
    name_or_id: str, subject: str | None, subject_id: UUID | None, limit: int, *, as_json: bool
) -> None:
    """Show who changed what, and when, on the account NAME_OR_ID, newest first."""
    from api.access.opened_accounts import account_of
    from api.store.caller import Caller
    from api.store.models.trail import AuditRow
    from api.store.read_trail import change_json, changes_of

    latest = changes_of(subject, subject_id).order_by(AuditRow.number.desc()).limit(limit)
    with opened_store() as store, store.reading(Caller(account_of(store, name_or_id))) as session:
        for row in session.scalars(latest):
            if as_json:
                click.echo(json.dumps(change_json(row), ensure_ascii=False))
            else:
                moment = f"{row.at:%Y-%m-%d %H:%M:%S}"
                what = f"{row.action} {row.subject} {row.subject_id}"
                click.echo(f"{row.number:>6}  {moment}  {row.actor}  {what}")


def _terms(holder: str, role: str, days: int, now: datetime) -> TokenTerms:
    from api.access.opened_accounts import TokenTerms

    return TokenTerms(holder, role, now + timedelta(days=days))
