"""Cautions on the terminal: each once, under who decides, with the work that it belongs to."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from api.commands.printing import hanging

if TYPE_CHECKING:
    from rich.console import Console

    from estimator.assemblies.cautions import Caution


def show_cautions(out: Console, heading: str, rows: Sequence[tuple[Caution, str]]) -> None:
    """Print a heading and the cautions under each person who decides; nothing if there are none.

    Parameters
    ----------
    out : Console
        The terminal.
    heading : str
        Says what stands in brackets behind a caution.
    rows : sequence of (Caution, str)
        Each caution once, with what stands behind it; empty for nothing.
    """
    by_person: dict[str, list[str]] = {}
    for caution, work in rows:
        text = f"{caution.caution} ({work})" if work else caution.caution
        by_person.setdefault(caution.defer_to, []).append(text)
    if rows:
        out.print(f"\n{heading}")
    for person, texts in by_person.items():
        hanging(out, "", "  ", f"{person[0].upper()}{person[1:]}:")
        for text in texts:
            hanging(out, "- ", "  ", text)
