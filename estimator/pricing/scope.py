"""The scope: what is to be done, phase by phase and item by item, with measured inputs."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from fractions import Fraction
from functools import cached_property

from estimator.assemblies.recipe import Assembly


@dataclass(frozen=True)
class Given:
    """The value of an input as a scope gives it.

    Parameters
    ----------
    value : Fraction
        In base units (ft, lb, hr, day, $), exactly.
    text : str
        As it is printed: `62 ft 6 in`, or `average of 1 ft and 7 ft 3 in`.
    base_value : float
        The float nearest to the value, worked out once, at the door.
    """

    value: Fraction
    text: str
    base_value: float = field(init=False, compare=False)

    def __post_init__(self) -> None:
        nearest = self.value.numerator / self.value.denominator
        object.__setattr__(self, "base_value", nearest)


@dataclass(frozen=True)
class Item:
    """One priced piece of work.

    Parameters
    ----------
    code : str
        The cost code, `phase.item`.
    name : str
        The work in the scope's words.
    assembly : Assembly
        The recipe.
    inputs : mapping of str to Given
        What the scope gives; the recipe's defaults stand for the rest.
    crew : str
        Who does it; empty for work that is bought.
    element : str
        UNIFORMAT II element, or empty.
    note : str
        A sentence for the printed estimate.
    where : str
        Where it stands in the scope.
    """

    code: str
    name: str
    assembly: Assembly
    inputs: Mapping[str, Given]
    crew: str
    element: str
    note: str
    where: str


@dataclass(frozen=True)
class Phase:
    """A stage of the job."""

    code: str
    name: str
    items: tuple[Item, ...]


@dataclass(frozen=True)
class Scope:
    """What is to be done.

    Parameters
    ----------
    project : str
        What the building or the job is called.
    shift : Given
        [hr/day] Length of the working day.
    on : date or None
        The pricing date, if the scope names one.
    markups : tuple of str or None
        Codes of the markups that apply; None for all of the tables.
    assumptions : tuple of str
        Sentences for the printed estimate.
    phases : tuple of Phase
        In order.
    """

    project: str
    shift: Given
    on: date | None
    markups: tuple[str, ...] | None
    assumptions: tuple[str, ...]
    phases: tuple[Phase, ...]

    @cached_property
    def items(self) -> tuple[Item, ...]:
        """All items, in order."""
        return tuple(item for phase in self.phases for item in phase.items)

    @cached_property
    def digest(self) -> str:
        """SHA-256 of what the scope says, without where it stands in a file."""
        said = {
            "project": self.project,
            "shift": str(self.shift.value),
            "markups": self.markups,
            "assumptions": self.assumptions,
            "phases": [_phase_said(phase) for phase in self.phases],
        }
        text = json.dumps(said, sort_keys=True, ensure_ascii=True, separators=(",", ":"))
        return hashlib.sha256(text.encode()).hexdigest()


def _phase_said(phase: Phase) -> list[object]:
    items = [
        [
            item.code,
            item.name,
            item.assembly.code,
            sorted((name, str(one.value), one.text) for name, one in item.inputs.items()),
            item.crew,
            item.element,
            item.note,
        ]
        for item in phase.items
    ]
    return [phase.code, phase.name, items]
