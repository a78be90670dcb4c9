"""The schedule of values: cost codes grouped into the lender's lines, in exact cents."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from types import MappingProxyType

from estimator.errors import Faults, FundingFaulty, did_you_mean, quoted
from estimator.money import apportion, fixed_point
from estimator.tracking.budget import Budget

_SHARE_DECIMALS = 6


@dataclass(frozen=True)
class LenderLine:
    """A line of the lender's schedule.

    Parameters
    ----------
    line, name : str
        The number that the lender gives it, and what it is called.
    shares : mapping of str to Decimal
        Which part of each cost code it bears: 1 for a whole code; a code may be shared by lines.
    """

    line: str
    name: str
    shares: Mapping[str, Decimal]


@dataclass(frozen=True)
class ScheduledLine:
    """A line with its value.

    Parameters
    ----------
    line, name : str
        As the lender has it.
    scheduled_cents : int
        [0.01 $] Its scheduled value.
    """

    line: str
    name: str
    scheduled_cents: int


def schedule_of_values(budget: Budget, lines: Sequence[LenderLine]) -> tuple[ScheduledLine, ...]:
    """Return the scheduled value of each line; together they are the budget to the cent.

    Parameters
    ----------
    budget : mapping of str to BudgetCode
        As accepted, or as changed.
    lines : sequence of LenderLine
        Each cost code in one of them, or shared by several.

    Raises
    ------
    FundingFaulty
        With every fault: a line twice, a code that is not there, one that is on no line, shares
        that are not above zero.

    Notes
    -----
    A shared code is split by its shares with the largest remainder, ties by the order of the lines.
    """
    _check(budget, lines)
    by_line = spread_over_lines({code: one.cents for code, one in budget.items()}, lines)
    return tuple(ScheduledLine(one.line, one.name, by_line[one.line]) for one in lines)


def spread_over_lines(
    cents_by_code: Mapping[str, int], lines: Sequence[LenderLine]
) -> Mapping[str, int]:
    """Return sums by cost code as sums by the lender's line; nothing is lost or gained.

    Parameters
    ----------
    cents_by_code : mapping of str to int
        [0.01 $] Of codes that stand in the lines.
    lines : sequence of LenderLine
        As for `schedule_of_values`.
    """
    by_line: dict[str, int] = defaultdict(int, {one.line: 0 for one in lines})
    for code, cents in cents_by_code.items():
        bearing = [(one.line, one.shares[code]) for one in lines if code in one.shares]
        weights = [fixed_point(share, _SHARE_DECIMALS) for _, share in bearing]
        for (line, _), part in zip(bearing, apportion(cents, weights), strict=True):
            by_line[line] += part
    return MappingProxyType(dict(by_line))


def _check(budget: Budget, lines: Sequence[LenderLine]) -> None:
    faults, names = Faults(), [one.line for one in lines]
    for name in dict.fromkeys(names):
        if names.count(name) > 1:
            faults.add(f"line {quoted(name)}", "is listed twice", "give each its own number")
    for one in lines:
        for code, share in one.shares.items():
            where = f"line {quoted(one.line)}"
            if code not in budget:
                faults.add(
                    where, f"there is no cost code {quoted(code)}", did_you_mean(code, budget)
                )
            if share <= 0:
                faults.add(where, f"bears {share} of {code}", "a share is above zero")
    _check_all_borne(budget, lines, faults)
    faults.raise_if_any(FundingFaulty)


def _check_all_borne(budget: Budget, lines: Iterable[LenderLine], faults: Faults) -> None:
    borne = {code for one in lines for code in one.shares}
    for code, one in budget.items():
        if code not in borne and one.cents:
            faults.add(f"cost code {code}", "is on no line", "put it into one")
