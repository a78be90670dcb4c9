"""Who asks: an account, in a role, by a token or from the command line."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from api.store.models.access import CREW, LENDER, OWNER


@dataclass(frozen=True)
class Caller:
    """On whose behalf the store is read and written.

    Parameters
    ----------
    account_id : UUID
        The one account whose rows are seen.
    role : str
        `owner`, `bookkeeper`, `crew` or `lender`; the last two see only what is shared with their
        token.
    token_id : UUID or None
        The token that was shown; None for somebody at the machine itself.
    """

    account_id: UUID
    role: str = OWNER
    token_id: UUID | None = None

    @property
    def actor(self) -> str:
        """How the audit trail names them."""
        return f"token {self.token_id}" if self.token_id else "command line"

    @property
    def is_lender(self) -> bool:
        """Whether they see only what of shared projects is for a lender."""
        return self.role == LENDER

    @property
    def is_crew(self) -> bool:
        """Whether they log the work of shared projects, and see no money."""
        return self.role == CREW
