"""The outlook on the terminal: how sure the forecast is, and when the rest is done."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from api.commands.printing import hanging, sentences, show_table, table
from estimator.money import cents_money, whole_half_up

if TYPE_CHECKING:
    from collections.abc import Mapping

    from rich.console import Console

    from estimator.tracking.job_outlook import Outlook


def show_outlook(out: Console, outlook: Outlook, names: Mapping[str, str]) -> None:
    """Print P50 and P80 of the cost at completion, and the days on which codes are done.

    Parameters
    ----------
    out : Console
    outlook : Outlook
        Where the job is going.
    names : mapping of str to str
        Of the phases.
    """
    cost = outlook.cost
    out.print("\nHow sure the forecast is")
    for label, cents in (("P50", cost.p50_cents), ("P80", cost.p80_cents)):
        out.print(f"{label + ' of the cost at completion':<28}{cents_money(cents):>20}")
    for statement in cost.statements:
        hanging(out, "", "  ", statement)
    shown = table(("Phase", "code"), ("Work", "text"), ("P50", "number"), ("P80", "number"))
    for phase, own in cost.by_phase.items():
        dollars = [f"{whole_half_up(Fraction(cents, 100)):,}" for cents in own]
        shown.add_row(phase, names.get(phase) or "Markups", *dollars)
    out.print("\nBy phase, each by itself, in whole dollars")
    show_table(out, shown)
    sentences(out, "When the rest is done", [outlook.all_done])
    for one in outlook.finishes:
        if one.done_by is not None:
            late = f" (planned by {one.planned})" if one.planned else ""
            hanging(out, "- ", "  ", f"{one.sentence}{late}")
