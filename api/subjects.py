"""The subjects of the service in the order of the work: rows, checks, routes and their roles.

A new subject is added here. Importing this is enough to know every table of the database and what
`verify` asks of each; the routes, which need the web library, are imported on first use.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import api.draws.checks
import api.draws.rows
import api.estimates.checks
import api.estimates.rows
import api.ledger.checks
import api.ledger.documents.checks
import api.ledger.rows
import api.projects.rows
import api.rates.checks
import api.rates.rows  # noqa: F401
from api.access.roles import ACCOUNT_ROLES, RouteRoles
from api.calculations.roles import ROLES as CALCULATIONS
from api.draws.roles import ROLES as DRAWS
from api.estimates.roles import ROLES as ESTIMATES
from api.ledger.roles import ROLES as BOOKS
from api.projects.roles import ROLES as PROJECTS
from api.rates.roles import ROLES as RATES

if TYPE_CHECKING:
    from api.contract.blueprint import Blueprint

ALLOWED: RouteRoles = {
    **ACCOUNT_ROLES,
    **CALCULATIONS,
    **RATES,
    **PROJECTS,
    **ESTIMATES,
    **BOOKS,
    **DRAWS,
}


def blueprints() -> tuple[Blueprint, ...]:
    """Return the routes of all subjects, in the order that the reference shows them."""
    from api.access.audit_routes import audit_trail
    from api.access.token_routes import tokens
    from api.calculations.routes import calculations
    from api.draws.cash_routes import cash
    from api.draws.draw_routes import draws
    from api.draws.loan_routes import loans
    from api.draws.package_routes import packages
    from api.draws.paper_routes import papers
    from api.estimates.estimate_routes import estimates
    from api.estimates.line_routes import estimate_lines
    from api.estimates.study_routes import studies
    from api.ledger.bank_routes import bank_imports
    from api.ledger.credit_routes import credit_file
    from api.ledger.documents.routes import documents
    from api.ledger.entry_routes import books
    from api.ledger.export_routes import exports
    from api.ledger.import_routes import imports
    from api.ledger.report_routes import tracking
    from api.projects.item_routes import items
    from api.projects.phase_routes import phases
    from api.projects.project_routes import projects
    from api.projects.scope_routes import scopes
    from api.projects.share_routes import shares
    from api.rates.lookup_routes import lookup
    from api.rates.quote_routes import quotes
    from api.rates.rate_set_routes import rate_sets
    from api.rates.row_routes import rate_rows
    from api.rates.version_routes import versions

    rate_routes = (lookup, rate_sets, versions, rate_rows)
    project_routes = (projects, shares, phases, items, scopes, quotes, documents)
    estimate_routes = (estimates, estimate_lines, studies)
    later_routes = (
        books, imports, bank_imports, exports, tracking, credit_file, loans, papers, draws,
        packages, cash,
    )  # fmt: skip
    return (
        tokens, audit_trail, calculations, *rate_routes, *project_routes, *estimate_routes,
        *later_routes,
    )  # fmt: skip
