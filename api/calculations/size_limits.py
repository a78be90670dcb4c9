"""How much one request may have worked out: a worker must be free again in some two seconds.

What is larger is no fault of its own: the library and the commands take it. The time that a request
takes was measured against these sizes; nothing else of a scope makes it long.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import prod
from typing import TYPE_CHECKING

from api.calculations.scope_shapes import FEWEST_ITERATIONS
from api.contract.errors import BodyTooLarge
from api.contract.places import pointer
from estimator.errors import fault

if TYPE_CHECKING:
    from estimator.production.working_system import WorkingSystem
    from estimator.scope.methods.method import Production
    from estimator.scope.scope import Item, Scope

MOST_METHODS_IN_SCOPE = 2_000
MOST_STEPS_IN_SCOPE = 20_000
MOST_PLACES_IN_SCOPE = 50_000
MOST_CARRIERS = 50
MOST_STEPS = 200
MOST_PLACES_IN_METHODS = 500
MOST_PLACES_IN_SYSTEM = 2_000
MOST_DRAWN = 20_000_000
MOST_SCHEDULED = 300
MOST_EFFORT = 2.0  # of the solver for one request, about a second each

_ITERATIONS_BY_ITSELF = 2_000  # what a line takes besides its iterations, in iterations


def check_written_methods(sizes: Mapping[str, int]) -> None:
    """Refuse a scope that lists more methods, or more of their steps, than one request may, unread.

    Parameters
    ----------
    sizes : mapping of str to int
        From `estimator.scope.located.list_sizes`.

    Raises
    ------
    BodyTooLarge
        Telling how many are taken.
    """
    steps = sum(sizes.get(key, 0) for key in ("cycle", "stations", "lifts"))
    for count, most, what in (
        (sizes.get("methods", 0), MOST_METHODS_IN_SCOPE, "methods"),
        (steps, MOST_STEPS_IN_SCOPE, "steps, stations and lifts of methods"),
    ):
        if count > most:
            raise fault(
                BodyTooLarge,
                f"the items list {count:,} {what} in all",
                f"a request takes {most:,}: leave out methods that you do not compare",
            )


def check_paces(scope: Scope) -> None:
    """Refuse to price a scope whose chosen methods have systems that would hold a worker for long.

    Raises
    ------
    BodyTooLarge
        Telling what is too much.
    """
    chosen = (item.method.production for item in scope.items if item.methods)
    places = sum(_places_over_lifts(one for one in chosen if one is not None))
    if places > MOST_PLACES_IN_SCOPE:
        raise fault(
            BodyTooLarge,
            f"the chosen methods have {places:,} carriers and places, added up over stations and "
            "lifts",
            f"a request takes {MOST_PLACES_IN_SCOPE:,}: give fewer carriers or stations, or the "
            "pace itself as production_rate",
        )


def check_schedule_size(scope: Scope, there: Mapping[str, int]) -> None:
    """Refuse to look for the order of more items with few hands than one request may.

    Raises
    ------
    BodyTooLarge
        Telling how many are taken.
    """
    if there and len(scope.items) > MOST_SCHEDULED:
        raise fault(
            BodyTooLarge,
            f"the scope has {len(scope.items):,} items for a limited crew",
            f"a request takes {MOST_SCHEDULED}: leave the crew out, or use groundsill schedule",
        )


def check_comparison_size(scope: Scope, item_code: str) -> None:
    """Refuse to compare the methods of an item if they would hold a worker for long.

    An item that the scope does not have passes: the comparison itself says so.

    Raises
    ------
    BodyTooLarge
        Telling what is too much.

    Notes
    -----
    The output of a system is worked out for some hundred values of all that can vary. What that
    takes grows with the carriers that may stand at each station and the places there, once for each
    lift.
    """
    for item in scope.items:
        if item.code == item_code:
            _check_methods(item)


def check_system_size(systems: Sequence[WorkingSystem]) -> None:
    """Refuse a working system with more carriers and stations than a request may have.

    Parameters
    ----------
    systems : sequence of WorkingSystem
        One a kind of carrier.

    Raises
    ------
    BodyTooLarge
        Telling what is too much.
    """
    places = system_places(systems)
    if places > MOST_PLACES_IN_SYSTEM:
        raise fault(
            BodyTooLarge,
            f"carriers and places, added up over the stations, come to {places:,}",
            f"a request takes {MOST_PLACES_IN_SYSTEM:,}: give fewer carriers or stations",
        )


def check_ranges_size(scope: Scope, iterations: int) -> None:
    """Refuse to draw the lines of a scope so often that a worker would be held for long.

    Raises
    ------
    BodyTooLarge
        Telling how many iterations would do.
    """
    lines = drawn_lines(scope)
    most = MOST_DRAWN // max(1, lines) - _ITERATIONS_BY_ITSELF
    if iterations > most:
        fewer = f"ask for {most:,} iterations, or " if most >= FEWEST_ITERATIONS else ""
        raise fault(
            BodyTooLarge,
            f"{lines:,} lines are to be drawn {iterations:,} times",
            f"{fewer}send fewer phases at once",
            pointer("iterations"),
        )


def drawn_lines(scope: Scope) -> int:
    """Return how many lines of cost a simulation draws: assemblies', crews and events."""
    lines = sum(len(item.method.assembly.lines) + 1 for item in scope.items)
    return lines + len(scope.risk.events)


def _check_methods(item: Item) -> None:
    systems = [method.production for method in item.methods if method.production is not None]
    carriers = max((one.carriers for each in systems for one in each.systems), default=0)
    steps = sum(len(one.cycle) for each in systems for one in each.systems)
    places = sum(_places_over_lifts(systems))
    for count, most, what in (
        (carriers, MOST_CARRIERS, "carriers in one method"),
        (steps, MOST_STEPS, "steps in all"),
        (places, MOST_PLACES_IN_METHODS, "carriers and places, added up over stations and lifts"),
    ):
        if count > most:
            raise fault(
                BodyTooLarge,
                f"the methods have {count:,} {what}",
                f"a request takes {most:,}: compare fewer methods at once, or simpler ones",
                item.where,
            )


def _places_over_lifts(systems: Iterable[Production]) -> Iterable[int]:
    return (system_places(one.systems) * max(1, len(one.lifts)) for one in systems)


def system_places(systems: Sequence[WorkingSystem]) -> int:
    """Return carriers and places, added up over the stations; of two kinds in each combination."""
    if len(systems) > 1:
        stations = {station.name for one in systems for station in one.stations}
        return prod(one.carriers + 1 for one in systems) * max(1, len(stations))
    (system,) = systems
    places = sum(system.carriers + station.places for station in system.stations)
    return max(places, system.carriers)
