"""Work in stages with a pile between them: stone is dumped in the yard, then wheeled in.

A pile lets each stage go at its own pace for a while: the trucks leave at noon, the crew places
until evening. In the long run the slower stage rules; until the pile is used up, a stock at the
start helps. All stages begin at the same time: what was brought before is entered as stock.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

from estimator.errors import Faults, ProductionFaulty, did_you_mean, fault, quoted
from estimator.production.number_check import Number, check_numbers, number_inputs

MOST_STAGES = 20

_HAIR = 1e-12


@number_inputs()
@dataclass(frozen=True)
class Stage:
    """One stage of the work.

    Parameters
    ----------
    name : str
        As the crew calls it: deliver, place.
    rate_per_hr : float [unit/hr]
        What it does alone, efficiency taken off: the output of a working system or of a crew.
    stock : float [unit]
        The pile that lies ready before it at the start; may be zero.
    """

    name: str
    rate_per_hr: Number
    stock: Number = 0.0

    def __post_init__(self) -> None:
        check_numbers(
            where=f"stage {quoted(self.name)}", may_be_zero=("stock",),
            rate_per_hr=self.rate_per_hr, stock=self.stock,
        )  # fmt: skip


@number_inputs()
@dataclass(frozen=True)
class StagedWork:
    """A quantity that goes through stages, with a pile before each but the first.

    Parameters
    ----------
    quantity : float [unit]
        All that is to be placed, the stocks included.
    stages : tuple of Stage
        In the order the material takes; the first brings it from outside, the last places it.

    Raises
    ------
    ProductionFaulty
        If there is no stage, two have one name, the first has a stock, or the stocks are more than
        the quantity; by its methods, if there is no such stage.

    Notes
    -----
    Material flows evenly. Stage k has passed on, by time t, the least of what it has to do, of
    r_k t, and for each earlier stage j of r_j t and the stocks between j and k. All is placed after
    the longest of the times that the stages need for what passes through them.

    Examples
    --------
    >>> wheeled = StagedWork(290.0, (Stage("trucks", 60.0), Stage("skid steer", 14.5, 29.0)))
    >>> wheeled.hours, wheeled.bottleneck, round(wheeled.largest_pile("skid steer"), 1)
    (20.0, 'skid steer', 226.9)
    """

    quantity: Number
    stages: tuple[Stage, ...]

    def __post_init__(self) -> None:
        check_numbers(quantity=self.quantity)
        faults = Faults()
        names = [stage.name for stage in self.stages]
        if not names:
            faults.add("stages", "are missing: nothing limits the work", "enter who places it")
        elif self.stages[0].stock:
            faults.add(
                f"stage {quoted(names[0])}",
                "has a stock although it brings the material from outside",
                "enter the pile with the stage that takes from it",
            )
        if len(names) > MOST_STAGES:
            faults.add("stages", f"are more than {MOST_STAGES}")
        for name in sorted({name for name in names if names.count(name) > 1}):
            faults.add(f"stage {quoted(name)}", "is listed twice", "give each its own name")
        if sum(stage.stock for stage in self.stages) > self.quantity * (1.0 + _HAIR):
            faults.add("stocks", "are more than the quantity", "enter what goes into this work")
        faults.raise_if_any(ProductionFaulty)

    @property
    def hours(self) -> float:
        """Time until all is placed [hr]."""
        return max(self.hours_alone(stage.name) for stage in self.stages)

    @property
    def bottleneck(self) -> str:
        """Name of the stage that the end waits for; of several, the first in line."""
        return max(self.stages, key=lambda stage: self.hours_alone(stage.name)).name

    def hours_alone(self, stage: str) -> float:
        """Return how long a stage takes if it never waits for another [hr]."""
        place = self._place(stage)
        return self._to_do(place) / self.stages[place].rate_per_hr

    def hours_at_own_pace(self, stage: str) -> float:
        """Return how long a stage works before it must wait for material, or is done [hr]."""
        place = self._place(stage)
        pace = self.stages[place].rate_per_hr
        waits = [
            stock / (pace - rate) for stock, rate in self._lines(place) if rate < pace * (1 - _HAIR)
        ]
        return min(self.hours_alone(stage), *waits)

    @number_inputs()
    def passed_on(self, stage: str, hours: Number) -> float:
        """Return what a stage has passed on after so many hours [unit]."""
        check_numbers(hours=hours, may_be_zero=("hours",))
        return self._passed_on(self._place(stage), hours)

    @number_inputs()
    def pile(self, stage: str, hours: Number) -> float:
        """Return the pile before a stage after so many hours [unit]; none before the first."""
        check_numbers(hours=hours, may_be_zero=("hours",))
        return self._pile(self._place(stage), hours)

    def largest_pile(self, stage: str) -> float:
        """Return the largest that the pile before a stage becomes [unit]: the room it needs."""
        place = self._place(stage)
        turns = {0.0}
        for one in (place - 1, place) if place else ():
            for (stock, rate), (other_stock, other_rate) in combinations(self._lines(one), 2):
                if rate != other_rate:
                    turns.add((other_stock - stock) / (rate - other_rate))
        return max(self._pile(place, turn) for turn in turns if turn >= 0.0)

    def _pile(self, place: int, hours: float) -> float:
        if place == 0:
            return 0.0
        came = self.stages[place].stock + self._passed_on(place - 1, hours)
        return max(0.0, came - self._passed_on(place, hours))

    def _passed_on(self, place: int, hours: float) -> float:
        return min(stock + rate * hours for stock, rate in self._lines(place))

    def _lines(self, place: int) -> list[tuple[float, float]]:
        """Return the stock and the rate of each limit of what a stage has passed on."""
        lines = [(self._to_do(place), 0.0)]
        between = 0.0
        for stage in reversed(self.stages[: place + 1]):
            lines.append((between, stage.rate_per_hr))
            between += stage.stock
        return lines

    def _to_do(self, place: int) -> float:
        return self.quantity - sum(stage.stock for stage in self.stages[place + 1 :])

    def _place(self, name: str) -> int:
        names = [stage.name for stage in self.stages]
        if name not in names:
            raise fault(
                ProductionFaulty, f"no stage {quoted(name)}", did_you_mean(name, names), "stage"
            )
        return names.index(name)
