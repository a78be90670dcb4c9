"""What would endanger the rehabilitation credit, as far as books and papers show it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from estimator.funding.credit_entries import CreditEntry
from estimator.funding.tax_credit import Window
from estimator.money import cents_money
from estimator.tracking.credit_papers import (
    AFTER,
    ASK_FIRST,
    BEFORE,
    CONDITIONS,
    DENIED,
    PART_1,
    PART_2,
    PART_3,
    SUBMITTED,
    YES,
    Approval,
    standing_approvals,
)

_MOST_NAMED = 5
_CERTIFIED = {PART_1: "the building", PART_2: "the work", PART_3: "the finished work"}


def what_endangers(
    entries: Sequence[CreditEntry], approvals: Sequence[Approval], best: Window, year: int
) -> tuple[str, ...]:
    """Return what would endanger the credit, in sentences.

    Parameters
    ----------
    entries : sequence of CreditEntry
        Up to the end of the year.
    approvals : sequence of Approval
        As known, in the order of the books.
    best : Window
        That passes by most, or misses by least.
    year : int
        In which the building is placed in service.
    """
    counting = [one for one in entries if one.answer == YES]
    standing = standing_approvals(approvals)
    return (
        _of_the_test(best, year),
        *_of_entries(entries, counting),
        *_of_papers(standing),
        *_of_photographs(counting, standing),
    )


def _of_the_test(best: Window, year: int) -> str:
    over = cents_money(abs(best.over_cents))
    if best.passes:
        return (
            f"The best window ({best.start} to {best.end}) passes the test by {over}: it fails if "
            f"{over} or more of what it counts is refused."
        )
    return (
        f"No window that ends in {year} passes so far: the best ({best.start} to {best.end}) "
        f"misses the test by {over}, and more than that is needed. Without it there is no credit."
    )


def _of_entries(entries: Sequence[CreditEntry], counting: Sequence[CreditEntry]) -> Iterator[str]:
    open_cents = sum(one.cents for one in entries if one.answer == ASK_FIRST)
    if open_cents:
        yield f"{cents_money(open_cents)} is still to be asked about; it is not in the credit."
    early = sum(one.cents for one in counting if one.is_before_approval)
    if early:
        yield (
            f"{cents_money(early)} of what counts was incurred before part 2 was approved for it: "
            "at the owner's risk."
        )


def _of_papers(standing: Sequence[Approval]) -> Iterator[str]:
    for paper, what in _CERTIFIED.items():
        rows = [one for one in standing if one.paper == paper]
        if not any(one.holds for one in rows):
            yield f"{paper.capitalize()} of the application, for {what}, is not approved."
    for one in standing:
        if one.state == DENIED:
            yield f"{_capital(one.title)} was denied on {one.happened}."
        elif one.state == CONDITIONS:
            note = f": {one.note}" if one.note else ""
            yield f"{_capital(one.title)} was approved with conditions{note}."
        elif one.state == SUBMITTED and one.paper not in _CERTIFIED:
            yield f"{_capital(one.title)} was submitted on {one.happened} and is not decided."


def _capital(title: str) -> str:
    """Return a title with a capital, all else as it was written."""
    return f"{title[0].upper()}{title[1:]}"


def _of_photographs(
    counting: Sequence[CreditEntry], standing: Sequence[Approval]
) -> Iterator[str]:  # fmt: skip
    codes = sorted({one.code for one in counting})
    for paper in (BEFORE, AFTER):
        rows = [one for one in standing if one.paper == paper]
        without = [code for code in codes if not any(one.covers(code) for one in rows)]
        if without:
            yield f"There are no {paper} the work on {_listed(without)}."


def _listed(codes: Sequence[str]) -> str:
    """Return codes by name, or many by their phases."""
    if len(codes) <= _MOST_NAMED:
        return ", ".join(codes)
    phases = sorted({code.partition(".")[0] for code in codes})
    return f"{len(codes)} codes of {', '.join(phases)}"
