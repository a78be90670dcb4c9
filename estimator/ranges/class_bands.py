"""The class of an estimate, by how much of the job is known, with the published band beside it.

The bands tell how far jobs of a class usually come out from the estimate with its contingency.
They say nothing of this job; ranges that are much narrower than the band are worth a second look.
"""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from estimator.errors import RangeFaulty, fault
from estimator.quantity.rounding import percent_text
from estimator.ranges.totals import SimulatedTotals


@dataclass(frozen=True)
class EstimateClass:
    """A class of estimates.

    Parameters
    ----------
    number : int
        5, where hardly anything is known, to 1.
    known_from, known_to : float
        Share of the job that is known, 0 to 1; neighboring classes overlap.
    below : tuple of two floats
        How far under the estimate the low end of the usual range lies, least and most, as
        fractions of the estimate.
    above : tuple of two floats
        The same for the high end.
    meaning : str
        What is known then, in words of our own.
    source : str
        Where the band was published.
    """

    number: int
    known_from: float
    known_to: float
    below: tuple[float, float]
    above: tuple[float, float]
    meaning: str
    source: str

    @property
    def band(self) -> str:
        """The published band in one line."""
        (low_least, low_most), (high_least, high_most) = self.below, self.above
        return (
            f"-{percent_text(low_most)} to -{percent_text(low_least)} at the low end, "
            f"+{percent_text(high_least)} to +{percent_text(high_most)} at the high end"
        )


@cache
def estimate_classes() -> tuple[EstimateClass, ...]:
    """Return the classes, 5 to 1, from the table that ships."""
    text = (files("estimator.ranges") / "estimate_classes.csv").read_text("utf-8")
    return tuple(_class_of(row) for row in csv.DictReader(text.splitlines()))


def estimate_class(known_fraction: float) -> EstimateClass:
    """Return the class of an estimate; where two overlap, the one that claims less.

    Parameters
    ----------
    known_fraction : float
        How much of the job is known, 0 to 1, for instance from `known_fraction`.

    Raises
    ------
    RangeFaulty
        If it is not between 0 and 1.

    References
    ----------
    US Department of Energy, DOE G 413.3-21, Cost Estimating Guide (2011): its reprint of the matrix
    of classes for the process industries (second-hand).

    Examples
    --------
    >>> estimate_class(0.35).number, estimate_class(0.35).band
    (3, '-20 % to -10 % at the low end, +10 % to +30 % at the high end')
    """
    for one in estimate_classes():
        if one.known_from <= known_fraction <= one.known_to:
            return one
    raise fault(RangeFaulty, f"{known_fraction} is not between 0 and 1", "", "known_fraction")


def known_fraction(cents: Sequence[int], is_known: Sequence[bool]) -> float:
    """Return the share of an estimate's cost that stands on something known, 0 to 1.

    A line is known if its quantity was measured or drawn and its price stands in a dated quote that
    still holds; an allowance, a lump sum, an expired quote and a rate that ships are not. Our own
    reading: the published classes ask for drawings and documents, which an owner-builder's estimate
    shows only through its lines.

    Parameters
    ----------
    cents : sequence of int [cent]
        Of the lines; credits count by their size.
    is_known : sequence of bool
        For each line, whether it rests on a valid quote.

    Raises
    ------
    RangeFaulty
        If the two differ in length.

    Examples
    --------
    >>> known_fraction([300_000, 100_000], [True, False])
    0.75
    """
    if len(cents) != len(is_known):
        raise fault(RangeFaulty, f"{len(cents)} lines, but {len(is_known)} answers", "", "is_known")
    whole = sum(abs(one) for one in cents)
    known = sum(abs(one) for one, sure in zip(cents, is_known, strict=True) if sure)
    return known / whole if whole else 0.0


def beside_class(totals: SimulatedTotals, of_class: EstimateClass) -> str:
    """Return how the simulated range compares with the band of a class, in a sentence.

    Notes
    -----
    The published bands hold for four jobs in five (P10 to P90), about the estimate with its
    contingency; so P10 and P90 are taken about P50 (from memory).
    """
    low, middle, high = (totals.percentile_cents(share) for share in (0.1, 0.5, 0.9))
    if middle <= 0:
        return "A job that costs nothing has no class."
    below, above = 1.0 - low / middle, high / middle - 1.0
    low_end, high_end = (percent_text(one, sign="+") for one in (-below, above))
    shown = f"P10 to P90 runs from {low_end} to {high_end} around P50"
    usual = f"jobs of class {of_class.number} usually run {of_class.band}"
    if below < of_class.below[0] and above < of_class.above[0]:
        return f"{shown}; {usual}. The ranges are narrower than that: are they honest?"
    if below > of_class.below[1] or above > of_class.above[1]:
        return f"{shown}; {usual}. The ranges are wider: find out more before you commit."
    return f"{shown}; {usual}."


def _class_of(row: dict[str, str]) -> EstimateClass:
    def percent(name: str) -> float:
        return int(row[f"{name}_percent"]) / 100

    return EstimateClass(
        int(row["class"]),
        percent("known_from"),
        percent("known_to"),
        (percent("below_least"), percent("below_most")),
        (percent("above_least"), percent("above_most")),
        row["meaning"],
        row["source"],
    )
