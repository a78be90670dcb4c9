"""What is not sure about the methods of a comparison, in sentences."""

from __future__ import annotations

from estimator.errors import quoted
from estimator.pricing.pace_notes import delayed_pace, rough_pace
from estimator.scope.methods.full_pile import pile_words
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.prepared_method import PreparedMethod
from estimator.studies.comparison.sentences import sentence_case


def notes_of(prepared: PreparedMethod) -> tuple[str, ...]:
    """Return what is not sure about a method and who waits at its pile, without full stops."""
    name = quoted(prepared.method.name)
    at_pile = pile_words(prepared.method, prepared.inputs)
    waits = (f"{name} {at_pile}",) if at_pile else ()
    own = (*rough_pace(prepared.method, name), *delayed_pace(prepared.method, name))
    return (*own, *waits)


def note_sentences(comparison: Comparison) -> tuple[str, ...]:
    """Return what is not sure about each method, in sentences."""
    return tuple(sentence_case(note) for one in comparison.prepared for note in notes_of(one))
