"""Reading the scope of a request: YAML text, JSON or a file; with its tables and date."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from flask import request

from api.calculations.located_json import located_json
from api.calculations.rate_tables import tables_with
from api.calculations.scope_shapes import DatesToWorkOut, ScopeToPrice
from api.calculations.size_limits import check_paces, check_written_methods
from api.contract.bodies import (
    check_how_many,
    check_media_type,
    check_phase_count,
    upload_limits,
)
from api.contract.errors import BodyFaulty, BodyTooLarge
from api.contract.places import faults_at, pointer
from api.contract.services import services
from estimator.errors import Faults, fault, quoted
from estimator.rates.folders import QUOTES as QUOTES_SET

if TYPE_CHECKING:
    from estimator.assemblies.tables import Tables
    from estimator.pricing.estimate import Estimate
    from estimator.scope.located import Located
    from estimator.scope.other_times import OtherTimes
    from estimator.scope.scope import Scope

YAML_TYPE = "application/yaml"
WORKBOOK_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
FILE_TYPES = (YAML_TYPE, WORKBOOK_TYPE)
SCOPE, QUOTES = pointer("scope"), pointer("quotes")
MOST_SPOTS = 20_000


@dataclass(frozen=True)
class ReadScope:
    """A scope with its tables and the pricing date."""

    scope: Scope
    tables: Tables
    on: date

    def priced(self) -> Estimate:
        """Return the estimate."""
        from estimator.scheduling.dated_estimate import price

        return price(self.scope, self.tables, self.on)


def scope_of_body(body: ScopeToPrice) -> ReadScope:
    """Return the scope that a body gives, with its tables and date.

    Raises
    ------
    ScopeFaulty, TablesFaulty
        With every fault at its pointer; those of a YAML text with their lines.
    """
    from estimator.scope.other_times import with_other_times

    with faults_at(QUOTES):
        tables = tables_with(body.quotes)
    slips = Faults()
    with faults_at(SCOPE):
        written = with_other_times(located_scope(body.scope, slips), times_of(body))
        return _read(written, tables, body.on, slips)


def times_of(body: DatesToWorkOut) -> OtherTimes:
    """Return what a body puts before the times of a scope, each at its pointer."""
    from estimator.scope.located import Text
    from estimator.scope.other_times import OtherTimes

    crew = (body.crew or {}).items()
    return OtherTimes(
        Text(body.start.isoformat(), pointer("start")) if body.start else None,
        Text(body.week, pointer("week")) if body.week else None,
        {one: Text(str(number), pointer("crew", one)) for one, number in crew},
    )


def stated_times(body: DatesToWorkOut) -> OtherTimes | None:
    """Return what a body puts before the times of a scope; None where it says nothing of them."""
    return times_of(body) if body.start or body.week or body.crew else None


def scope_of_file(on: date | None) -> ReadScope:
    """Return the scope that is the body: a YAML file or a workbook.

    Raises
    ------
    MediaTypeUnfit
        If it is neither.
    ScopeFaulty, WorkbookRefused
        With line or cell.
    """
    slips = Faults()
    written = located_file(check_media_type(FILE_TYPES), slips)
    return _read(written, tables_with(None), on, slips)


def located_file(kind: str, slips: Faults) -> Located:
    """Return the located text of the file that is the body.

    A workbook is searched for harm first, and then read by a process of its own.

    Parameters
    ----------
    kind : str
        One of `FILE_TYPES`.
    slips : Faults
        Where what is wrong with its form is noted.
    """
    content = request.get_data(cache=False)
    if not content:
        raise fault(BodyFaulty, "the body is empty", "send the file as it is")
    if kind == YAML_TYPE:
        from estimator.scope.scope_yaml import read_yaml

        return read_yaml(content, "scope.yaml", slips)
    from estimator.workbook.scope.scope_reader import read_scope_workbook

    return read_scope_workbook(content, "scope.xlsx", upload_limits(), slips)


def located_scope(scope: str | dict[str, Any], slips: Faults) -> Located:
    """Return the located text of a scope that is YAML text or an object in the body.

    Parameters
    ----------
    scope : str or dict
        As the body has it.
    slips : Faults
        Where what is wrong with its form is noted.
    """
    if isinstance(scope, dict):
        return located_json(scope, SCOPE, slips)
    from estimator.scope.scope_yaml import read_yaml

    return read_yaml(scope.encode(), "scope", slips)


def note_folders(written: Located, sets: Collection[str], faults: Faults) -> None:
    """Note which tables a scope names that did not come with it.

    Parameters
    ----------
    written : Located
        The scope.
    sets : collection of str
        Names of the sets of tables that there are.
    faults : Faults
        Where they are noted.
    """
    from estimator.scope.named_folders import named_folders

    named = named_folders(written, faults)
    if named.rates:
        what = f"the scope names the rates {quoted(named.rates)}, a folder on another computer"
        faults.add("", what, "choose a rate set here, and take the key out")
    if named.quotes and QUOTES_SET not in sets:
        what = f"the scope names the quotes {quoted(named.quotes)}, which did not come with it"
        faults.add("", what, "send them as 'quotes' beside the scope, or take the key out")


def check_size(written: Located) -> None:
    """Refuse a scope with more phases, items, depths or methods than one request may have, unread.

    Raises
    ------
    BodyTooLarge
        Saying how many are taken.
    """
    from estimator.scope.located import list_sizes

    sizes = list_sizes(written)
    check_phase_count(sizes["phases"], "scope")
    check_how_many(sizes["items"], "scope", "items")
    if sizes["spots"] > MOST_SPOTS:
        what = f"the scope has more than {MOST_SPOTS:,} spot depths in all"
        raise fault(BodyTooLarge, what, "send it in parts")
    check_written_methods(sizes)


def _read(written: Located, tables: Tables, on: date | None, slips: Faults) -> ReadScope:
    from estimator.scope.scope_reader import read_scope

    check_size(written)
    note_folders(written, tables.sets, slips)
    scope = read_scope(written, tables, slips=slips)
    check_paces(scope)
    return ReadScope(scope, tables, on or scope.on or services().now.date())
