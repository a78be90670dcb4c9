"""The order of the work: phases and items, and what each waits for, as the scope states it.

A phase is its items between a begin and an end that take no time. `ordered_work` is the one way
from what a scope says to who waits for whom; the check of the scope and the schedule both take it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from estimator.scope.scope import Item, Phase, Scope
from estimator.scope.work_plan import NO_WAIT, Wait, Waiting, WorkPlan

_BEGINS, _ENDS = "begins ", "ends "


@dataclass(frozen=True)
class Preceding:
    """One that must be done, or have begun, before another.

    Parameters
    ----------
    code : str
        Of the other, as in `Work`.
    from_start : bool
        Whether its start counts.
    wait : Wait
        How long after.
    """

    code: str
    from_start: bool = False
    wait: Wait = NO_WAIT


@dataclass(frozen=True)
class Work:
    """A piece of the job in its order.

    Parameters
    ----------
    code : str
        A cost code, the code of a phase that states its duration, or the begin or end of a phase.
    of : Item, Phase or None
        What is worked on; None for a begin, an end, and what runs along others.
    after : tuple of Preceding
        What it waits for.
    """

    code: str
    of: Item | Phase | None
    after: tuple[Preceding, ...]


def begin_of(phase: str) -> str:
    """Return the code of the begin of a phase."""
    return _BEGINS + phase


def end_of(phase: str) -> str:
    """Return the code of the end of a phase."""
    return _ENDS + phase


def is_whole(phase: Phase) -> bool:
    """Whether a phase is one piece of work, whose items have no order of their own."""
    return phase.plan.days is not None or bool(phase.plan.along)


def full_code(code: str, phase: str) -> str:
    """Return the cost code that an item of a phase names as `020` or as `30.020`."""
    return code if "." in code else f"{phase}.{code}"


def ordered_work(scope: Scope) -> list[Work]:
    """Return the pieces of a job with what each waits for, in the order of the scope.

    Notes
    -----
    A phase that does not say what it waits for waits for the end of the phase before it; an item,
    for the item before it in its phase. What runs along others only ends with them. A name that is
    not there, as of an item that an alternate takes out, is passed over.
    """
    phases = {phase.code for phase in scope.phases}
    known = phases | {item.code for phase in scope.phases for item in phase.items}
    work: list[Work] = []
    before: tuple[str, ...] = ()
    for phase in scope.phases:
        if phase.plan.along:
            beside = [Preceding(_finish(code, phases)) for code in phase.plan.along]
            work.append(Work(end_of(phase.code), None, _there(beside, known)))
        else:
            waits = _preceding(phase.plan, before, phases)
            work.append(Work(begin_of(phase.code), None, _there(waits, known)))
            work += _in_phase(phase, phases, known)
        before = (phase.code,)
    return work


def _in_phase(phase: Phase, phases: set[str], known: set[str]) -> Iterator[Work]:
    begun = Preceding(begin_of(phase.code))
    if is_whole(phase):
        yield Work(phase.code, phase, (begun,))
        yield Work(end_of(phase.code), None, (Preceding(phase.code),))
        return
    before: tuple[str, ...] = ()
    for item in phase.items:
        plan = of_phase(item.plan, phase.code)
        if plan.along:
            beside = [Preceding(code) for code in plan.along]
            yield Work(item.code, None, (begun, *_there(beside, known)))
        else:
            waits = _preceding(plan, before, phases)
            yield Work(item.code, item, (begun, *_there(waits, known)))
            before = (item.code,)
    ends = tuple(Preceding(item.code) for item in phase.items)
    yield Work(end_of(phase.code), None, (begun, *ends))


def of_phase(plan: WorkPlan, phase: str) -> WorkPlan:
    """Return the plan of an item with every name as a cost code."""
    if not plan.has_order:
        return plan
    after, starts_with, along = (
        None if codes is None else tuple(full_code(code, phase) for code in codes)
        for codes in (plan.after, plan.starts_with, plan.along)
    )
    return WorkPlan(after, plan.days, plan.waits, starts_with or (), along or ())


def _preceding(plan: WorkPlan, before: tuple[str, ...], phases: set[str]) -> list[Preceding]:
    return [_of(waiting, phases) for waiting in plan.waits_for(before)]


def _of(waiting: Waiting, phases: set[str]) -> Preceding:
    code = waiting.code
    if code in phases:
        code = begin_of(code) if waiting.from_start else end_of(code)
    return Preceding(code, waiting.from_start, waiting.wait)


def _finish(code: str, phases: set[str]) -> str:
    return end_of(code) if code in phases else code


def _there(waits: list[Preceding], known: set[str]) -> tuple[Preceding, ...]:
    ends = (_BEGINS, _ENDS)
    return tuple(one for one in waits if one.code in known or one.code.startswith(ends))
