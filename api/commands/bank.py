"""`groundsill books import --bank`: what each line of a bank's export becomes in the books."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from api.commands.own_books import own_books
from estimator.errors import how_many

if TYPE_CHECKING:
    from api.ledger.bank_imports import StatementImported
    from estimator.tracking.bank_lines import BankProposal

MAPPING_HELP = (
    "Headings of the columns of a CSV file: date, description, amount (or debit and credit), "
    "reference; dates=us or 'day first', decimal=comma, out=positive if the bank writes them so."
)
RULE_HELP = "How to post lines with these words; WORDS=skip if they are not for this job."
LINE_HELP = "LINE=ROW pays that bill; LINE=CODE:KIND is a cost; LINE=receipt; LINE=skip."
_COLUMNS = ("date", "description", "amount", "debit", "credit", "reference")
_WAYS = ("dates", "decimal", "out")


def import_bank(
    file: Path,
    project: str | None,
    bank: str,
    mapping: str,
    rules: Iterable[str],
    lines: Iterable[str],
    *,
    is_accepted: bool,
    keep: bool,
) -> None:
    """Show what comes of a bank's export, and post it if it is kept.

    Raises
    ------
    LedgerFaulty
        With every fault; then nothing is posted.
    """
    from api.ledger.bank_decisions import decisions
    from api.ledger.bank_imports import Statement, import_statement, remember
    from api.ledger.opened_books import project_named
    from estimator.errors import LedgerFaulty

    statement = Statement(file.read_bytes(), file.name, bank)
    decided, terms = decisions(lines), _terms(mapping)
    spoken = [_rule(one) for one in rules]
    with own_books() as (store, caller, now), store.unit_of_work(caller, now) as work:
        named = project_named(work, project).id
        if terms:
            remember(work, named, "banks", {"name": bank, **terms})
        for rule in spoken:
            remember(work, named, "bank_rules", rule)
        imported = import_statement(work, named, statement, decided, is_accepted=is_accepted)
        if keep and not imported.faults.count:
            work.commit()
    _show(imported, keep=keep)
    imported.faults.raise_if_any(LedgerFaulty)


def _terms(mapping: str) -> dict[str, str]:
    """Return the fields of the terms of a bank from `date=Posted,amount=Amount`."""
    terms = {}
    for part in filter(None, mapping.split(",")):
        name, _, heading = (one.strip() for one in part.partition("="))
        if name not in (*_COLUMNS, *_WAYS) or not heading:
            raise click.BadParameter(f"{part!r} cannot be read; write {MAPPING_HELP}")
        terms[f"{name}_column" if name in _COLUMNS else name] = heading
    return terms


def _rule(words: str) -> dict[str, str]:
    """Return the fields of a rule from `WORDS=CODE:KIND:VENDOR`."""
    pattern, _, decision = (one.strip() for one in words.partition("="))
    parts = decision.split(":", 2)
    if decision == "skip":
        return {"words": pattern}
    if not pattern or len(parts) != len(("code", "kind", "vendor")):
        raise click.BadParameter(f"{words!r}: write WORDS=CODE:KIND:VENDOR, or WORDS=skip")
    code, kind, vendor = parts
    return {"words": pattern, "code": code, "kind": kind, "vendor": vendor}


def _show(imported: StatementImported, *, keep: bool) -> None:
    from estimator.tracking.bank_lines import KNOWN, LEFT_OUT

    shown = [one for one in imported.proposals if one.what not in (KNOWN, LEFT_OUT)]
    known = sum(one.what == KNOWN for one in imported.proposals)
    click.echo(
        f"{how_many(len(imported.proposals), 'line')}: {known} already known, "
        f"{len(imported.proposals) - known - len(shown)} left out, {len(imported.posted)} "
        f"{'posted' if keep else 'to be posted'}."
    )
    for one in shown:
        _show_line(one, imported)
    if not imported.faults.count:
        click.echo("Posted." if keep else "Nothing is posted yet: add --keep to post.")


def _show_line(one: BankProposal, imported: StatementImported) -> None:
    from estimator.money import cents_money

    line = one.line
    click.echo(f"line {line.number}: {line.day} {cents_money(line.cents)} {line.description}")
    click.echo(f"  {one.what}: {one.why}")
    for bill in one.bills:
        document = f" {bill.document}" if bill.document else ""
        open_ = cents_money(bill.cents)
        click.echo(f"  row {bill.row}: {bill.vendor}{document} of {bill.happened}, {open_} open")
    entries = imported.posted.get(line.number, ())
    if entries:
        kinds = ", ".join(f"{entry.kind.removesuffix('s')} {entry.number}" for entry in entries)
        click.echo(f"  becomes {kinds}")
    for note in (note for entry in entries for note in entry.notes):
        click.echo(f"  note: {note}")
