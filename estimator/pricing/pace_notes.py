"""What an estimate says of the pace of its items: only a rate, maybe too high, or none at all."""

from __future__ import annotations

from collections.abc import Iterator

from estimator.errors import quoted
from estimator.production.repeat_visits import may_be_high_by
from estimator.quantity.rounding import percent_text
from estimator.scope.methods.method import Method
from estimator.scope.methods.rising_fill import rising_fill, rising_words
from estimator.scope.scope import Scope

_ROUGH = 0.005


def pace_notes(scope: Scope) -> tuple[str, ...]:
    """Return the sentences on the paces of a scope's items."""
    return (
        *_obstacles(scope),
        *_without_system(scope),
        *_rough_paces(scope),
        *_rising(scope),
    )


def _rising(scope: Scope) -> Iterator[str]:
    """Yield how fast fills rise whose level is stated."""
    for item in scope.items:
        fill = rising_fill(item.method, scope.shift, item.level)
        if fill is not None:
            yield f"{item.code} {rising_words(fill)}"


def _obstacles(scope: Scope) -> Iterator[str]:
    """Yield which items are priced by a method whose machine does not pass their opening."""
    for item in scope.items:
        if item.method.obstacle:
            name = quoted(item.method.name)
            yield f"{item.code} is priced by {name}, which cannot be done: {item.method.obstacle}"


def _without_system(scope: Scope) -> Iterator[str]:
    """Yield which items list methods and go at a production rate all the same."""
    listed = [
        item
        for item in scope.items
        if item.methods and item.method.crew and item.method.production is None
    ]
    if len(listed) == 1:
        yield (
            f"{listed[0].code} is priced by {quoted(listed[0].method.name)}, which has no working "
            "system: its pace is a production rate, not worked out from loads and waiting"
        )
    elif listed:
        yield (
            f"{', '.join(item.code for item in listed)} are priced by methods that have no working "
            "system: their paces are production rates, not worked out from loads and waiting"
        )


def _rough_paces(scope: Scope) -> Iterator[str]:
    """Yield whose pace may be too high."""
    for item in scope.items:
        yield from rough_pace(item.method, item.code)


def rough_pace(method: Method, whose: str) -> Iterator[str]:
    """Yield by how much a pace may be too high, where carriers pass a station twice in a cycle."""
    share = pace_may_be_high_by(method)
    if method.production is not None and share >= _ROUGH:
        yield (
            f"the pace of {whose} may be up to {percent_text(share)} too high: a "
            f"{method.production.carrier} passes a station twice in a cycle, for different times"
        )


def pace_may_be_high_by(method: Method) -> float:
    """Return by what share of itself the pace of a method may be too high; 0 without a system."""
    return 0.0 if method.production is None else may_be_high_by(method.production.system)
