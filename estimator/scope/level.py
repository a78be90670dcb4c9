"""The level of an item's top, and the levels that are looked for on the way up."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from estimator.errors import Faults, quoted
from estimator.quantity.units import unit
from estimator.scope.input_value import InputValue
from estimator.scope.located import Located, Section, Text
from estimator.scope.located_reader import LocatedReader

LEVEL = "level"
DEPTH = "depth"

_TOP, _MARKS = "top", "marks"
_FOOT = unit("ft")


@dataclass(frozen=True)
class Level:
    """Levels by one datum.

    Parameters
    ----------
    top : InputValue
        [ft] Of the finished work.
    marks : tuple of InputValue
        [ft] Below the top: the underside of a beam, a bench.
    """

    top: InputValue
    marks: tuple[InputValue, ...] = ()


def read_level(section: Section, depth: InputValue | None, faults: Faults) -> Level | None:
    """Return the level that an item states, None if it states none or a faulty one.

    Parameters
    ----------
    section : Section
        The item; `level: 100 ft`, or `level: {top: 100 ft, marks: [96 ft, 98 ft]}`.
    depth : InputValue or None
        Of the item; the marks lie within its deepest.
    """
    written = section.entries.get(LEVEL)
    if written is None:
        return None
    if depth is None:
        faults.add(written.where, f"the item has a {LEVEL} and no {DEPTH}", f"remove the {LEVEL}")
        return None
    return _LevelReader(faults).level(written, depth)


class _LevelReader(LocatedReader):
    def level(self, written: Located, depth: InputValue) -> Level | None:
        if isinstance(written, Text):
            written = Section({_TOP: written}, written.where)
        section = self.section(written, LEVEL, (_TOP, _MARKS))
        top = self.feet(section, _TOP)
        if top is None:
            return None
        deepest = depth.value
        if depth.profile is not None:
            deepest = depth.value * Fraction(depth.profile.deepest).limit_denominator(10**6)
        marks = []
        for number, part in enumerate(self.parts(section, _MARKS, required=False), start=1):
            key = f"mark {number}"
            mark = self.feet(Section({key: part}, part.where), key)
            if mark is not None and not top.value - deepest < mark.value < top.value:
                what = f"{key} {quoted(mark.text)} is not between the deepest point and the top"
                remedy = f"the top is at {top.text}, the depth {float(deepest):,.2f} ft at most"
                self.faults.add(part.where, what, remedy)
            elif mark is not None:
                marks.append(mark)
        return Level(top, tuple(sorted(marks, key=lambda one: one.value)))

    def feet(self, section: Section, key: str) -> InputValue | None:
        measure = self.measured(section, key, _FOOT, required=True)
        return None if measure is None else InputValue(measure.in_unit(_FOOT), measure.text)
