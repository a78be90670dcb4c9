"""The crew of the job: how many there are of whom and of what, where they are few."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType

from estimator.assemblies.tables import Tables
from estimator.errors import Faults, quoted
from estimator.scope.located import Section
from estimator.scope.located_reader import LocatedReader
from estimator.scope.methods.method import Method
from estimator.scope.scope import Scope

CREW = "crew"
MOST_OF_ONE = 1_000


def read_job_crew(section: Section, tables: Tables, faults: Faults) -> Mapping[str, int]:
    """Return how many there are of each resource that a scope's key `crew` names.

    Parameters
    ----------
    section : Section
        The whole scope; `crew: {carpenter: 2, laborer: 3, skid-steer: 1}`.
    tables : Tables
        Whose crews have these resources.
    faults : Faults
        Where faults are noted.
    """
    if CREW not in section.entries:
        return MappingProxyType({})
    reader, known = LocatedReader(faults), sorted(crew_resources(tables))
    crew = reader.section(section.entries[CREW], "the crew of the job", known)
    there = {}
    for resource in (one for one in known if one in crew.entries):
        before, number = faults.count, reader.count(crew, resource, 1)
        if faults.count == before:
            there[resource] = number
        if number > MOST_OF_ONE:
            what = f"{number:,} of {quoted(resource)} are more than {MOST_OF_ONE:,}"
            faults.add(crew.entries[resource].where, what)
    return MappingProxyType(there)


def crew_resources(tables: Tables) -> set[str]:
    """Return all resources that work in some crew."""
    return {member.resource for crew in tables.crews.values() for member in crew.members}


def members_at_work(method: Method, tables: Tables) -> Mapping[str, Decimal]:
    """Return how many of each member of its crew a method keeps busy.

    Parameters
    ----------
    method : Method
        With its crew; what comes with each carrier counts once for each of them.
    tables : Tables
        With the crews.
    """
    crew = tables.crews.get(method.crew)
    busy = {one.resource: one.number for one in crew.members} if crew else {}
    if method.production is not None:
        brought: dict[str, Decimal] = {}
        for kind in method.production.kinds:
            for one in kind.brings or ():
                number = one.number * kind.system.carriers
                brought[one.resource] = brought.get(one.resource, Decimal(0)) + number
        busy |= {resource: brought[resource] for resource in brought if resource in busy}
    return MappingProxyType(busy)


def hands_text(hands: Mapping[str, Decimal] | Mapping[str, int]) -> str:
    """Return in words how many there are of each crew and machine.

    Parameters
    ----------
    hands : mapping of str to Decimal or int
        By resource; half a foreman is on the site half the time.

    Examples
    --------
    >>> hands_text({"equipment-operator": 1, "laborer": Decimal("2.00"), "foreman": Decimal("0.5")})
    '1 equipment operator, 2 laborers, 0.5 foreman'
    """
    names = {one: _several(one) if number > 1 else hand_name(one) for one, number in hands.items()}
    return ", ".join(
        f"{Decimal(number).normalize():f} {names[one]}" for one, number in hands.items()
    )


def hand_name(resource: str) -> str:
    """Return the code of a crew or machine as words: `equipment operator`."""
    return resource.replace("-", " ")


def _several(resource: str) -> str:
    name = hand_name(resource)
    if name.endswith("labor"):
        return name
    return f"{name.removesuffix('man')}men" if name.endswith("man") else f"{name}s"


def check_job_crew(
    scope: Scope, tables: Tables, places: Mapping[str, Section], faults: Faults
) -> None:
    """Note items whose crew needs more of somebody than there are.

    Parameters
    ----------
    scope : Scope
        With its crew and its items.
    tables : Tables
        With the crews of the items.
    places : mapping of str to Section
        What each item says, by its code.
    faults : Faults
        Where faults are noted.
    """
    for item in scope.items if scope.crew else ():
        for resource, number in members_at_work(item.method, tables).items():
            there = scope.crew.get(resource)
            if there is not None and number > there:
                needs = f"item {item.code} needs {number:f} of {quoted(resource)}"
                what = f"{needs}, and the job has {there}"
                where = places[item.code].where if item.code in places else item.where
                faults.add(where, what, "hire more, or choose another crew")
