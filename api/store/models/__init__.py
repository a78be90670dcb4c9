"""The models that the store itself needs: accounts with tokens and shares, trail, submissions.

A subject's models stand with the subject, in its `rows.py`; `api.subjects` knows them all.
"""

from __future__ import annotations

from api.store.models.access import Account, ProjectShare, Token
from api.store.models.base import (
    Base,
    OfAccount,
    OfProject,
    OfSite,
    Private,
    ProjectHead,
    table_of,
    table_words,
)
from api.store.models.trail import AuditEnd, AuditRow, StoredSubmission

__all__ = [
    "Account",
    "AuditEnd",
    "AuditRow",
    "Base",
    "OfAccount",
    "OfProject",
    "OfSite",
    "Private",
    "ProjectHead",
    "ProjectShare",
    "StoredSubmission",
    "Token",
    "table_of",
    "table_words",
]
