"""The budget: an accepted estimate by cost code and kind, and what approved changes made of it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal
from types import MappingProxyType

from estimator.assemblies.markups import MarkupAmount
from estimator.money import apportion
from estimator.pricing.printed_estimate import PrintedEstimate
from estimator.rates.kinds import COSTS, SALVAGE
from estimator.tracking.change_states import APPROVED
from estimator.tracking.ledger_rows import as_known

CONTINGENCY = "contingency"
MARKUP_KIND = "markup"


@dataclass(frozen=True)
class BudgetCode:
    """What a cost code may cost, and how much work that is.

    Parameters
    ----------
    code, name, phase : str
        Cost code `phase.item`, or the code of a markup, whose phase is empty.
    quantity : Decimal
        [unit] Of finished work; zero of a markup.
    unit : str
        Of the quantity; empty of a markup.
    cents_by_kind : mapping of str to int
        [0.01 $] Cash, with the taxes taken on these kinds; never own labor or own material.
    start, finish : date or None
        First and last day of the work as planned; None while there is no date.
    credit : str
        Whether such work normally counts toward the rehabilitation credit: `yes`, `no` or `ask`.
    phase_name : str
        As in the estimate; empty of a markup and of a code that the estimate does not have.
    """

    code: str
    name: str
    phase: str
    quantity: Decimal
    unit: str
    cents_by_kind: Mapping[str, int]
    start: date | None = None
    finish: date | None = None
    credit: str = "ask"
    phase_name: str = ""

    @property
    def cents(self) -> int:
        """The sum of all kinds [0.01 $]."""
        return sum(self.cents_by_kind.values())


Budget = Mapping[str, BudgetCode]
"""The codes of a budget by code, in the order of the estimate."""


def budget_from_estimate(estimate: PrintedEstimate) -> Budget:
    """Return the baseline that an accepted estimate gives, in exact cents.

    Parameters
    ----------
    estimate : PrintedEstimate
        As it was stored.

    Notes
    -----
    A percentage that is taken on named kinds only (sales tax) is spread over the lines of these
    kinds by the largest remainder, because bills carry it. Every other markup stands on a code of
    its own. Salvage is no negative cost here: its sale is a receipt. The budget is therefore the
    cash cost of the estimate; of one that was stored when a sale still reduced the cost, plus what
    its salvage lines take off.
    """
    cents: dict[str, dict[str, int]] = {one.item: defaultdict(int) for one in estimate.items}
    for line in estimate.lines:
        if line.is_paid and line.kind != SALVAGE:
            cents[line.item][line.kind] += line.cents
    for markup in estimate.markups:
        if is_spread(markup):
            _spread(markup, cents)
    codes = [
        BudgetCode(
            one.item, one.name, one.item.partition(".")[0], one.quantity, one.unit,
            _in_order(cents[one.item]), credit=one.credit, phase_name=phase.name,
        )
        for phase, items in estimate.items_by_phase()
        for one in items
    ]  # fmt: skip
    return MappingProxyType({one.code: one for one in [*codes, *_markup_codes(estimate)]})


def is_spread(markup: MarkupAmount) -> bool:
    """Return whether a markup is spread over the lines of its kinds: bills carry it."""
    on = markup.markup.on
    return markup.markup.percent is not None and all(word in COSTS for word in on)


def _spread(markup: MarkupAmount, cents: Mapping[str, dict[str, int]]) -> None:
    """Add a tax to the codes and kinds that bear it; on nothing there is none."""
    kinds = markup.markup.kinds
    places = [(code, kind) for code, by_kind in cents.items() for kind in kinds if kind in by_kind]
    weights = [cents[code][kind] for code, kind in places]
    if markup.amount_cents and sum(weights):
        parts = apportion(markup.amount_cents, weights)
        for (code, kind), part in zip(places, parts, strict=True):
            cents[code][kind] += part


def _markup_codes(estimate: PrintedEstimate) -> list[BudgetCode]:
    return [
        BudgetCode(
            one.markup.code, one.markup.name, "", Decimal(0), "",
            MappingProxyType({MARKUP_KIND: one.amount_cents}),
        )
        for one in estimate.markups
        if not is_spread(one)
    ]  # fmt: skip


def _in_order(cents_by_kind: Mapping[str, int]) -> Mapping[str, int]:
    order = [*COSTS, MARKUP_KIND]
    return MappingProxyType(
        {kind: cents_by_kind[kind] for kind in order if cents_by_kind.get(kind)}
    )


@dataclass(frozen=True)
class ChangePart:
    """What a change does to one cost code.

    Parameters
    ----------
    code : str
        Cost code.
    cents_by_kind : mapping of str to int
        [0.01 $] More; less where negative.
    quantity : Decimal
        [unit of the code] More finished work; less where negative.
    days : int
        [calendar days] By which the code's finish moves; its start stays.
    """

    code: str
    cents_by_kind: Mapping[str, int]
    quantity: Decimal = Decimal(0)
    days: int = 0


@dataclass(frozen=True)
class Change:
    """A change of the budget, a transfer, or a draw on the contingency.

    Parameters
    ----------
    row : int
        Its number in the books.
    happened, entered : date, datetime
        The day of its state, such as that of approval; when it was entered [UTC].
    reason : str
        Why, in words.
    parts : tuple of ChangePart
        A transfer's parts add up to nothing; a draw on the contingency takes its sum from
        the code `contingency`.
    number : str
        What it is called; of rows with one number the last counts. Empty of a change that is
        posted once.
    state : str
        `draft`, `submitted`, `approved` or `rejected`; only what is approved is in the budget.
    """

    row: int
    happened: date
    entered: datetime
    reason: str
    parts: tuple[ChangePart, ...]
    number: str = ""
    state: str = APPROVED

    @property
    def cents(self) -> int:
        """By how much the whole budget grows [0.01 $]; nothing in a transfer."""
        return sum(sum(part.cents_by_kind.values()) for part in self.parts)


def latest_changes(changes: Iterable[Change]) -> list[Change]:
    """Return each change as it stands: of rows with one number, the last.

    Parameters
    ----------
    changes : iterable of Change
        As known, in the order of the books: see `as_known`.
    """
    stands = {(one.number or one.row): one for one in changes}
    return sorted(stands.values(), key=lambda one: one.row)


def approved_changes(changes: Iterable[Change]) -> list[Change]:
    """Return the changes that are in the budget: those that stand as approved.

    Parameters
    ----------
    changes : iterable of Change
        As known, in the order of the books: see `as_known`.
    """
    return [one for one in latest_changes(changes) if one.state == APPROVED]


def current_budget(
    baseline: Budget, changes: Iterable[Change], as_of: date, known_on: datetime
) -> Budget:
    """Return the baseline with what was approved by a day and entered by a time.

    Parameters
    ----------
    baseline : mapping of str to BudgetCode
        As accepted, by code.
    changes : iterable of Change
        In the order of the books, in any state; every code stands in the baseline, or is made
        new by the change and has no planned days.
    as_of : date
        The last day that counts.
    known_on : datetime
        [UTC]

    Notes
    -----
    Baseline and current budget differ by exactly the sum of the changes.
    """
    codes = dict(baseline)
    for change in approved_changes(as_known(changes, as_of, known_on)):
        for part in change.parts:
            code = codes.get(part.code) or code_without_budget(part.code, change.reason)
            codes[part.code] = _changed(code, part)
    return MappingProxyType(codes)


def code_without_budget(code: str, name: str = "") -> BudgetCode:
    """Return a code that has nothing in the budget yet: a change or a cost made it."""
    phase = code.partition(".")[0] if "." in code else ""
    return BudgetCode(code, name or code, phase, Decimal(0), "", MappingProxyType({}))


def _changed(code: BudgetCode, part: ChangePart) -> BudgetCode:
    cents = defaultdict(int, code.cents_by_kind)
    for kind, more in part.cents_by_kind.items():
        cents[kind] += more
    return replace(
        code,
        cents_by_kind=_in_order(cents),
        quantity=code.quantity + part.quantity,
        finish=_moved(code.finish, part.days),
    )


def _moved(day: date | None, days: int) -> date | None:
    return date.fromordinal(day.toordinal() + days) if day and days else day


def spread_like_baseline(cents: int, code: BudgetCode) -> Mapping[str, int]:
    """Return a sum spread over the kinds of a code like its budget, in exact cents.

    Parameters
    ----------
    cents : int
        [0.01 $] More; less where negative.
    code : BudgetCode
        With a budget above zero.

    Raises
    ------
    AmountFaulty
        If the code has no budget to spread by: then the kind must be named.

    Examples
    --------
    >>> wall = BudgetCode("40.010", "Wall", "40", Decimal(8), "sf", {"labor": 300, "material": 100})
    >>> dict(spread_like_baseline(-50, wall))
    {'labor': -38, 'material': -12}
    """
    kinds = list(code.cents_by_kind)
    parts = apportion(cents, [code.cents_by_kind[kind] for kind in kinds])
    return MappingProxyType(dict(zip(kinds, parts, strict=True)))
