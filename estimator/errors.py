"""The one family of errors: what is wrong, where, and what would be right.

Ground floor: imports nothing of the project. A problem with somebody's input is a `Fault`; the
faults of one input travel together in one `InputFaulty`, so that nobody mends a file line by line.
The first thousand are listed and the rest counted: nobody reads more at once.
"""

from __future__ import annotations

from bisect import bisect
from collections import UserString
from collections.abc import Iterable
from dataclasses import dataclass, field
from difflib import get_close_matches
from functools import cached_property
from itertools import islice

MOST_FAULTS = 1_000
_LONGEST_QUOTE = 60
_ALIKE = 0.75
_MOST_COMPARED = 1_000

Remedy = str | UserString


class GroundsillError(Exception):
    """Something the program cannot do, in a sentence for the user."""

    code = "error"


@dataclass(frozen=True, order=True)
class Fault:
    """One thing that is wrong with an input.

    Parameters
    ----------
    where : str
        File, sheet, row, item or field, as the person would look for it; may be empty.
    what : str
        What is wrong, without a full stop.
    remedy : str or Nearest
        What would be right, without a full stop; may be empty.
    """

    where: str
    what: str
    remedy: Remedy = ""

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        remedy = f"; {self.remedy}" if self.remedy else ""
        return f"{place}{self.what}{remedy}"


class InputFaulty(GroundsillError):
    """An input has one or more faults; nothing was done with it.

    Parameters
    ----------
    faults : iterable of Fault
        The first thousand are listed.
    more : int
        How many there are besides these.
    """

    code = "input-faulty"

    def __init__(self, faults: Iterable[Fault], more: int = 0) -> None:
        rest = iter(faults)
        self.faults = tuple(islice(rest, MOST_FAULTS))
        self.more = more + sum(1 for _ in rest)
        super().__init__(self.faults, self.more)

    def __str__(self) -> str:
        more = [f"and {self.more:,} more"] if self.more else []
        return "\n".join([*(str(fault) for fault in self.faults), *more])


class MeasureFaulty(InputFaulty):
    """A text is not a measure, or not the kind of measure needed here."""

    code = "measure-faulty"


class FormulaFaulty(InputFaulty):
    """A formula does not parse, names something unknown, or its dimensions do not fit."""

    code = "formula-faulty"


class TablesFaulty(InputFaulty):
    """The rate tables have one or more faults."""

    code = "tables-faulty"


class ScopeFaulty(InputFaulty):
    """The scope has one or more faults."""

    code = "scope-faulty"


class WorkbookRefused(InputFaulty):
    """A workbook is damaged, too large, or built to do harm."""

    code = "workbook-refused"


class FileNotWritten(InputFaulty):
    """A file cannot be written there; what was there before is unchanged."""

    code = "file-not-written"


class GeometryFaulty(InputFaulty):
    """Dimensions that describe no shape: too few points, no area, a negative length."""

    code = "geometry-faulty"


class RateMissing(InputFaulty):
    """There is no rate for the pricing date; the work is never priced at zero instead."""

    code = "rate-missing"


class AmountFaulty(InputFaulty):
    """Not an exact sum, or one that cannot be split: a binary float, weights that are all zero."""

    code = "amount-faulty"


class AmountTooLarge(InputFaulty):
    """A quantity or sum is too large to be added up to the cent."""

    code = "amount-too-large"


class LaborFaulty(InputFaulty):
    """Terms of pay or working time that describe no labor: a negative wage, pay without hours."""

    code = "labor-faulty"


class EquipmentFaulty(InputFaulty):
    """Terms of a machine that cannot price it: no rental tier, no life, a negative price."""

    code = "equipment-faulty"


class ProductionFaulty(InputFaulty):
    """Work that cannot be done as described: no time, nobody to carry, nothing that limits it."""

    code = "production-faulty"


class MethodsFaulty(InputFaulty):
    """Ways of doing the work that cannot be compared, or an input of theirs that cannot vary."""

    code = "methods-faulty"


class CalendarFaulty(InputFaulty):
    """A calendar without working days, or on which the work never ends."""

    code = "calendar-faulty"


class RangeFaulty(InputFaulty):
    """A range, an event or a confidence that describes no chance: low above high, no cost."""

    code = "range-faulty"


class CorrelationFaulty(InputFaulty):
    """Correlation values that no set of lines can have together."""

    code = "correlation-faulty"


class PhaseOrderFaulty(InputFaulty):
    """Phases that wait for each other, or for a phase that is not there."""

    code = "phase-order-faulty"


class LedgerFaulty(InputFaulty):
    """A row of the books cannot be posted as it stands."""

    code = "ledger-faulty"


class FundingFaulty(InputFaulty):
    """Terms of a loan, a draw or a credit that do not fit together."""

    code = "funding-faulty"


def fault(error: type[InputFaulty], what: str, remedy: Remedy = "", where: str = "") -> InputFaulty:
    """Return an error of the given class with a single fault.

    Examples
    --------
    >>> str(fault(MeasureFaulty, "'12' has no unit", "write '12 ft'", "item 20.010, depth"))
    "item 20.010, depth: '12' has no unit; write '12 ft'"
    """
    return error([Fault(where, what, remedy)])


@dataclass
class Faults:
    """Collects the faults of one input, so that all come in one answer.

    Parameters
    ----------
    entries : list of Fault
        The first thousand.
    more : int
        How many there are besides these.
    """

    entries: list[Fault] = field(default_factory=list)
    more: int = 0

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self.entries) + self.more

    def add(self, where: str, what: str, remedy: Remedy = "") -> None:
        """Note one fault."""
        if len(self.entries) < MOST_FAULTS:
            self.entries.append(Fault(where, what, remedy))
        else:
            self.more += 1

    def take(self, where: str, error: InputFaulty) -> None:
        """Note the faults of an error, placed under `where`."""
        for one in error.faults:
            place = f"{where}, {one.where}" if where and one.where else where or one.where
            self.add(place, one.what, one.remedy)
        self.more += error.more

    def raise_if_any(self, error: type[InputFaulty]) -> None:
        """Raise `error` with every fault noted so far, if there is one."""
        if self.entries:
            raise error(self.entries, self.more)


def quoted(text: object) -> str:
    """Return a text in quotes, on one line and cut to a readable length.

    Examples
    --------
    >>> quoted("62 ft")
    "'62 ft'"
    """
    shown = "".join(c if c.isprintable() else repr(c)[1:-1] for c in str(text)[:_LONGEST_QUOTE])
    return f"'{shown}...'" if len(str(text)) > _LONGEST_QUOTE else f"'{shown}'"


def how_many(count: int, noun: str) -> str:
    """Return how many there are of something, in words: one stands in the singular.

    Examples
    --------
    >>> how_many(1, "row"), how_many(2_000, "row"), how_many(0, "assembly")
    ('1 row', '2,000 rows', '0 assemblies')
    """
    if count == 1:
        return f"1 {noun}"
    ends_in_ies = noun.endswith("y") and not noun.endswith(("ay", "ey", "oy"))
    return f"{count:,} {noun[:-1]}ies" if ends_in_ies else f"{count:,} {noun}s"


def is_near(word: str, known: Iterable[str]) -> bool:
    """Tell whether a word is so like a known one that it is probably meant for it.

    Examples
    --------
    >>> is_near("itmes", ["items", "phases"]), is_near("photos", ["items", "phases"])
    (True, False)
    """
    return bool(get_close_matches(word, list(known), n=1, cutoff=_ALIKE))


class Nearest(UserString):
    """The known word nearest to an unknown one, looked up when it is first read.

    Comparing a word with a whole catalog takes half a millisecond, so no fault that is only
    counted pays for it.
    """

    def __init__(self, word: str, known: Iterable[str], otherwise: str) -> None:
        self._word, self._known, self._otherwise = word, known, otherwise

    @cached_property
    def data(self) -> str:  # type: ignore[override]
        """The text."""
        words = sorted(self._known)
        if len(words) > _MOST_COMPARED:  # of a long list, those around its place in it
            first = max(0, bisect(words, self._word) - _MOST_COMPARED // 2)
            words = words[first : first + _MOST_COMPARED]
        near = get_close_matches(self._word, words, n=1, cutoff=0.6)
        if near:
            return f"did you mean {quoted(near[0])}?"
        if 0 < len(words) <= 12:
            use = "use one of" if len(words) > 1 else "use"
            return f"{use} {', '.join(map(quoted, words))}"
        return self._otherwise


def did_you_mean(word: str, known: Iterable[str], otherwise: str = "") -> Nearest:
    """Return "did you mean 'x'?" for the nearest known word, else the known words if they are few.

    Parameters
    ----------
    word : str
        The unknown one.
    known : iterable of str
        All that would be right.
    otherwise : str
        What is said where none is near and they are many.

    Examples
    --------
    >>> did_you_mean("depht", ["depth", "width"])
    "did you mean 'depth'?"
    >>> did_you_mean("colour", ["depth", "width"])
    "use one of 'depth', 'width'"
    """
    return Nearest(word, known, otherwise)
