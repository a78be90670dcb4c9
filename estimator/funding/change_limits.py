"""Whether changes of the schedule keep to the terms: what transfers and the contingency may do."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from decimal import Decimal
from fractions import Fraction

from estimator.funding.draw_requests import CONTINGENCY_LINE, INTEREST, DrawRequest, LineChange
from estimator.funding.loan_terms import IN_PROPORTION, exact_percent
from estimator.money import cents_money, rounded

Wrong = tuple[str, str]


def beyond_limits(request: DrawRequest) -> Iterator[Wrong]:
    """Yield what changes do beyond the limits of the terms, each with where.

    Parameters
    ----------
    request : DrawRequest
        With the changes of the schedule up to its day; those in `approved_rows` do not count.

    Notes
    -----
    A transfer is a change that adds up to nothing over the lines. The contingency is used in
    proportion while its part that is used is no larger than the part of the work that is done.
    """
    by_row: dict[int, list[LineChange]] = defaultdict(list)
    for one in request.changes:
        if one.row not in request.terms.approved_rows:
            by_row[one.row].append(one)
    yield from _transfers(request, by_row)
    if request.terms.contingency_use == IN_PROPORTION:
        yield from _contingency(request, by_row)


def _transfers(request: DrawRequest, by_row: Mapping[int, list[LineChange]]) -> Iterator[Wrong]:
    limit = Fraction(request.terms.transfer_fraction)
    lowered: dict[str, int] = defaultdict(int)
    for changes in by_row.values():
        for one in changes if sum(part.cents for part in changes) == 0 else ():
            lowered[one.line] += max(-one.cents, 0)
    for line in request.lines:
        value = line.figures.state.scheduled_cents
        if line.kind != CONTINGENCY_LINE and lowered[line.line] > limit * value:
            most = exact_percent(request.terms.transfer_fraction)
            words = f"transfers lower it by {cents_money(lowered[line.line])}, more than {most} of"
            yield f"line {line.line}", f"{words} {cents_money(value)}; the lender approves that"


def _contingency(request: DrawRequest, by_row: Mapping[int, list[LineChange]]) -> Iterator[Wrong]:
    work = [one.figures for one in request.lines if one.kind not in (CONTINGENCY_LINE, INTEREST)]
    value = sum(one.state.revised_cents for one in work)
    done = Fraction(sum(one.done_cents for one in work), value) if value > 0 else Fraction(0)
    for line in request.lines:
        whole = line.figures.state.scheduled_cents
        used = -sum(one.cents for changes in by_row.values() for one in changes
                    if one.line == line.line)  # fmt: skip
        if line.kind == CONTINGENCY_LINE and used > done * whole:
            words = f"{cents_money(used)} of {cents_money(whole)} is used, and {_percent(done)} of"
            yield f"line {line.line}", f"{words} the work is done; the lender approves more"


def _percent(part: Fraction) -> str:
    exact = Decimal(part.numerator * 100) / part.denominator
    return f"{rounded(exact, 2):f} %"
