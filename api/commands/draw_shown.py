"""Loans and draws on the terminal."""

from __future__ import annotations

import json
from decimal import Decimal
from typing import TYPE_CHECKING, Any

import click

if TYPE_CHECKING:
    from rich.console import Console


def show_loan(loan: dict[str, Any], *, as_json: bool) -> None:
    """Print a loan: its schedule, and its rules by name."""
    if as_json:
        click.echo(json.dumps(loan, ensure_ascii=False))
        return
    from api.commands.printing import hanging, page, show_table, table

    terms = loan["terms"]
    with page() as out:
        out.print(f"{terms['lender']}: {_money(terms['commitment'])}, closed {terms['closed']}")
        out.print(f"Equity {_money(terms['equity'])}; drawn until {terms['ends']}\n")
        shown = table(
            ("Line", "code"), ("Work", "text"), ("Basis", "code"), ("Scheduled", "number")
        )
        for one in loan["lines"]:
            shown.add_row(one["line"], one["name"], one["basis"], _plain(one["scheduled"]))
        show_table(out, shown)
        out.print(f"\nThe schedule is frozen at {_money(loan['scheduled'])}. Rules of the loan:")
        for rule in terms["rules"]:
            default = " (default)" if rule["default"] else ""
            hanging(out, "- ", "  ", f"{rule['name']}: {rule['words']}{default}")
        for one in loan["amendments"]:
            hanging(
                out, "\n", "  ", f"Amendment {one['number']} from {one['since']}: {one['reason']}"
            )
            for change in one["changes"]:
                hanging(out, "- ", "  ", _change_words(change))


def _change_words(change: dict[str, Any]) -> str:
    if isinstance(change["after"], list | dict):
        return f"{change['term']}: changed; the rules above say what holds now"
    return f"{change['term']}: {change['after']}, before {change['before']}"


def show_draft(draft: dict[str, Any], *, as_json: bool) -> None:
    """Print a draw that is open, and what stands against it."""
    if as_json:
        click.echo(json.dumps(draft, ensure_ascii=False))
        return
    from api.commands.printing import page, sentences

    with page() as out:
        _show_request(out, draft["request"], "open")
        sentences(out, "What stands against submitting it", draft["faults"])
        sentences(out, "What the lender will ask about", draft["notes"])


def show_draw(draw: dict[str, Any], *, as_json: bool) -> None:
    """Print a submitted draw, as it was granted if it was."""
    if as_json:
        click.echo(json.dumps(draw, ensure_ascii=False))
        return
    from api.commands.printing import page, sentences
    from api.draws.shown_draws import step_words

    with page() as out:
        _show_request(out, draw["granted"] or draw["request"], draw["state"])
        sentences(out, "Notes when it was submitted", draw["notes"])
        sentences(out, "Steps", [step_words(one) for one in draw["steps"]])
        out.print(f"\nDigest {draw['digest']}", soft_wrap=True)


def show_step(draw: dict[str, Any], *, as_json: bool) -> None:
    """Print in a few lines what became of a draw."""
    if as_json:
        click.echo(json.dumps(draw, ensure_ascii=False))
        return
    from api.draws.shown_draws import step_words

    totals = (draw["granted"] or draw["request"])["totals"]
    click.echo(f"Draw {draw['number']}, version {draw['issue']}, is {draw['state']}.")
    word = "Granted" if draw["granted"] else "Requested"
    click.echo(
        f"{word} {_money(totals['requested'])}: equity {_money(totals['equity'])}, "
        f"loan {_money(totals['loan'])}"
    )
    for one in draw["steps"][-1:]:
        click.echo(step_words(one))
    click.echo(f"Digest {draw['digest']}")


def show_trace(trace: dict[str, Any]) -> None:
    """Print each line of a draw with the receipts behind it."""
    from api.commands.printing import hanging, page

    with page() as out:
        out.print(f"Draw {trace['draw']}: each dollar back to its receipts")
        for line in trace["lines"]:
            held = _money(line["retained"])
            hanging(
                out, "\n", "  ",
                f"Line {line['line']} {line['name']}: {_money(line['billed'])} billed, {held} held",
            )  # fmt: skip
            for one in line["receipts"]:
                of = f" of {_money(one['bears'])}" if one["bears"] != one["drawn"] else ""
                before = f", {_money(one['drawn_before'])} drawn before"
                hanging(
                    out, "  ", "      ",
                    f"row {one['row']}, {one['happened']}, {one['what']} {one['document']} of "
                    f"{one['vendor']}: {_money(one['drawn'])}{of}"
                    f"{before if Decimal(one['drawn_before']) else ''}".replace("  ", " "),
                )  # fmt: skip
            if Decimal(line["without_receipt"]):
                out.print(f"  without a receipt: {_money(line['without_receipt'])}")
        out.print("")
        for label, key in (
            ("Billed, with its receipts", "billed"),
            ("Less held back in this draw", "retained"),
            ("Granted before and not funded", "short_before"),
            ("Requested", "requested"),
        ):
            out.print(f"{label:<32}{_money(trace[key]):>16}")


def _show_request(out: Console, request: dict[str, Any], state: str) -> None:
    from api.commands.printing import show_table, table

    out.print(f"{request['project']}, draw {request['number']} ({state})")
    out.print(f"{request['since']} to {request['through']}\n")
    shown = table(
        ("Line", "code"), ("Work", "text"), ("Value", "number"), ("Done and\nstored", "number"),
        ("This\ndraw", "number"), ("Held", "number"),
    )  # fmt: skip
    for one in request["lines"]:
        shown.add_row(
            one["line"], one["name"], _plain(one["revised"]), _plain(one["done_and_stored"]),
            _plain(one["billed"]), _plain(one["retainage"]),
        )  # fmt: skip
    show_table(out, shown)
    totals = request["totals"]
    out.print("")
    for label, cents in (
        ("Done and stored, less retainage", totals["earned"]),
        ("Retainage held", totals["retainage"]),
        ("Funded before", totals["funded_before"]),
        ("Granted before and not funded", totals["short_funded"]),
        ("Requested", totals["requested"]),
        ("from the owner's equity", totals["equity"]),
        ("from the loan", totals["loan"]),
    ):
        out.print(f"{label:<36}{_money(cents):>16}")


def _money(text: str) -> str:
    from estimator.money import money_text

    return money_text(Decimal(text))


def _plain(text: str) -> str:
    return _money(text).replace("$", "")
