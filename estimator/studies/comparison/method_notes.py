"""What is not sure about the methods of a comparison: paces and call-outs, in sentences."""

from __future__ import annotations

from estimator.errors import quoted
from estimator.pricing.pace_notes import call_out_words, called_out, rough_pace
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.prepared_method import PreparedMethod


def notes_of(one: PreparedMethod) -> tuple[str, ...]:
    """Return what is not sure about a method, without capitals and full stops."""
    whose = quoted(one.method.name)
    resources = called_out((priced.line, priced.rate.unit) for priced in one.lines)
    return (
        *rough_pace(one.method, whose),
        *(call_out_words(resource, whose) for resource in resources),
    )


def note_sentences(comparison: Comparison) -> tuple[str, ...]:
    """Return what is not sure about each method, in sentences."""
    return tuple(
        f"{note[0].upper()}{note[1:]}." for one in comparison.prepared for note in notes_of(one)
    )
