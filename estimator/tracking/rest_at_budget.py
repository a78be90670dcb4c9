"""What an overrun could still save: the kind of cost that runs highest, back at its budget."""

from __future__ import annotations

from fractions import Fraction

from estimator.money import cents_money, whole_half_up
from estimator.tracking.budget import BudgetCode
from estimator.tracking.forecast import OBSERVED, Rest
from estimator.tracking.status import MEASURED, CodeStatus

_LOOK_AT = {
    "labor": "the crew and its hours",
    "equipment": "what stands idle",
    "material": "waste, and other prices",
    "consumable": "waste, and other prices",
    "haul": "the loads and their price",
    "disposal": "the loads and their price",
}
_BILLS = "its bills"


def back_at_budget(code: CodeStatus, budget: BudgetCode, rest: Rest) -> str:
    """Return what the rest saves if its worst kind costs no more than budgeted; maybe nothing.

    Parameters
    ----------
    code : CodeStatus
        Where the code stands.
    budget : BudgetCode
        As changed by the day.
    rest : Rest
        What the code still needs: see `what_is_left`.

    Notes
    -----
    Only kinds that are forecast at the unit cost so far can come down to the budgeted one: what is
    ordered costs what the order says. A code with material that is not used yet says nothing.
    """
    quantity, left = Fraction(code.budget_quantity), Fraction(rest.quantity)
    if code.how_earned != MEASURED or code.unused_cents or not quantity:
        return ""
    savings = {
        kind: cents - whole_half_up(budget.cents_by_kind[kind] * left / quantity)
        for kind, cents in rest.cents_by_kind.items()
        if rest.basis_by_kind[kind] == OBSERVED and budget.cents_by_kind.get(kind)
    }
    worst = max(savings, key=lambda kind: savings[kind], default="")
    if not worst or savings[worst] <= 0:
        return ""
    saved = cents_money(savings[worst])
    at = _LOOK_AT.get(worst, _BILLS)
    return f"{worst} at its budgeted cost per {code.unit} from here on saves {saved}: look at {at}"
