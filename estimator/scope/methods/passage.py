"""Whether a machine passes an opening: the clear width and height against its own.

A machine is given with its size, or by the name of a class (`rates/public/machine_sizes.csv`).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from estimator.errors import Faults, did_you_mean, quoted
from estimator.quantity.units import unit
from estimator.rates.public.machine_sizes import machine_sizes
from estimator.scope.input_value import InputValue
from estimator.scope.located import Located, Section, Text
from estimator.scope.located_reader import LocatedReader

OPENING, MACHINE, THROUGH_OPENING = "opening", "machine", "through_opening"
LARGEST_FT = 200

_KEYS = ("name", "width", "height")
_FOOT = unit("ft")


@dataclass(frozen=True)
class Size:
    """An opening with its clear width and height, or a machine as it goes through one.

    Parameters
    ----------
    name : str
        As sentences call it, without its article: `wagon door`, `skid steer`.
    width, height : InputValue
        [ft] Above zero.
    """

    name: str
    width: InputValue
    height: InputValue

    @property
    def words(self) -> str:
        """Name and size: `wagon door, 8 ft wide and 9 ft high`."""
        return f"{self.name}, {self.width.text} wide and {self.height.text} high"


def obstacle(machine: Size | None, opening: Size | None) -> str:
    """Return why a machine does not pass an opening, or nothing where it does.

    Parameters
    ----------
    machine, opening : Size or None
        None where nothing is said: then nothing is in the way.

    Notes
    -----
    It passes if it is both narrower and lower; one that just fills the opening does not.
    """
    if machine is None or opening is None:
        return ""
    is_narrower = machine.width.value < opening.width.value
    is_lower = machine.height.value < opening.height.value
    if is_narrower and is_lower:
        return ""
    return f"the {machine.words}, does not pass the {opening.words}"


def read_size(section: Section, key: str, faults: Faults) -> Size | None:
    """Return the size under a key, None if it is not there or has faults, which are noted."""
    written = section.entries.get(key)
    if key == MACHINE and isinstance(written, Text):
        written = _of_class(written, faults)
    return None if written is None else _SizeReader(faults).size(written, key)


def _of_class(written: Text, faults: Faults) -> Section | None:
    """Return the size of a class of machines as if it had been written out."""
    sizes = machine_sizes()
    if written.value not in sizes:
        what = f"machine {quoted(written.value)} is not a known class"
        remedy = did_you_mean(written.value, sizes, "write its name, width and height")
        faults.add(written.where, what, remedy)
        return None
    sides = (written.value, *sizes[written.value])
    return Section(
        {key: Text(side, written.where) for key, side in zip(_KEYS, sides, strict=True)},
        written.where,
    )


class _SizeReader(LocatedReader):
    def size(self, written: Located, what: str) -> Size | None:
        section = self.section(written, what, _KEYS)
        if not isinstance(written, Section):
            return None
        name = self.text(section, "name")
        width, height = (self.side(section, what, side) for side in ("width", "height"))
        return Size(name, width, height) if name and width and height else None

    def side(self, section: Section, what: str, key: str) -> InputValue | None:
        measure = self.measured(section, key, _FOOT, required=True)
        if measure is None:
            return None
        feet = Fraction(measure.in_unit(_FOOT))
        if not 0 < feet <= LARGEST_FT:
            where = section.entries[key].where
            wrong = f"is more than {LARGEST_FT} ft" if feet else "is zero: nothing passes"
            self.faults.add(where, f"{what} {key} {wrong}", "measure it, and check the unit")
            return None
        return InputValue(feet, measure.text)
