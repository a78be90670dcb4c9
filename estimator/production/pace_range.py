"""What a working system puts out, as a range: at best, and with waiting lines.

The truth of a site lies between the two: nearer to the best where every step takes the same time
each time, nearer to the other where trucks come through traffic.
"""

from __future__ import annotations

from dataclasses import dataclass

from estimator.production.bottleneck import Balance, balance
from estimator.production.number_check import Number, number_inputs
from estimator.production.time_at_work import WorkingTime, whole_loads, working_time
from estimator.production.waiting_lines import QueuedOutput, queued_output
from estimator.production.working_system import WorkingSystem


@dataclass(frozen=True)
class ProductionRange:
    """The output of a working system.

    Parameters
    ----------
    system : WorkingSystem
        What is at work.
    at_best : Balance
        If nothing varies.
    with_waiting : QueuedOutput
        If times vary at random.
    """

    system: WorkingSystem
    at_best: Balance
    with_waiting: QueuedOutput

    @property
    def per_shift(self) -> tuple[float, float]:
        """Output of a shift, at best and with waiting lines [unit/day]."""
        shift_hr = self.system.shift_hr
        return self.at_best.output_per_hr * shift_hr, self.with_waiting.output_per_hr * shift_hr

    def idle_share(self, part: str) -> tuple[float, float]:
        """Return the share of time that a part stands idle, at best and with waiting, 0 to 1.

        For `carriers` it is the share of their time that they wait.

        Raises
        ------
        ProductionFaulty
            If no part has this name.
        """
        queued = self.with_waiting.output_per_hr
        return self.at_best.idle_share(part), self.at_best.idle_share(part, queued)


@dataclass(frozen=True)
class TimeRange:
    """How long a quantity takes: at best, and with waiting lines; and in how many loads.

    Parameters
    ----------
    at_best, with_waiting : WorkingTime
        If nobody waits, and with the waiting that variation brings.
    loads : int
        Whole loads, the last of them perhaps not full.
    """

    at_best: WorkingTime
    with_waiting: WorkingTime
    loads: int


def production_range(system: WorkingSystem) -> ProductionRange:
    """Return the output of a system at best and with waiting lines.

    Examples
    --------
    >>> from estimator.production.cycle import Load, Step
    >>> from estimator.production.working_system import Station
    >>> cycle = (Step("load", 6.0, "loader"), Step("haul, dump, return", 18.0))
    >>> trucks = WorkingSystem("trucks", 3, Load(12.0, "cy"), cycle, (Station("loader"),), 50 / 60)
    >>> [round(output, 1) for output in production_range(trucks).per_shift]
    [600.0, 523.1]
    """
    return ProductionRange(system, balance(system), queued_output(system))


@number_inputs()
def time_for(quantity: Number, output: ProductionRange) -> TimeRange:
    """Return how long a quantity takes [unit of the load], at best and with waiting lines.

    Examples
    --------
    >>> from estimator.production.cycle import Load, Step
    >>> cart = WorkingSystem("cart", 1, Load(0.5, "ton"), (Step("round", 6.0),))
    >>> time_for(50.0, production_range(cart)).at_best.days
    1.25
    """
    shift_hr = output.system.shift_hr
    return TimeRange(
        at_best=working_time(quantity, output.at_best.output_per_hr, shift_hr),
        with_waiting=working_time(quantity, output.with_waiting.output_per_hr, shift_hr),
        loads=whole_loads(quantity, output.system.load.size),
    )
