"""Keeping a scope as the rows of a project: head, phases and items, matched by their codes.

What has the same code keeps its row and its id, and only what says something else gets a new
version. What is no longer there goes, unless an accepted estimate rests on it.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from api.projects.accepted import refuse_accepted
from api.projects.rows import Project, ProjectItem, ProjectPhase
from api.projects.written_scope import PLAN_KEYS, items_in_order, phases_in_order
from api.store.writing_session import WritingSession
from estimator.scope.title_block import TITLE_KEYS

ITEM_TEXTS = ("code", "name", "assembly", "crew", "element", "note")

Written = Mapping[str, Any]


def store_scope(work: WritingSession, project: Project, written: Written) -> None:
    """Put a scope in the place of all that a project says.

    Parameters
    ----------
    work : WritingSession
        The unit of work.
    project : Project
    written : mapping
        Plain JSON that `read_written` takes.

    Raises
    ------
    StillNeeded
        If an item would go that an accepted estimate has.
    """
    phases = {phase.code: phase for phase in phases_in_order(work, project)}
    code_of = {phase.id: code for code, phase in phases.items()}
    items = {(code_of[one.phase_id], one.code): one for one in items_in_order(work, project)}
    remaining_items = {
        (one_line(phase["code"]), one_line(item["code"]))
        for phase in written["phases"]
        for item in phase["items"]
    }
    remaining_phases = {code for code, _ in remaining_items}
    going = [key for key in items if key not in remaining_items]
    refuse_accepted(work, project.id, ((".".join(key), "") for key in going))
    work.delete_all([items.pop(key) for key in going])
    work.delete_all([phases.pop(one) for one in [*phases] if one not in remaining_phases])
    store_head(project, written)
    phases |= _store_phases(work, project, phases, written)
    _store_items(work, phases, items, written)


def store_head(project: Project, written: Written) -> None:
    """Note in a project what a scope says before its phases; what it leaves out is taken away."""
    on, markups = one_line(written.get("on", "")), written.get("markups")
    put(
        project,
        {
            "name": one_line(written["project"]),
            **{key: one_line(written.get(key, "")) or None for key in TITLE_KEYS},
            "pricing_date": date.fromisoformat(on) if on else None,
            "shift": one_line(written.get("shift", "")),
            "day_worth": one_line(written.get("day_worth", "")),
            "markups": None if markups is None else [one_line(one) for one in markups],
            "assumptions": [one_line(one) for one in written.get("assumptions", ())],
            "risk": written.get("risk"),
            "alternates": written.get("alternates"),
            "calendar": written.get("calendar"),
            "crew": written.get("crew"),
        },
    )


def phase_columns(written: Written) -> dict[str, Any]:
    """Return what a phase says as the columns of its row."""
    return {
        "code": one_line(written["code"]),
        "name": one_line(written["name"]),
    } | {key: written.get(key) for key in PLAN_KEYS}


def item_columns(written: Written) -> dict[str, Any]:
    """Return what an item says as the columns of its row; a level that is a text is a top."""
    level = written.get("level")
    return {key: one_line(written.get(key, "")) for key in ITEM_TEXTS} | {
        "inputs": written.get("inputs", {}),
        "level": {"top": level} if isinstance(level, str) else level,
        "opening": written.get("opening"),
        "delays": written.get("delays"),
        "methods": written.get("methods"),
        "method": one_line(written.get("method", "")) or None,
        "subcontract": written.get("subcontract"),
        "lump_sum": written.get("lump_sum"),
        "allowance": written.get("allowance"),
        "alternate": one_line(written.get("alternate", "")) or None,
        "risk": written.get("risk"),
        **{key: written.get(key) for key in PLAN_KEYS},
    }


def put(row: Any, columns: Written) -> None:
    """Set those columns of a row whose values differ."""
    for name, value in columns.items():
        if getattr(row, name) != value:
            setattr(row, name, value)


def one_line(text: str) -> str:
    r"""Return a text as the library reads it: on one line, with single blanks.

    Examples
    --------
    >>> one_line("Pits are dry,\n  and clean. ")
    'Pits are dry, and clean.'
    """
    return " ".join(text.split())


def _store_phases(
    work: WritingSession, project: Project, phases: Mapping[str, ProjectPhase], written: Written
) -> dict[str, ProjectPhase]:
    """Return the phases that a scope adds, by code; the others say what it says of them."""
    fresh, changes = [], []
    for position, one in enumerate(written["phases"], start=1):
        says = phase_columns(one) | {"position": position}
        if says["code"] in phases:
            changes.append((phases[says["code"]], says))
        else:
            fresh.append(ProjectPhase(project_id=project.id, **says))
    work.put_all(changes)
    work.add_all(fresh)
    return {phase.code: phase for phase in fresh}


def _store_items(
    work: WritingSession,
    phases: Mapping[str, ProjectPhase],
    items: Mapping[tuple[str, str], ProjectItem],
    written: Written,
) -> None:
    fresh, changes = [], []
    for of_phase in written["phases"]:
        phase = phases[one_line(of_phase["code"])]
        of = {"project_id": phase.project_id, "phase_id": phase.id}
        for position, one in enumerate(of_phase["items"], start=1):
            says = item_columns(one) | {"position": position}
            item = items.get((phase.code, says["code"]))
            if item is None:
                fresh.append(ProjectItem(**of, **says))
            else:
                changes.append((item, says))
    work.put_all(changes)
    work.add_all(fresh)
