"""Rules of public programs that the terms of a loan may start from, each named by what it is.

Only what the program itself rules is here; sums, days and rates are the loan's own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Preset:
    """What a public program rules, as the body of a loan has it, and where it says so."""

    source: str
    terms: Mapping[str, Any]


PRESETS: Mapping[str, Preset] = {
    "203(k) Standard, HUD Handbook 4000.1": Preset(
        "HUD Handbook 4000.1, II.A.8.a.xviii(C), by HUD answers KA-05003, KA-04925 and KA-04937: "
        "finished work is paid, by checks to borrower and contractor together, and what was held "
        "back with the last draw. Ten percent held back, and five draws at most (four and a final "
        "one), are read second-hand: look them up in the handbook",
        {
            "basis": "percent",
            "retainage": {"work_percent": "10", "stored_percent": "10"},
            "vendors": "jointly",
            "most_draws": 5,
        },
    ),
    "federal construction contract, 48 CFR 52.232-5": Preset(
        "48 CFR 52.232-5 (b) and (e): estimates of work accomplished, material delivered on the "
        "site and elsewhere, at most ten percent held back; 52.232-27 (a)(1): paid within 14 days",
        {
            "basis": "percent",
            "retainage": {"work_percent": "10", "stored_percent": "10"},
            "stored_off_site": True,
            "days_to_funding": 14,
        },
    ),
}


def presets_json() -> list[dict[str, Any]]:
    """Return each program by name, with its source and the terms that it rules."""
    return [
        {"name": name, "source": one.source, "terms": dict(one.terms)}
        for name, one in PRESETS.items()
    ]
