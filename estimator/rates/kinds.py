"""Kinds of resources, and which of them reduce a cost."""

from __future__ import annotations

KINDS = (
    "labor", "material", "equipment", "consumable", "haul", "disposal", "subcontract", "fee",
    "salvage",
)  # fmt: skip


def sign_of(kind: str) -> int:
    """Return 1 for a kind that costs, -1 for salvage, whose amounts are subtracted."""
    return -1 if kind == "salvage" else 1
