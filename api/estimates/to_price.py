"""What an estimate is made of: a project's scope and its tables, as they are at one moment."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from api.calculations.size_limits import check_paces, check_written_methods
from api.projects.rows import Project
from api.projects.written_scope import section_of, written_scope
from api.rates.project_tables import project_files, tables_of
from api.store.columns import canonical_json
from api.store.errors import ValueRefused
from api.store.sessions import AccountSession
from estimator.errors import fault

if TYPE_CHECKING:
    from estimator.pricing.estimate import Estimate
    from estimator.scope.located import Located
    from estimator.scope.other_times import OtherTimes


@dataclass(frozen=True)
class ToPrice:
    """What is priced.

    Parameters
    ----------
    scope : mapping
        As it was written.
    files : mapping of str to mapping of str to str
        The sets of tables, lowest first: name, and text by file name.
    times : OtherTimes or None
        What goes before the times of the scope.
    """

    scope: Mapping[str, Any]
    files: Mapping[str, Mapping[str, str]]
    times: OtherTimes | None = None

    @property
    def scope_text(self) -> str:
        """The scope as it is stored: as it was written, or as if with other times."""
        from estimator.scope.located import without_places

        plain = self.scope if self.times is None else without_places(self._located())
        return canonical_json(plain)

    def _located(self) -> Located:
        from estimator.scope.other_times import with_other_times

        written = section_of(self.scope, "scope")
        return written if self.times is None else with_other_times(written, self.times)

    def priced(self, on: date) -> Estimate:
        """Return the estimate at the rates of a day.

        Raises
        ------
        ScopeFaulty, TablesFaulty, RateMissing
            With every fault at its place in the scope.
        BodyTooLarge
            If its methods would hold a worker for long.
        """
        from estimator.scheduling.dated_estimate import price
        from estimator.scope.located import list_sizes
        from estimator.scope.scope_reader import read_scope

        tables, written = tables_of(self.files), self._located()
        check_written_methods(list_sizes(written))
        scope = read_scope(written, tables)
        check_paces(scope)
        return price(scope, tables, on)


def to_price(session: AccountSession, project: Project, times: OtherTimes | None = None) -> ToPrice:
    """Return what an estimate of a project is made of, as it stands now.

    Raises
    ------
    ValueRefused
        If the project has no item to price.
    """
    scope = written_scope(session, project)
    if not scope["phases"]:
        raise fault(
            ValueRefused, "the project has no items yet", "add an item, or send its whole scope"
        )
    return ToPrice(scope, project_files(session, project), times)
