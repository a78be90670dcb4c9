"""Kinds of resources: all but salvage are a cost; what salvage is sold for is a source of money.

Interest is what borrowed money costs while the work goes on: only a markup that names it is taken
on it.
"""

from __future__ import annotations

COSTS = (
    "labor", "material", "equipment", "consumable", "haul", "disposal", "subcontract", "fee",
    "interest",
)  # fmt: skip
SALVAGE = "salvage"
LABOR, EQUIPMENT, INTEREST = "labor", "equipment", "interest"
KINDS = (*COSTS, SALVAGE)

SALES_WORDS = "Sale of salvage, a source of money"
