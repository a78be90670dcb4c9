"""What the bodies about tokens ask for, as typed commands."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True)
class NewHolder:
    """Who holds a token from now on."""

    holder: str


@dataclass(frozen=True, kw_only=True)
class NewToken(NewHolder):
    """A token that is to be."""

    role: str
    expires_in_days: int
