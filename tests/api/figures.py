"""How often a promise is tried: briefly in the gate, in full where that is asked for.

GROUNDSILL_FULL_FIGURES=1 gives the full figures. The name of a test tells which it ran.
"""

from __future__ import annotations

import os
from collections.abc import Hashable, Sequence
from itertools import pairwise

import pytest

FULL = bool(os.environ.get("GROUNDSILL_FULL_FIGURES"))


def figure(short: int, full: int) -> int:
    """Return the full figure of a promise if it is asked for, else the short one."""
    return full if FULL else short


def tries(what: str, short: int, full: int) -> pytest.MarkDecorator:
    """Give a test its figure as an argument, which stands in the name of the test too."""
    count = figure(short, full)
    return pytest.mark.parametrize(what, [count], ids=[f"{count} {what}".replace("_", " ")])


def longest_wait(turns: Sequence[Hashable]) -> int:
    """Return how many turns others had at most while one waited for its first or next, or since.

    Examples
    --------
    >>> longest_wait("abcabcab")
    2
    >>> longest_wait("abaaaaab")
    5
    """
    places = {who: [-1] for who in turns}
    for place, who in enumerate(turns):
        places[who].append(place)
    return max(
        later - earlier - 1
        for of_one in places.values()
        for earlier, later in pairwise([*of_one, len(turns)])
    )
