"""`groundsill draw waiver` and `draw evidence`: papers that came in."""

from __future__ import annotations

from typing import Any

import click

from api.commands.options import Day
from api.commands.own_draws import body_of, carried_out, project_option

_DATE = Day()


@click.command()
@click.option("--payee", required=True)
@click.option("--for", "number", type=int, required=True, metavar="DRAW", help="Number of a draw.")
@click.option("--amount", required=True)
@click.option("--received", type=_DATE, required=True, metavar="DATE")
@click.option("--conditional", is_flag=True, help="On being paid.")
@click.option("--final", is_flag=True, help="Final, not progress.")
@click.option("--note", default="")
@project_option
def waiver(project: str | None, number: int, received: Any, **said: Any) -> None:
    """Post a lien waiver that came in."""
    from api.draws.paper_shapes import NewWaiver
    from api.draws.papers import add_waiver

    body = body_of(NewWaiver, said | {"draw": number, "received": received.date().isoformat()})
    paper = carried_out(project, lambda work, of: add_waiver(work, of, body).number)
    click.echo(f"Paper {paper} is posted: waiver of {said['payee']} for draw {number}.")


@click.command()
@click.option("--kind", required=True, help="Such as insurance, permit, title date-down.")
@click.option("--name", required=True)
@click.option("--issued", type=_DATE, required=True, metavar="DATE")
@click.option("--expires", type=_DATE, metavar="DATE", help="Last day on which it holds.")
@click.option("--for", "number", type=int, metavar="DRAW", help="Of one draw only.")
@click.option("--row", type=int, help="Entry of the books that it is of.")
@click.option("--note", default="")
@project_option
def evidence(
    project: str | None, number: int | None, row: int | None, issued: Any, expires: Any, **said: Any
) -> None:
    """Post a paper that the lender wants to see."""
    from api.draws.paper_shapes import NewEvidence
    from api.draws.papers import add_evidence

    said |= {"issued": issued.date().isoformat(), "draw": number, "row": row}
    said |= {"expires": expires.date().isoformat() if expires else None}
    body = body_of(NewEvidence, {name: one for name, one in said.items() if one is not None})
    paper = carried_out(project, lambda work, of: add_evidence(work, of, body).number)
    click.echo(f"Paper {paper} is posted: {said['kind']}, {said['name']}.")
