"""The shortest order where crews and machines are few: who is busy does nothing else meanwhile."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, NamedTuple

from estimator.errors import Faults, PhaseOrderFaulty, quoted
from estimator.scheduling.activities import START, Activity, Link, in_working_order
from estimator.scheduling.longest_path import critical_path, earliest
from estimator.scheduling.waits_in_a_row import with_mornings
from estimator.scheduling.worked_days import WorkedDays

if TYPE_CHECKING:
    from ortools.sat.python.cp_model import CpModel, IntVar

USUAL_EFFORT = 20.0
SEED = 1906
_REMEMBERED = 32  # problems; each takes about 60 kB


@dataclass(frozen=True)
class CrewOrder:
    """The order that was found.

    Parameters
    ----------
    starts, finishes : mapping of str to int
        [working time] By code, in the order of the activities.
    finish : int
        [working time] End of the job.
    at_least : int
        [working time] No order ends sooner than this.
    """

    starts: Mapping[str, int]
    finishes: Mapping[str, int]
    finish: int
    at_least: int

    @property
    def is_shortest(self) -> bool:
        """Whether it was proven that no order ends sooner."""
        return self.finish == self.at_least

    @property
    def gap(self) -> float:
        """By how much a shorter order might still end sooner, as a share of this one's length."""
        return (self.finish - self.at_least) / self.finish if self.finish else 0.0


def shortest_order(
    activities: Sequence[Activity],
    there: Mapping[str, int],
    effort: float = USUAL_EFFORT,
    seed: int = SEED,
    days: WorkedDays | None = None,
) -> CrewOrder:
    """Return the order of work that ends soonest with the crews and machines that are there.

    Parameters
    ----------
    activities : sequence of Activity
        Work that is not interrupted once begun.
    there : mapping of str to int
        How many of each crew or machine there are; one that is not named is not scarce.
    effort : float
        [solver's own deterministic time, about a second each] After which the best order so far is
        returned with its gap. The same on every computer.
    seed : int
        Of the search.
    days : WorkedDays or None
        As of `critical_path`.

    Raises
    ------
    PhaseOrderFaulty
        With every activity that needs more than there is, and what `critical_path` refuses.

    Notes
    -----
    Of all orders that end soonest, the one whose starts add up to least; where it is not proven
    that none ends sooner, the best that was found. A constraint solver with
    one worker looks for it: the same input gives the same order.

    References
    ----------
    R. Kolisch and A. Sprecher, "PSPLIB", European Journal of Operational Research 96 (1996), the
    problem and the instances that the tests solve.

    Examples
    --------
    >>> walls = [Activity(code, code, 4, needs={"mason": 1}) for code in ("north", "south")]
    >>> shortest_order(walls, {"mason": 1}).finish, shortest_order(walls, {"mason": 2}).finish
    (8, 4)
    """
    free = critical_path(activities, days)
    _check_needs(activities, there)
    if not activities:
        nothing: Mapping[str, int] = MappingProxyType({})
        return CrewOrder(nothing, nothing, 0, 0)
    work = with_mornings(activities)
    model, starts, end = _model(work, there, days)
    model.minimize(end)
    best = solution_of(str(model.proto), effort, seed)
    if best is None:  # the effort is spent before any order: one after the other always fits
        placed = _one_by_one(work, days)
        at_least = max(free.finish, _busy_at_least(activities, there))
        done = {one.code: placed[one.code] + one.length for one in activities}
        return CrewOrder(placed, done, max(done.values()), at_least)
    finish, at_least = best.objective, best.bound
    if finish == at_least:
        best = _earliest(model, starts, end, best, effort, seed) or best
    placed = {one.code: best.values[starts[one.code].index] for one in activities}
    done = {one.code: placed[one.code] + one.length for one in activities}
    return CrewOrder(
        MappingProxyType(placed),
        MappingProxyType(done),
        finish,
        max(at_least, free.finish, _busy_at_least(activities, there)),
    )


def _busy_at_least(activities: Sequence[Activity], there: Mapping[str, int]) -> int:
    """Return how long the busiest crew is at work if none of it is ever idle."""
    busy = (
        -(-sum(one.length * one.needs.get(crew, 0) for one in activities) // number)
        for crew, number in there.items()
    )
    return max(busy, default=0)


def _check_needs(activities: Sequence[Activity], there: Mapping[str, int]) -> None:
    faults = Faults()
    for one in activities:
        for crew, number in one.needs.items():
            if crew in there and number > there[crew]:
                what = f"needs {number} of {quoted(crew)}, and the job has {there[crew]}"
                faults.add(f"activity {quoted(one.code)}", what, "hire more, or split the work")
    faults.raise_if_any(PhaseOrderFaulty)


def _model(
    activities: Sequence[Activity], there: Mapping[str, int], days: WorkedDays | None
) -> tuple[CpModel, dict[str, IntVar], IntVar]:
    """Return the model: starts within the longest that all may take, links, crews, the end."""
    from ortools.sat.python.cp_model import CpModel

    length = {one.code: one.length for one in activities}
    one_by_one = _one_by_one(activities, days)
    model, horizon = CpModel(), max(start + length[code] for code, start in one_by_one.items())
    starts = {one.code: model.new_int_var(0, horizon, one.code) for one in activities}
    end = model.new_int_var(0, horizon, "end")
    for one in activities:
        model.add(end >= starts[one.code] + one.length)
        for link in one.links:
            other = starts[link.after] + (0 if link.from_ == START else length[link.after])
            if days and link.calendar_days:
                _add_wait(model, other + link.wait, starts[one.code], link, horizon, days)
            else:
                model.add(starts[one.code] >= other + link.wait)
    for crew, number in there.items():
        busy = [one for one in activities if one.needs.get(crew) and one.length]
        spans: list[Any] = [
            model.new_fixed_size_interval_var(starts[one.code], one.length, one.code)
            for one in busy
        ]
        model.add_cumulative(spans, [one.needs[crew] for one in busy], number)
    return model, starts, end


def _add_wait(
    model: CpModel, other: Any, start: IntVar, link: Link, horizon: int, days: WorkedDays
) -> None:
    """Add a wait in days of the calendar: on which day the other is done says when it is over."""
    waits = days.waits(horizon, link.calendar_days, from_start=link.from_ == START)
    until, over = (list(column) for column in zip(*waits, strict=True))
    place = model.new_int_var(0, len(waits) - 1, "")
    last, ready = model.new_int_var(0, until[-1], ""), model.new_int_var(0, over[-1], "")
    model.add_element(place, until, last)
    model.add_element(place, over, ready)
    model.add(other <= last)
    model.add(start >= ready)


def _one_by_one(activities: Sequence[Activity], days: WorkedDays | None) -> dict[str, int]:
    """Return the starts if each waits for all before it: no order need take longer."""
    starts: dict[str, int] = {}
    finishes: dict[str, int] = {}
    end = 0
    for one in in_working_order(activities):
        ready = (earliest(link, starts, finishes, days) for link in one.links)
        starts[one.code] = max([end, *ready])
        end = finishes[one.code] = starts[one.code] + one.length
    return starts


def _earliest(
    model: CpModel,
    starts: Mapping[str, IntVar],
    end: IntVar,
    best: Solution,
    effort: float,
    seed: int,
) -> Solution | None:
    """Return the order that ends as soon as the best and starts as early as it can."""
    model.add(end <= best.objective)
    for start in starts.values():
        model.add_hint(start, best.values[start.index])
    model.minimize(sum(starts.values()))
    return solution_of(str(model.proto), effort, seed)


class Solution(NamedTuple):
    """What the solver came to.

    Parameters
    ----------
    objective, bound : int
        What was to be least, and what it cannot be less than.
    values : tuple of int
        In the order of the model's variables.
    """

    objective: int
    bound: int
    values: tuple[int, ...]


# A job is dated once with and without each alternate, and most of them leave its crews alone.
@lru_cache(maxsize=_REMEMBERED)
def solution_of(problem: str, effort: float, seed: int) -> Solution | None:
    """Return the best that the solver finds for a model, None if it finds nothing.

    Parameters
    ----------
    problem : str
        The model as the solver's own text.
    effort, seed : float, int
        As of `shortest_order`.
    """
    from ortools.sat.python.cp_model import FEASIBLE, OPTIMAL, CpModel, CpSolver

    model, solver = CpModel(), CpSolver()
    model.proto.parse_text_format(problem)
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = seed
    solver.parameters.max_deterministic_time = effort
    if solver.solve(model) not in (OPTIMAL, FEASIBLE):
        return None
    values = tuple(solver.response_proto.solution)
    return Solution(round(solver.objective_value), round(solver.best_objective_bound), values)
