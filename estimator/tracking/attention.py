"""What needs attention, worst first: sentences with dollars, each true when worked out again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType

from estimator.money import cents_money, whole_half_up
from estimator.quantity.units import counted
from estimator.tracking.budget import CONTINGENCY
from estimator.tracking.machines_on_rent import OnRent, rent_accrued_cents
from estimator.tracking.status import MEASURED, CodeStatus, JobStatus

NO_ADVICE: Mapping[str, str] = MappingProxyType({})


@dataclass(frozen=True)
class Attention:
    """One thing to look at.

    Parameters
    ----------
    cents : int
        [0.01 $] What is at stake; nothing where it is not known.
    code : str
        Cost code; empty where it belongs to none.
    sentence : str
        What a builder reads and acts on.
    """

    cents: int
    code: str
    sentence: str


def overruns(
    status: JobStatus, forecasts: Mapping[str, int], advice: Mapping[str, str] = NO_ADVICE
) -> list[Attention]:
    """Return a sentence for each code that is over its budget, or heads there.

    Parameters
    ----------
    status : JobStatus
        Where the job stands: see `job_status`.
    forecasts : mapping of str to int
        [0.01 $] What each code comes to at the end.
    advice : mapping of str to str
        What could be done, by code: see `back_at_budget`.
    """
    listed = []
    for code in status.codes:
        over = forecasts[code.code] - code.budget_cents
        if over > 0 and code.code != CONTINGENCY:
            words = "; ".join(filter(None, (_overrun(code, over), advice.get(code.code))))
            listed.append(Attention(over, code.code, words))
    return listed


def _overrun(code: CodeStatus, over: int) -> str:
    title = f"{code.code} {code.name}"
    spent = code.spent.incurred_cents
    if not code.budget_cents:
        return f"{title}: {cents_money(spent)} incurred without a budget; approve a change"
    ends = f"{cents_money(over)} over its budget"
    if code.percent == 100:
        return f"{title}: done, {ends}"
    if spent > code.budget_cents:
        past = spent - code.budget_cents
        more = f"; at this rate it ends {ends}" if over > past else ""
        return f"{title}: {cents_money(past)} over its budget already{more}"
    if code.how_earned != MEASURED or not code.quantity:
        return f"{title}: at this rate it ends {ends}"
    return (
        f"{title}: {counted(f'{code.quantity:,f}', code.unit)} in place at "
        f"{_each(code.in_place_cents, code.quantity)} against "
        f"{_each(code.budget_cents, code.budget_quantity)}; "
        f"at this rate it ends {ends}"
    )


def _each(cents: int, quantity: Decimal) -> str:
    return cents_money(whole_half_up(Fraction(cents) / Fraction(quantity)))


def rents_running_on(status: JobStatus, rents: Iterable[OnRent], as_of: date) -> list[Attention]:
    """Return a sentence for each machine on rent whose work is all in place.

    Nothing is left of such a code, so no forecast has the rent that is still to come. A code with
    an order that is not billed in full is left out: the forecast has the rest of the order.

    Parameters
    ----------
    status : JobStatus
        Where the job stands: see `job_status`.
    rents : iterable of OnRent
        See `running_rents`.
    as_of : date
        The last day that counts.
    """
    done = {
        one.code: one
        for one in status.codes
        if one.expected and one.percent == 100 and not one.committed_cents
    }
    return [
        _running_on(done[rent.code], rent, as_of)
        for rent in rents
        if rent.code in done and rent.called_off is None and rent.happened <= as_of
    ]


def _running_on(code: CodeStatus, rent: OnRent, as_of: date) -> Attention:
    words = (
        f"{code.code} {code.name}: all in place, but the {rent.machine} of {rent.vendor} is still "
        "on rent; no forecast of the code counts that rent from here on"
    )
    if code.finish is None or code.finish <= as_of:
        return Attention(0, code.code, words)
    more = rent_accrued_cents(rent, code.finish) - rent_accrued_cents(rent, as_of)
    stay = f"{cents_money(more)} before tax if it stays through {code.finish}, the last planned day"
    return Attention(more, code.code, f"{words}: {stay}")


def attention_list(
    money: Iterable[Attention], sentences: Iterable[tuple[str, str]]
) -> tuple[Attention, ...]:
    """Return what needs attention: what has a sum first, the largest first.

    Parameters
    ----------
    money : iterable of Attention
        See `overruns` and `rents_running_on`.
    sentences : iterable of (code, sentence)
        Of holds, stock, orders, points and machines; in their order.
    """
    others = [Attention(0, code, sentence) for code, sentence in sentences]
    return tuple(sorted([*money, *others], key=lambda one: -one.cents))
