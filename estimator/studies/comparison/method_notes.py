"""What is not sure about the methods of a comparison, in sentences."""

from __future__ import annotations

from estimator.errors import quoted
from estimator.pricing.pace_notes import rough_pace
from estimator.scope.methods.method import Method
from estimator.studies.comparison.comparison import Comparison


def notes_of(method: Method) -> tuple[str, ...]:
    """Return what is not sure about a method, without capitals and full stops."""
    return tuple(rough_pace(method, quoted(method.name)))


def note_sentences(comparison: Comparison) -> tuple[str, ...]:
    """Return what is not sure about each method, in sentences."""
    return tuple(
        f"{note[0].upper()}{note[1:]}."
        for one in comparison.prepared
        for note in notes_of(one.method)
    )
