"""Kinds of resources: all but salvage are a cost; what salvage is sold for is a source of money."""

from __future__ import annotations

COSTS = (
    "labor", "material", "equipment", "consumable", "haul", "disposal", "subcontract", "fee",
)  # fmt: skip
SALVAGE = "salvage"
LABOR, EQUIPMENT = "labor", "equipment"
KINDS = (*COSTS, SALVAGE)

SALES_WORDS = "Sale of salvage, a source of money"
