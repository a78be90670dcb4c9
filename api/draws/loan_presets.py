"""Rules of public programs that the terms of a loan may start from, each named by what it is.

Only what the program itself rules is here; sums, days and rates are the loan's own.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

PRESETS: Mapping[str, Mapping[str, Any]] = {
    # HUD Handbook 4000.1, section 203(k), Standard: what the consultant has inspected is paid, five
    # draws at most (four and a final one), ten percent of each held back; read second-hand
    "203(k) Standard, HUD Handbook 4000.1": {
        "basis": "percent",
        "retainage": {"work_percent": "10", "stored_percent": "10"},
        "most_draws": 5,
    },
    # 48 CFR 52.232-5 (b) and (e): estimates of work accomplished, material delivered on the site
    # and elsewhere, at most ten percent held back; 52.232-27 (a)(1): paid within 14 days
    "federal construction contract, 48 CFR 52.232-5": {
        "basis": "percent",
        "retainage": {"work_percent": "10", "stored_percent": "10"},
        "stored_off_site": True,
        "days_to_funding": 14,
    },
}
