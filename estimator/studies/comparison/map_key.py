"""The key of a map: a mark and words for each method, and for methods that cost the same."""

from __future__ import annotations

from string import ascii_letters

from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.curves import CostMap
from estimator.studies.comparison.sentences import words_in_a_row


def map_key(comparison: Comparison, cost_map: CostMap) -> tuple[tuple[str, str], ...]:
    """Return the mark and the words of each number that a field of a map can have.

    Methods are marked by their numbers, those that cost the same somewhere by letters.
    """
    names = [one.method.name for one in comparison.prepared]
    methods = ((f"{number}", name) for number, name in enumerate(names, start=1))
    ties = (
        (mark, f"{words_in_a_row([names[place] for place in tie])} cost the same")
        for mark, tie in zip(ascii_letters, cost_map.ties, strict=False)
    )
    return (*methods, *ties)
