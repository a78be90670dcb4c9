"""Tables to look something up in: shipped, as a project has them, or with a version laid over."""

from __future__ import annotations

from typing import TYPE_CHECKING

from api.calculations.rate_tables import shipped_texts, tables_of
from api.contract.errors import FieldsFaulty
from api.contract.places import parameter
from api.contract.services import Services
from api.projects.rows import Project
from api.rates.lookup_shapes import TablesQuery
from api.rates.project_tables import project_files, version_files
from api.rates.rows import RateVersion
from api.store.caller import Caller
from estimator.errors import fault
from estimator.rates.folders import SHIPPED

if TYPE_CHECKING:
    from estimator.assemblies.tables import Tables


def tables_to_look_in(parts: Services, caller: Caller, query: TablesQuery) -> Tables:
    """Return the tables that the parameters `project` or `version` name, else those that ship.

    Raises
    ------
    FieldsFaulty
        If both are given.
    NotFound
        If the account has no such project or version.
    TablesFaulty
        If the tables have faults, which a draft may have.
    """
    if query.project is not None and query.version is not None:
        raise fault(
            FieldsFaulty, "'project' and 'version' are both given", "give one of them",
            parameter("version"),
        )  # fmt: skip
    files = {SHIPPED: dict(shipped_texts())}
    with parts.store.reading(caller) as session:
        if query.project is not None:
            files = project_files(session, session.existing(Project, query.project))
        elif query.version is not None:
            files |= version_files(session, session.existing(RateVersion, query.version))
    return tables_of(files)
