"""A pile that may not grow beyond a limit: the yard is small, or the floor carries no more.

Once it is full, those who bring can only bring what those who place take away. The work ends when
it would have ended; the trucks are there longer.
"""

from __future__ import annotations

from dataclasses import dataclass

from estimator.errors import ProductionFaulty, fault
from estimator.production.number_check import Number, check_numbers, number_inputs
from estimator.production.stockpile import StagedWork


@dataclass(frozen=True)
class LimitedPile:
    """What a limit of the pile does to those who bring.

    Parameters
    ----------
    full_after_hr : float or None [hr]
        When the pile is full; None where it never is.
    bringing_hr : float [hr]
        How long they are there.
    held_back_hr : float [hr]
        How much longer than with room for all: they wait, and are paid, if they are hired.
    """

    full_after_hr: float | None
    bringing_hr: float
    held_back_hr: float


@number_inputs()
def limited_pile(work: StagedWork, limit: Number) -> LimitedPile:
    """Return how long material is brought when the pile between two stages has a limit.

    Parameters
    ----------
    work : StagedWork
        Of two stages: who brings, and who places from the pile.
    limit : float [unit]
        The most that may lie there.

    Raises
    ------
    ProductionFaulty
        If there are not two stages, the limit is not above zero, or less than what lies there.

    Notes
    -----
    The pile grows by r1 - r2 an hour from its stock S and is full after (L - S) / (r1 - r2). From
    then on r2 comes in an hour. Bringing B takes t + (B - r1 t) / r2 hours.

    Examples
    --------
    >>> from estimator.production.stockpile import Stage
    >>> work = StagedWork(273.0, (Stage("trucks", 66.0), Stage("skid steer", 15.6)))
    >>> pile = limited_pile(work, 60.0)
    >>> round(pile.full_after_hr, 2), round(pile.bringing_hr, 2), round(pile.held_back_hr, 2)
    (1.19, 13.65, 9.52)
    """
    check_numbers(limit=limit)
    if len(work.stages) != 2:
        raise fault(
            ProductionFaulty, f"has {len(work.stages)} stages",
            "enter who brings and who places from the pile", "stages",
        )  # fmt: skip
    bring, place = work.stages
    if place.stock > limit:
        raise fault(ProductionFaulty, "is less than what lies there already", where="limit")
    alone = work.hours_alone(bring.name)
    if work.largest_pile(place.name) <= limit:
        return LimitedPile(None, alone, 0.0)
    full = (limit - place.stock) / (bring.rate_per_hr - place.rate_per_hr)
    left = work.quantity - place.stock - bring.rate_per_hr * full
    bringing = full + left / place.rate_per_hr
    return LimitedPile(full, bringing, bringing - alone)
