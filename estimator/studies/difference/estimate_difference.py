"""What changed between two estimates, line by line, and why: work, quantity or rate.

Compared are plain line records, so that stored estimates need no pricing again. Everything
is whole cents; the parts of a difference add up to it exactly.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from estimator.pricing.cost_line import CostLine
from estimator.pricing.priced_lines import extended_cents
from estimator.studies.difference.compared_estimate import Compared, MarkupSum

NEW, DROPPED, QUANTITY, RATE = "new", "dropped", "quantity", "rate"
CAUSES = (NEW, DROPPED, QUANTITY, RATE)

_MOST_DECIMALS = 6

Key = tuple[str, str, str, str, str, bool, int]


@dataclass(frozen=True)
class LineDifference:
    """A line before and after.

    Parameters
    ----------
    before, after : CostLine or None
        None where there is no such line; never both.
    quantity_cents : int
        What another quantity at the old rate makes of it; 0 for a line that is new or dropped.
    rate_cents : int
        What another rate at the new quantity makes of it; 0 for a line that is new or dropped.
    """

    before: CostLine | None
    after: CostLine | None
    quantity_cents: int = 0
    rate_cents: int = 0

    @property
    def shown(self) -> CostLine:
        """The line as it is now, or as it was when it was dropped."""
        line = self.after or self.before
        assert line is not None
        return line

    @property
    def cents(self) -> int:
        """After less before."""
        return _cents(self.after) - _cents(self.before)

    @property
    def is_sale(self) -> bool:
        """Whether it is a source of money, which is no part of a difference of cost."""
        return self.shown.is_sale

    @property
    def why(self) -> tuple[str, ...]:
        """`new`, `dropped`, or `quantity` and `rate` as far as they differ; else empty."""
        if self.before is None:
            return (NEW,)
        if self.after is None:
            return (DROPPED,)
        quantity = (QUANTITY,) if _millionths(self.before) != _millionths(self.after) else ()
        rate = (RATE,) if self.before.rate != self.after.rate else ()
        return quantity + rate

    @property
    def cents_by_cause(self) -> dict[str, int]:
        """The parts of `cents`, by all of `new`, `dropped`, `quantity`, `rate`."""
        return {
            NEW: self.cents if self.before is None else 0,
            DROPPED: self.cents if self.after is None else 0,
            QUANTITY: self.quantity_cents,
            RATE: self.rate_cents,
        }


@dataclass(frozen=True)
class SumDifference:
    """A sum before and after, in cents: zero where it stands in one of the two only.

    Parameters
    ----------
    code, name : str
        What it is the sum of; the name may be empty.
    before, after : int
        Of the earlier and the later estimate.
    """

    code: str
    name: str
    before: int
    after: int

    @property
    def cents(self) -> int:
        """After less before."""
        return self.after - self.before


@dataclass(frozen=True)
class EstimateDifference:
    """All that differs between two estimates.

    Parameters
    ----------
    before, after : Compared
        The two estimates.
    lines : tuple of LineDifference
        All lines of both, those that are as they were too: items in the order of `after`, items
        that it has no more at the end; what an item lost stands below what it has.
    """

    before: Compared
    after: Compared
    lines: tuple[LineDifference, ...]

    @property
    def changed_lines(self) -> tuple[LineDifference, ...]:
        """The lines that are not as they were."""
        return tuple(line for line in self.lines if line.why)

    @property
    def cents_by_cause(self) -> dict[str, int]:
        """How much of the difference of cost is `new`, `dropped`, `quantity` and `rate`."""
        parts = [one.cents_by_cause for one in self.lines if one.why and not one.is_sale]
        return {cause: sum(part[cause] for part in parts) for cause in CAUSES}

    @property
    def totals(self) -> tuple[SumDifference, ...]:
        """Direct cost, cash cost, own value, full cost, and sales of salvage."""
        after = self.after.totals
        return tuple(SumDifference(k, "", old, after[k]) for k, old in self.before.totals.items())

    @property
    def markups(self) -> tuple[SumDifference, ...]:
        """Each markup of either estimate, those of `after` first."""
        old, new = (_markup_cents(side.markups) for side in (self.before, self.after))
        names = {one.code: one.name for side in (self.before, self.after) for one in side.markups}
        return tuple(
            SumDifference(code, names[code], old.get(code, 0), new.get(code, 0))
            for code in {**new, **old}
        )

    @property
    def by_phase(self) -> tuple[SumDifference, ...]:
        """Paid cost and value of own work together, before markups, by phase."""
        return self._by(lambda line: line.phase)

    @property
    def by_item(self) -> tuple[SumDifference, ...]:
        """Paid cost and value of own work together, before markups, by item."""
        return self._by(lambda line: line.item)

    @property
    def by_kind(self) -> tuple[SumDifference, ...]:
        """Paid cost and value of own work together, before markups, by kind of resource."""
        return self._by(lambda line: line.kind)

    def _by(self, code_of: Callable[[CostLine], str]) -> tuple[SumDifference, ...]:
        names = {**self.before.names, **self.after.names}
        old, new = Counter[str](), Counter[str]()
        for one in self.lines:
            code, counts = code_of(one.shown), 0 if one.is_sale else 1
            old[code] += _cents(one.before) * counts
            new[code] += _cents(one.after) * counts
        return tuple(SumDifference(code, names.get(code, ""), old[code], new[code]) for code in new)


def estimate_difference(before: Compared, after: Compared) -> EstimateDifference:
    """Return what changed from one estimate to another.

    Parameters
    ----------
    before, after : Compared
        From `compared_estimate`, from JSON, or from stored lines.

    Raises
    ------
    AmountTooLarge
        If a new quantity at an old rate is too large to be priced to the cent.

    Notes
    -----
    Two lines are the same line if item, assembly, resource, kind, unit and payment are the same; of
    several such lines in an item the first belongs to the first, and so on. So an item that has
    another assembly drops all lines of the old one, and own labor that is paid for now is a line
    dropped and a line added.

    The split of a line that both have: with q x r rounded half-up to the cent, as every extension,

        rate effect     = (new q x new r) - (new q x old r)
        quantity effect = (new q x old r) - (old q x old r)

    The middle term drops out of the sum, so both add up to the difference to the cent. It also
    makes the split one-sided: with the estimates swapped, totals change their sign, but what is
    common to both effects goes to the other of them.

    Examples
    --------
    >>> line = CostLine(
    ...     "20", "20.010", 1, "fill", "stone", "Stone", "material", "ton", decimals=2, net=10000,
    ...     waste=0, left_over=0, ordered=10000, rate=240000, source="quote",
    ...     rate_row="quotes resources.csv row 2", is_paid=True, cents=240000,
    ... )
    >>> more = line._replace(net=11000, ordered=11000, rate=250000, cents=275000)
    >>> difference = estimate_difference(Compared((line,), ()), Compared((more,), ()))
    >>> difference.cents_by_cause
    {'new': 0, 'dropped': 0, 'quantity': 24000, 'rate': 11000}
    """
    old, new = _by_key(before.lines), _by_key(after.lines)
    keys = [*new, *(key for key in old if key not in new)]
    place = {item: n for n, item in enumerate(dict.fromkeys(key[0] for key in keys))}
    keys.sort(key=lambda key: place[key[0]])
    both = [key for key in keys if key in old and key in new]
    at_old_rate = dict(zip(both, _new_quantities_at_old_rates(both, old, new), strict=True))
    return EstimateDifference(
        before,
        after,
        tuple(_line(old.get(key), new.get(key), at_old_rate.get(key)) for key in keys),
    )


def _by_key(lines: Sequence[CostLine]) -> dict[Key, CostLine]:
    """Return the lines by what makes a line the same, the last part counting equal ones."""
    seen: dict[tuple[str, str, str, str, str, bool], int] = {}
    by_key: dict[Key, CostLine] = {}
    for line in lines:
        same = line.item, line.assembly, line.resource, line.kind, line.unit, line.is_paid
        seen[same] = number = seen.get(same, 0) + 1
        by_key[(*same, number)] = line
    return by_key


def _new_quantities_at_old_rates(
    keys: Iterable[Key], old: Mapping[Key, CostLine], new: Mapping[Key, CostLine]
) -> list[int]:
    """Return cents of lines that both have."""
    pairs = [(old[key], new[key]) for key in keys]
    return extended_cents(
        new if new.rate == old.rate else new._replace(rate=old.rate) for old, new in pairs
    )


def _line(old: CostLine | None, new: CostLine | None, at_old_rate: int | None) -> LineDifference:
    if old is None or new is None or at_old_rate is None:
        return LineDifference(old, new)
    return LineDifference(old, new, at_old_rate - old.cents, new.cents - at_old_rate)


def _markup_cents(markups: Iterable[MarkupSum]) -> dict[str, int]:
    by_code: dict[str, int] = {}
    for one in markups:
        by_code[one.code] = by_code.get(one.code, 0) + one.cents
    return by_code


def _cents(line: CostLine | None) -> int:
    return 0 if line is None else line.cents


def _millionths(line: CostLine) -> int:
    """Return the order in millionths, so that 1.50 and 1.5 are the same."""
    scale: int = 10 ** (_MOST_DECIMALS - line.decimals)
    return line.ordered * scale
