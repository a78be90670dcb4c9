"""What a job comes to with and without each of its alternates."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from decimal import Decimal
from typing import NamedTuple

from estimator.scope.scope import Alternate, Scope


class AlternateTotal(NamedTuple):
    """Totals with and without an alternate.

    Parameters
    ----------
    code, name : str
        What the scope calls it.
    accepted : bool
        Whether the totals of the estimate have it.
    in_place_of : tuple of str
        Accepted alternates that take out the same work, and are left out of both totals.
    without, with_it : Decimal
        [$] Cash cost, markups included.
    """

    code: str
    name: str
    accepted: bool
    in_place_of: tuple[str, ...]
    without: Decimal
    with_it: Decimal

    @property
    def change(self) -> Decimal:
        """[$] What it adds to the cash cost; negative where it takes from it."""
        return self.with_it - self.without


def alternate_totals(
    scope: Scope, cash_cost: Callable[[Scope], Decimal]
) -> Iterator[AlternateTotal]:
    """Yield the totals with and without each alternate, the other accepted ones as they are.

    Parameters
    ----------
    scope : Scope
        With its alternates.
    cash_cost : callable
        Prices a scope [$].
    """
    accepted = [one.code for one in scope.alternates if one.is_accepted]
    for one in scope.alternates:
        rivals = [rival.code for rival in scope.alternates if _is_rival(rival, one)]
        others = [code for code in accepted if code != one.code and code not in rivals]
        yield AlternateTotal(
            one.code,
            one.name,
            one.is_accepted,
            tuple(rivals),
            cash_cost(scope.with_alternates(others)),
            cash_cost(scope.with_alternates([*others, one.code])),
        )


def _is_rival(rival: Alternate, one: Alternate) -> bool:
    """Whether an accepted alternate takes out what another one takes out too."""
    codes = {item.code for item in one.takes_out}
    return (
        rival.code != one.code
        and rival.is_accepted
        and any(item.code in codes for item in rival.takes_out)
    )
