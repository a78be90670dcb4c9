"""What an estimate says of the pace of its items: only a rate, maybe too high, or none at all."""

from __future__ import annotations

from collections.abc import Iterator

from estimator.errors import quoted
from estimator.production.mixed_carriers import mixed_off_by
from estimator.production.repeat_visits import may_be_high_by
from estimator.quantity.rounding import percent_text
from estimator.scope.methods.full_pile import pile_words
from estimator.scope.methods.method import Method
from estimator.scope.methods.method_work import method_inputs
from estimator.scope.methods.rising_fill import rising_fill, rising_words
from estimator.scope.scope import Scope

_ROUGH = 0.005


def pace_notes(scope: Scope) -> tuple[str, ...]:
    """Return the sentences on the paces of a scope's items."""
    return (
        *_obstacles(scope),
        *_without_system(scope),
        *_rough_paces(scope),
        *_piles(scope),
        *_delayed(scope),
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


def _piles(scope: Scope) -> Iterator[str]:
    """Yield whose pile holds back what comes to it, or is waited for."""
    for item in scope.items:
        if item.method.production is None or item.method.production.pile is None:
            continue
        words = pile_words(item.method, method_inputs(item.method, scope.shift))
        if words:
            yield f"{item.code} {words}"


def _delayed(scope: Scope) -> Iterator[str]:
    """Yield whose production rate is adjusted, and why."""
    for item in scope.items:
        yield from delayed_pace(item.method, item.code)


def delayed_pace(method: Method, whose: str) -> Iterator[str]:
    """Yield what the production rate of a method is adjusted by."""
    if method.delays is not None:
        yield f"the production rate of {whose} is adjusted: {'; '.join(method.delays.words())}"


def rough_pace(method: Method, whose: str) -> Iterator[str]:
    """Yield by how much a pace may be off: a station passed twice, or by two kinds of carrier."""
    for kind in method.production.kinds if method.production else ():
        share = may_be_high_by(kind.system)
        if share >= _ROUGH:
            yield (
                f"the pace of {whose} may be up to {percent_text(share)} too high: each "
                f"{kind.carrier} passes a station twice in a cycle, for different times"
            )
    high, low = _mixed_off_by(method)
    if high:
        yield (
            f"the pace of {whose} may be up to {percent_text(high)} too high, or "
            f"{percent_text(low)} too low: two kinds of carrier wait for each other"
        )


def pace_may_be_off_by(method: Method) -> tuple[float, float]:
    """Return by what share of itself the pace of a method may be too high, and too low."""
    kinds = method.production.kinds if method.production else ()
    high, low = _mixed_off_by(method)
    return max([high, *(may_be_high_by(one.system) for one in kinds)]), low


def _mixed_off_by(method: Method) -> tuple[float, float]:
    production = method.production
    if production is None or production.beside is None:
        return 0.0, 0.0
    return mixed_off_by(production.systems)
