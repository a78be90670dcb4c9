"""Comparisons of rate tables on the terminal: rows that changed, and what that does to a scope."""

from __future__ import annotations

from decimal import Decimal
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

from api.commands.printing import page, show_table, table

if TYPE_CHECKING:
    from collections.abc import Sequence

    from rich.console import Console
    from rich.table import Table

    from estimator.studies.difference.rates_difference import RatesDifference, RowChange
    from estimator.studies.difference.scope_effect import AmountChange, ScopeEffect

_DIGEST_SHOWN = 16
_NOTHING = "-"


def show_rates_difference(difference: RatesDifference, effect: ScopeEffect | None) -> None:
    """Print what changed in every table, and what the scope costs before and after."""
    with page() as out:
        for heading, one in (("Before: ", difference.before), ("After:  ", difference.after)):
            out.print(f"{heading}{'over '.join(_sets(one.sets))}, {_digest(one.digest)}")
        for file, changes in groupby(difference.changes, key=lambda change: change.file):
            out.print()
            _show_table(out, file, list(changes))
        if not difference.changes:
            out.print("\nNo row that sets a price changed.")
        if effect is not None:
            _show_effect(out, effect)


def _sets(names: Sequence[str]) -> list[str]:
    return [f"{name} " for name in reversed(names[1:])] + [names[0]]


def _digest(digest: str) -> str:
    return f"digest {digest[:_DIGEST_SHOWN]}"


def _show_table(out: Console, file: str, changes: Sequence[RowChange]) -> None:
    if file == "resources.csv":
        show_table(out, _rates_table(changes))
    else:
        show_table(out, _rows_table(file, changes))
    for change in changes:
        for one in change.fields:
            if one.column not in ("rate",):
                out.print(f"  {' '.join(change.key)}, {one.column}: "
                          f"{one.old or _NOTHING} -> {one.new or _NOTHING}")  # fmt: skip


def _rates_table(changes: Sequence[RowChange]) -> Table:
    """Return rows of resources with what each costs on its date, before and after."""
    shown = table(
        ("Resource", "text"), ("Date", "code"), ("Row", "code"), ("Before $", "number"),
        ("After $", "number"), ("Change", "number"),
    )  # fmt: skip
    for change in changes:
        code, day = change.key
        old, new = _rate(change.old_rate), _rate(change.new_rate)
        shown.add_row(code, day, change.manner, old, new, _percent(change.rate_change))
    return shown


def _rows_table(file: str, changes: Sequence[RowChange]) -> Table:
    shown = table((f"Rows of {Path(file).stem}", "text"), ("Row", "code"))
    for change in changes:
        shown.add_row(" ".join(change.key), change.manner)
    return shown


def _show_effect(out: Console, effect: ScopeEffect) -> None:
    out.print()
    show_table(out, _amounts_table("Work", effect.items))
    if effect.unchanged:
        out.print(f"Items with no change in cost: {effect.unchanged}")
    out.print()
    show_table(out, _amounts_table("Totals", effect.totals))
    if effect.statement:
        out.print(f"\n{effect.statement}")


def _amounts_table(heading: str, amounts: Sequence[AmountChange]) -> Table:
    shown = table(
        (heading, "text"), ("Before $", "number"), ("After $", "number"), ("Increase $", "number"),
        ("Change", "number"),
    )  # fmt: skip
    for one in amounts:
        name = one.name if one.code == one.name else f"{one.code} {one.name}"
        amounts_shown = [f"{amount:,.2f}" for amount in (one.old, one.new, one.rise)]
        shown.add_row(name, *amounts_shown, _percent(one.rise_fraction))
    return shown


def _rate(rate: Decimal | None) -> str:
    if rate is None:
        return _NOTHING
    whole, _, decimals = f"{rate:,.4f}".partition(".")
    return f"{whole}.{decimals.rstrip('0').ljust(2, '0')}"


def _percent(fraction: Decimal | None) -> str:
    return _NOTHING if fraction is None else f"{fraction * 100:+.1f} %"
