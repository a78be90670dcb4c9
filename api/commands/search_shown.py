"""What a search finds, on the terminal."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from api.commands.printing import hanging, page, show_table, table
from estimator.money import rate_text

if TYPE_CHECKING:
    from estimator.assemblies.table_search import Match, Price

_HEADINGS = {"assembly": "Assemblies", "resource": "Resources", "crew": "Crews"}


def show_matches(matches: Sequence[Match], words: str, on: date) -> None:
    """Print what was found, by sort, with prices."""
    with page() as out:
        if not matches:
            out.print(f"Nothing has '{words}' in it; try a shorter part of the word.")
            return
        out.print(f"Prices of {on}")
        for sort, heading in _HEADINGS.items():
            of_sort = [one for one in matches if one.sort == sort]
            if of_sort:
                shown = table((heading, "code"), ("", "text"), ("Price", "number"))
                for one in of_sort:
                    shown.add_row(one.code, one.words, _prices(one))
                out.print()
                show_table(out, shown)
        for one in matches:
            if one.sort not in _HEADINGS:
                out.print()
                hanging(out, "", "  ", f"Caution: {one.words}")
        if any(one.sort == "assembly" for one in matches):
            out.print("\n'groundsill rates assemblies CODE' shows what goes into an assembly.")


def _prices(match: Match) -> str:
    if match.sort == "assembly":
        return f"per {match.unit}"
    return "\n".join(map(_price, match.prices)) or "no rate yet"


def _price(price: Price) -> str:
    unpaid = "" if price.is_paid else ", unpaid"
    return f"${rate_text(price.amount)}/{price.unit}{unpaid}"
