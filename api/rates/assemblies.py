"""Assemblies as the tables have them, and in which versions of a rate set one became another."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any
from uuid import UUID

from sqlalchemy import select

from api.access.rows import row_json
from api.contract.fields import moment_text
from api.contract.lists import page_of_listed
from api.contract.services import Services
from api.rates.looked_up import tables_to_look_in
from api.rates.lookup_shapes import (
    AssemblyAnswer,
    AssemblyCaution,
    AssemblyHead,
    AssemblyLineAnswer,
    AssemblyQuery,
    TablesQuery,
)
from api.rates.rows import RateRow, RateSet, RateVersion
from api.rates.stored_tables import content_digest
from api.store.caller import Caller
from api.store.errors import NotFound
from api.store.sessions import AccountSession
from estimator.errors import did_you_mean, fault, quoted

if TYPE_CHECKING:
    pass

# The files that an assembly's rows stand in, each with the column that names the assembly.
_FILES = {
    "assemblies.csv": "code",
    "assembly_inputs.csv": "assembly",
    "assembly_lines.csv": "assembly",
}


def page_of_assemblies(
    parts: Services, caller: Caller, query: AssemblyQuery, key: bytes
) -> dict[str, Any]:
    """Return a page of the assemblies that the filters select, by code.

    Parameters
    ----------
    parts, caller : Services, Caller
    query : AssemblyQuery
    key : bytes
        What cursors are signed with.
    """
    catalogue = tables_to_look_in(parts, caller, query).catalogue
    matching = [
        one
        for one in catalogue.assemblies.values()
        if query.names(one.code, one.name) and query.unit in (None, one.unit.name)
    ]
    page = page_of_listed(matching, lambda one: str(one.code), query, key)
    return {"assemblies": AssemblyHead(many=True).dump(page.rows), "next": page.next}


def assembly_json(parts: Services, caller: Caller, code: str, query: TablesQuery) -> dict[str, Any]:
    """Return an assembly with what it asks for and uses, as `groundsill rates assemblies` shows it.

    Raises
    ------
    NotFound
        If the tables have no such assembly.
    """
    tables = tables_to_look_in(parts, caller, query)
    assemblies = tables.catalogue.assemblies
    if code not in assemblies:
        raise fault(
            NotFound, f"there is no assembly {quoted(code)}", did_you_mean(code, assemblies)
        )
    assembly = assemblies[code]
    lines = [
        row_json(AssemblyLineAnswer, one) | {"unit": tables.rates.unit_of(one.resource).name}
        for one in tables.lines_of(assembly, assembly.crew)
    ]
    cautions = [tables.catalogue.cautions[one] for one in assembly.cautions]
    fields: dict[str, Any] = AssemblyAnswer(exclude=("lines", "cautions")).dump(assembly)
    return fields | {"lines": lines, "cautions": AssemblyCaution(many=True).dump(cautions)}


def versions_of_assembly(
    parts: Services, caller: Caller, rate_set_id: UUID, code: str
) -> dict[str, Any]:
    """Return the published versions of a set in which an assembly became another, newest first.

    Raises
    ------
    NotFound
        If the account has no such set.
    """
    with parts.store.reading(caller) as session:
        session.existing(RateSet, rate_set_id)
        versions = list(_became_another(session, rate_set_id, code))
    return {"versions": versions[::-1]}


def _became_another(
    session: AccountSession, rate_set_id: UUID, code: str
) -> Iterator[dict[str, Any]]:
    """Yield the versions in which the rows of an assembly differ from those of the one before."""
    published = select(RateVersion).where(
        RateVersion.rate_set_id == rate_set_id, RateVersion.published_at.is_not(None)
    )
    before = content_digest([])
    for version in session.scalars(published.order_by(RateVersion.number)):
        rows = _rows_of_assembly(session, version.id, code)
        digest = content_digest((row.file, row.cells) for row in rows)
        if digest != before:
            assert version.published_at is not None
            yield {
                "version_id": str(version.id),
                "number": version.number,
                "published_at": moment_text(version.published_at),
                "manner": _manner(before, digest),
            }
        before = digest


def _rows_of_assembly(session: AccountSession, version_id: UUID, code: str) -> list[RateRow]:
    statement = select(RateRow).where(
        RateRow.rate_version_id == version_id, RateRow.file.in_(list(_FILES))
    )
    rows = session.scalars(statement.order_by(RateRow.file, RateRow.position, RateRow.id))
    return [row for row in rows if row.cells.get(_FILES[row.file]) == code]


def _manner(before: str, digest: str) -> str:
    nothing = content_digest([])
    if before == nothing:
        return "added"
    return "removed" if digest == nothing else "changed"
