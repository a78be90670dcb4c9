"""`groundsill draw waiver`, `evidence`, `papers` and `withdraw`: papers as they come in."""

from __future__ import annotations

from typing import Any

import click

from api.commands.options import DayOption
from api.commands.own_draws import body_of, carried_out, project_option, reading

_DATE = DayOption()


@click.command()
@click.option("--payee", required=True, help="Who signed it.")
@click.option("--for", "number", type=int, required=True, metavar="DRAW", help="Number of a draw.")
@click.option("--amount", required=True, metavar="MONEY", help="Amount it waives, such as 4275.00.")
@click.option("--received", type=_DATE, required=True, metavar="DATE", help="Date it came in.")
@click.option("--conditional", is_flag=True, help="Conditional on payment.")
@click.option("--final", is_flag=True, help="For final payment, not progress.")
@click.option("--note", default="", help="A note.")
@project_option
def waiver(project: str | None, number: int, received: Any, **stated: Any) -> None:
    """Post a lien waiver that came in."""
    from api.draws.paper_shapes import NewWaiver
    from api.draws.papers import add_waiver

    body = body_of(NewWaiver, stated | {"draw": number, "received": received.date().isoformat()})
    paper = carried_out(project, lambda work, of: add_waiver(work, of, body).number)
    click.echo(f"Paper {paper} is posted: waiver from {stated['payee']} for draw {number}.")


@click.command()
@click.option("--kind", required=True, help="Such as insurance, permit, title date-down.")
@click.option("--name", required=True, help="What the paper is called, such as its number.")
@click.option("--issued", type=_DATE, required=True, metavar="DATE", help="Date it was issued.")
@click.option("--expires", type=_DATE, metavar="DATE", help="Last day it is valid.")
@click.option("--for", "number", type=int, metavar="DRAW", help="For one draw only.")
@click.option("--row", type=int, metavar="ROW", help="Row of the books it belongs to.")
@click.option("--note", default="", help="A note.")
@project_option
def evidence(
    project: str | None,
    number: int | None,
    row: int | None,
    issued: Any,
    expires: Any,
    **stated: Any,
) -> None:
    """Post a paper that the lender asks for."""
    from api.draws.paper_shapes import NewEvidence
    from api.draws.papers import add_evidence

    stated |= {"issued": issued.date().isoformat(), "draw": number, "row": row}
    stated |= {"expires": expires.date().isoformat() if expires else None}
    body = body_of(NewEvidence, {name: one for name, one in stated.items() if one is not None})
    paper = carried_out(project, lambda work, of: add_evidence(work, of, body).number)
    click.echo(f"Paper {paper} is posted: {stated['kind']}, {stated['name']}.")


@click.command()
@click.argument("number", type=click.IntRange(1))
@click.option("--reason", required=True, help="What is wrong with it.")
@project_option
def withdraw(number: int, reason: str, project: str | None) -> None:
    """Withdraw paper NUMBER, entered by mistake: it stays listed but no longer counts."""
    from api.draws.papers import paper_numbered, withdraw_paper

    carried_out(
        project, lambda work, of: withdraw_paper(work, paper_numbered(work, of, number), reason)
    )
    click.echo(f"Paper {number} is taken back: {reason}")


@click.command()
@project_option
def papers(project: str | None) -> None:
    """List waivers and other papers in the order received."""
    from api.draws.papers import all_papers, withdrawals_of

    rows, withdrawn = reading(
        project, lambda session, of, _: (all_papers(session, of), withdrawals_of(session, of))
    )
    for one in rows:
        click.echo(f"{one.number}  {_words(one.kind, one.fields)}")
        if one.number in withdrawn:
            own = withdrawn[one.number]
            click.echo(f"   taken back on {own.at.date()}: {own.reason}")


def _words(kind: str, paper: dict[str, Any]) -> str:
    if kind == "evidence":
        expires = f" to {paper['expires']}" if paper["expires"] else ""
        return f"{paper['kind']}: {paper['name']}, {paper['issued']}{expires}"
    from estimator.money import cents_money

    condition = "conditional" if paper["is_conditional"] else "unconditional"
    final = ", final" if paper["is_final"] else ""
    sum_ = cents_money(paper["cents"])
    return f"{condition} waiver from {paper['payee']} for draw {paper['draw']}{final}: {sum_}"
