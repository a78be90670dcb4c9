"""What an estimate says of the pace of its items: only a rate, maybe too high, or none at all."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from estimator.assemblies.assembly import AssemblyLine
from estimator.assemblies.tables import Tables
from estimator.errors import quoted
from estimator.pricing.item_work import item_lines
from estimator.production.repeat_visits import may_be_high_by
from estimator.quantity.rounding import percent_text
from estimator.quantity.units import Unit, unit
from estimator.scope.methods.method import Method
from estimator.scope.methods.rising_fill import rising_fill, rising_words
from estimator.scope.scope import Scope

_ROUGH = 0.005
_MOST_NAMED = 5
_HOUR = unit("hr")


def pace_notes(scope: Scope, tables: Tables) -> tuple[str, ...]:
    """Return the sentences on the paces of a scope's items, priced with tables."""
    return (
        *_obstacles(scope),
        *_without_system(scope),
        *_rough_paces(scope),
        *_call_outs(scope, tables),
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


def _call_outs(scope: Scope, tables: Tables) -> Iterator[str]:
    """Yield who is called out by the hour, how many of them nobody says."""
    called: dict[str, list[str]] = {}
    for item in scope.items:
        if item.stated is None:
            lines = item_lines(item, tables)
            for resource in called_out((one, tables.rates.unit_of(one.resource)) for one in lines):
                called.setdefault(resource, []).append(item.code)
    for resource, codes in called.items():
        yield call_out_words(resource, _some_of(codes))


def called_out(lines: Iterable[tuple[AssemblyLine, Unit]]) -> tuple[str, ...]:
    """Return whose minimum charge is taken on all hours together, of lines with their units."""
    return tuple(
        line.resource
        for line, of_rate in lines
        if line.hired is None and line.minimum is not None and of_rate.dimension == _HOUR.dimension
    )


def call_out_words(resource: str, whose: str) -> str:
    """Return what is not known where a minimum charge is taken on all hours together."""
    return (
        f"the minimum charge of {quoted(resource)} is taken once in {whose}, on all its hours "
        "together: if several come, or on several days, each may be charged its own; a method "
        "with a working system counts them"
    )


def _some_of(codes: Sequence[str]) -> str:
    more = len(codes) - _MOST_NAMED
    rest = f" and {more} more" if more > 0 else ""
    return f"{', '.join(codes[:_MOST_NAMED])}{rest}"
