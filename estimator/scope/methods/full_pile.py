"""What the limit of a pile outside does to a method, in words."""

from __future__ import annotations

from collections.abc import Mapping

from estimator.assemblies.assembly import QUANTITY
from estimator.production.pile_limit import limited_pile
from estimator.production.stockpile import Stage, StagedWork
from estimator.quantity.units import counted, unit
from estimator.scope.methods.method import Method
from estimator.scope.methods.method_work import Values, method_values, pace_of, slopes_of


def pile_words(method: Method, inputs: Mapping[str, Values]) -> str:
    """Return who waits at the pile of a method; empty where it has none, or room for all.

    Parameters
    ----------
    method : Method
        With the pile that its system takes from.
    inputs : mapping of str to float array
        As of `method_inputs`.
    """
    production = method.production
    if production is None or production.pile is None:
        return ""
    pile = production.pile
    values = method_values(method, inputs, slopes_of([method.inputs]))
    placed = float(pace_of(production).per_hr)
    own = method.assembly.unit
    if pile.comes.base_value < placed:
        per_hr = unit(f"{own.name}/hr")
        could = counted(f"{placed / float(per_hr.factor):,.2f}", per_hr.name)
        return f"waits for what comes to its pile: {pile.comes.text}, where {could} could be placed"
    bringing = Stage("bringing", pile.comes.base_value)
    work = StagedWork(float(values[QUANTITY].max()), (bringing, Stage("placing", placed)))
    limited = limited_pile(work, pile.holds.base_value)
    if limited.full_after_hr is None:
        return ""
    alone = limited.bringing_hr - limited.held_back_hr
    room = counted(f"{pile.holds.base_value / float(own.factor):,.2f}", own.name)
    return (
        f"fills its pile of {room} in {limited.full_after_hr:,.2f} hr; from then on no "
        f"more can come than is placed, and the last of it comes after {limited.bringing_hr:,.2f} "
        f"hr instead of {alone:,.2f}"
    )
