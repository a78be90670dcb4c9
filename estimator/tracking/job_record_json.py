"""What a job's record teaches, as JSON, with the table of the rows that it proposes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from estimator.tracking.job_record import JobRate


def job_rates_fields(rates: Sequence[JobRate], tables: Mapping[str, str]) -> dict[str, Any]:
    """Return what a record teaches; `tables` is what a draft of a rate set is made from.

    Parameters
    ----------
    rates : sequence of JobRate
        See `job_rates`.
    tables : mapping of str to str
        Texts of the proposed rows by file name: prices, and assemblies with other defaults.
    """
    return {"learned": [_fields(one) for one in rates], "tables": dict(tables)}


def _fields(rate: JobRate) -> dict[str, Any]:
    learned = rate.learned
    return {
        "what": rate.what,
        "code": rate.code,
        "unit": rate.unit,
        "observations": learned.observations,
        "mean": figure(learned.mean),
        "low": figure(learned.low),
        "high": figure(learned.high),
        "confidence": figure(learned.confidence),
        "table": None if rate.table is None else figure(rate.table),
        "proposed": None if rate.proposal is None else figure(rate.proposal.rate),
        "evidence": "" if rate.proposal is None else rate.proposal.evidence,
        "outliers": [
            {"happened": one.happened.isoformat(), "value": figure(one.ratio), "note": one.note}
            for one in learned.outliers
        ],
    }


def figure(number: float) -> str:
    """Return a learned figure with four decimals.

    Examples
    --------
    >>> figure(0.5)
    '0.5000'
    """
    return f"{number:.4f}"
