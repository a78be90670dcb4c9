"""Order of phases in a project and of items in a phase: all of them, as they are to stand."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any
from uuid import UUID

from api.contract.errors import FieldsFaulty
from api.contract.fields import Id, Whole
from api.contract.places import pointer
from api.store.errors import VersionStale
from api.store.models.base import HIGHEST_POSITION
from api.store.writing_session import WritingSession
from estimator.errors import Faults

MOST_IN_ORDER = 5_000


@dataclass(frozen=True, kw_only=True)
class AtVersion:
    """One row, at the version that the client has read."""

    id: Annotated[UUID, Id()]
    version: Annotated[int, Whole(1, HIGHEST_POSITION)]


def put_in_order(
    work: WritingSession, rows: Sequence[Any], wanted: Sequence[AtVersion], name: str
) -> list[Any]:
    """Return rows in the order that is wanted; those that move get a new position.

    Parameters
    ----------
    work : WritingSession
    rows : sequence of ProjectPhase or ProjectItem
        All there are, in their order.
    wanted : sequence of AtVersion
        Each of them, in the new order.
    name : str
        The field of the body, such as `phases`.

    Raises
    ------
    FieldsFaulty
        If it is not each of them once.
    VersionStale
        If one was changed meanwhile; nothing is moved then.
    """
    by_id = {row.id: row for row in rows}
    _check_complete(by_id, [one.id for one in wanted], name)
    check_current(by_id, wanted, name)
    ordered = [by_id[one.id] for one in wanted]
    work.put_all((row, {"position": place}) for place, row in enumerate(ordered, start=1))
    return ordered


def check_current(by_id: Mapping[UUID, Any], wanted: Sequence[AtVersion], name: str) -> None:
    """Refuse rows that are no longer at the version that was read, naming all of them.

    Raises
    ------
    VersionStale
        Each at its place in the body.
    """
    faults = Faults()
    for number, one in enumerate(wanted):
        row = by_id[one.id]
        if row.version != one.version:
            what = f"{row.code} is at version {row.version}, and {one.version} was given"
            faults.add(pointer(name, number, "version"), what, "read it again")
    faults.raise_if_any(VersionStale)


def _check_complete(known: Mapping[UUID, Any], wanted: Sequence[UUID], name: str) -> None:
    faults, seen = Faults(), set[UUID]()
    for number, key in enumerate(wanted):
        if key not in known:
            what = f"is not one of the {name} here"
            faults.add(pointer(name, number, "id"), what, f"list the {name} again")
        elif key in seen:
            faults.add(pointer(name, number, "id"), "is listed twice", "name each once")
        seen.add(key)
    missing = _codes(known, known.keys() - seen)
    if missing:
        faults.add(pointer(name), f"leaves out {missing}", f"name all the {name}")
    faults.raise_if_any(FieldsFaulty)


def _codes(known: Mapping[UUID, Any], keys: Collection[UUID]) -> str:
    return ", ".join(sorted(str(known[key].code) for key in keys))
