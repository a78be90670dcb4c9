"""Retainage: what is held back of work and of stored material, and when it is held no more."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from estimator.errors import FundingFaulty, fault
from estimator.money import whole_half_up

STOP = "stop"
NEW_WORK = "new work"
EVERYTHING = "everything"
EFFECTS = (STOP, NEW_WORK, EVERYTHING)


@dataclass(frozen=True)
class RetainageTerms:
    """How much is held back, and how it is reduced.

    Parameters
    ----------
    work_fraction, stored_fraction : Decimal
        [$ per $] Of work done, and of stored material.
    effect : str
        What the reduction does: `stop` holds no more than was held when it was reached; `new work`
        holds the reduced fraction of what is done beyond it; `everything` holds the reduced
        fraction of all. Empty without a reduction.
    reached_fraction : Decimal
        [part of the scheduled value] From which on it is reduced.
    is_strict : bool
        True where more than that must be done, False where at least that.
    reduced_fraction : Decimal
        [$ per $] Held after the reduction; nothing with `stop`.
    counts_stored : bool
        True where stored material helps to reach it, False where work alone does.
    of_whole : bool
        True where the whole schedule must reach it, False where each line does for itself.
    """

    work_fraction: Decimal = Decimal("0.10")
    stored_fraction: Decimal = Decimal("0.10")
    effect: str = ""
    reached_fraction: Decimal = Decimal("0.5")
    is_strict: bool = False
    reduced_fraction: Decimal = Decimal(0)
    counts_stored: bool = False
    of_whole: bool = False

    def __post_init__(self) -> None:
        names = ("work_fraction", "stored_fraction", "reached_fraction", "reduced_fraction")
        for name in names:
            if not 0 <= getattr(self, name) <= 1:
                what = f"is {getattr(self, name)}"
                raise fault(FundingFaulty, what, "a fraction from 0 to 1: 0.10 for 10 %", name)
        if self.effect not in ("", *EFFECTS):
            remedy = f"one of {', '.join(EFFECTS)}"
            raise fault(FundingFaulty, f"is {self.effect!r}", remedy, "effect")


def retainage_held(
    terms: RetainageTerms, scheduled_cents: int, done_cents: int, stored_cents: int = 0
) -> int:
    """Return what is held back of a line, to date [0.01 $].

    Parameters
    ----------
    terms : RetainageTerms
        Of the loan.
    scheduled_cents : int
        [0.01 $] Scheduled value of the line, or of the whole where the terms look at the whole.
    done_cents, stored_cents : int
        [0.01 $] Work done to date; material that is stored now: a balance, not a flow.

    Notes
    -----
    It is worked out on what is done to date, never draw by draw, and rounded half-up once. With a
    reduction at R of the scheduled value S, f held before and g after it, once it is reached:
    `stop` f R S, `new work` f R S + g (done - R S), `everything` g done.

    Examples
    --------
    $62,000 done and $23,000 stored at 10 %:

    >>> retainage_held(RetainageTerms(), 30_000_000, 6_200_000, 2_300_000)
    850000
    """
    work = _held_of_work(terms, scheduled_cents, done_cents, stored_cents)
    return whole_half_up(work + Fraction(terms.stored_fraction) * stored_cents)


def _held_of_work(terms: RetainageTerms, scheduled: int, done: int, stored: int) -> Fraction:
    fraction = Fraction(terms.work_fraction)
    turn = Fraction(terms.reached_fraction) * scheduled
    reach = done + stored if terms.counts_stored else done
    is_reached = reach > turn if terms.is_strict else reach >= turn
    if not terms.effect or not is_reached or not scheduled:
        return fraction * done
    if terms.effect == EVERYTHING:
        return Fraction(terms.reduced_fraction) * done
    before = min(turn, Fraction(done))
    after = Fraction(terms.reduced_fraction) if terms.effect == NEW_WORK else Fraction(0)
    return fraction * before + after * (done - before)
