"""The models of the store, one module a subject: access, project, rates, estimate, trail.

Here belongs what is kept and what the database itself holds true of it; no sessions, no use
cases. Importing this package is enough to know every table.
"""

from __future__ import annotations

from api.store.models.access import Account, ProjectShare, Token
from api.store.models.base import Base, OfAccount, OfProject, Private, table_of
from api.store.models.estimate import (
    AcceptedEstimate,
    EstimateLine,
    EstimateStudy,
    EstimateTables,
    StoredEstimate,
    TableContent,
)
from api.store.models.project import Project, ProjectItem, ProjectPhase, ProjectQuote
from api.store.models.rates import RateRow, RateSet, RateVersion
from api.store.models.trail import AuditEnd, AuditRow, Submission

__all__ = [
    "AcceptedEstimate",
    "Account",
    "AuditEnd",
    "AuditRow",
    "Base",
    "EstimateLine",
    "EstimateStudy",
    "EstimateTables",
    "OfAccount",
    "OfProject",
    "Private",
    "Project",
    "ProjectItem",
    "ProjectPhase",
    "ProjectQuote",
    "ProjectShare",
    "RateRow",
    "RateSet",
    "RateVersion",
    "StoredEstimate",
    "Submission",
    "TableContent",
    "Token",
    "table_of",
]
