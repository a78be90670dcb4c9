"""Two weeks of a job on the terminal, on one printed page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from api.commands.printing import hanging, page, sentences

if TYPE_CHECKING:
    from estimator.scheduling.two_weeks import LookAhead


def show_two_weeks(ahead: LookAhead) -> None:
    """Print two weeks of a job."""
    with page() as out:
        out.print(f"{ahead.project}: two weeks, {ahead.first} to {ahead.last}")
        if ahead.assumed:
            hanging(out, "", "", ahead.assumed)
        if ahead.is_idle:
            out.print("\nNo work falls on these days.")
        for day in ahead.filled_days:
            out.print(f"\n{day.heading}")
            for words in (*(one.words for one in day.work), *day.beside_work):
                hanging(out, "  ", "      ", words)
        sentences(out, "On any of these days", [one.words for one in ahead.beside])
        sentences(out, "Weather", ahead.weather)
        sentences(out, "Cautions", ahead.caution_words)
