"""`/v1/assemblies`, `/v1/resources` and `/v1/search`: what the tables have, to choose from."""

from __future__ import annotations

from uuid import UUID

from flask import Response

from api.access.sign_in import current_caller, cursor_key
from api.contract.answers import json_answer
from api.contract.blueprint import Blueprint
from api.contract.services import services
from api.rates.assemblies import assembly_json, page_of_assemblies, versions_of_assembly
from api.rates.lookup_shapes import (
    AssemblyAnswer,
    AssemblyPage,
    AssemblyQuery,
    AssemblyVersionsAnswer,
    ResourcePage,
    ResourceQuery,
    SearchAnswer,
    SearchQuery,
    TablesQuery,
)
from api.rates.resources import page_of_resources
from api.rates.searched import search_json

lookup = Blueprint("lookup", __name__, description="Assemblies and resources of the tables.")


@lookup.get("/v1/assemblies")
@lookup.asks(AssemblyQuery)
@lookup.answers(AssemblyPage)
def list_assemblies(query: AssemblyQuery) -> Response:
    """List assemblies: as shipped, for a project, or with a rate version laid over them."""
    return json_answer(page_of_assemblies(services(), current_caller(), query, cursor_key()))


@lookup.get("/v1/assemblies/<code>")
@lookup.asks(TablesQuery)
@lookup.answers(AssemblyAnswer)
def show_assembly(query: TablesQuery, code: str) -> Response:
    """Show an assembly: its inputs, formulas, resources and cautions."""
    return json_answer(assembly_json(services(), current_caller(), code, query))


@lookup.get("/v1/rate-sets/<uuid:rate_set_id>/assemblies/<code>/versions")
@lookup.answers(AssemblyVersionsAnswer)
def list_assembly_versions(rate_set_id: UUID, code: str) -> Response:
    """List the published versions of a rate set that changed an assembly."""
    return json_answer(versions_of_assembly(services(), current_caller(), rate_set_id, code))


@lookup.get("/v1/resources")
@lookup.asks(ResourceQuery)
@lookup.answers(ResourcePage)
def list_resources(query: ResourceQuery) -> Response:
    """List resources with their rates on a date, and the row each rate comes from."""
    return json_answer(page_of_resources(services(), current_caller(), query, cursor_key()))


@lookup.get("/v1/search")
@lookup.asks(SearchQuery)
@lookup.answers(SearchAnswer)
def search_tables(query: SearchQuery) -> Response:
    """Search assemblies, resources, crews and cautions for words or parts of words."""
    return json_answer(search_json(services(), current_caller(), query))
