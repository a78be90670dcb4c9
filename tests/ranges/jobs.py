"""Small invented jobs with ranges."""

from estimator.ranges.correlation import DEFAULT_CORRELATION
from estimator.ranges.distributions import Pert, Triangular, Uniform
from estimator.ranges.events import Event
from estimator.ranges.job_ranges import JobRanges
from estimator.ranges.line_ranges import CostRange, LineRange

LINES = (
    CostRange("stone", Triangular(8e5, 9e5, 14e5), "material", "20"),
    CostRange("crew on stone", Pert(4e5, 5e5, 9e5), "labor", "20"),
    LineRange(
        "crew on footing",
        650_000,
        quantity=Uniform(0.95, 1.2),
        rate=Triangular(0.9, 1.0, 1.1),
        production=Pert(0.7, 1.0, 1.2),
        kind="labor",
        phase="30",
    ),
    LineRange("permit", 40_000, kind="fee", phase="30"),
    LineRange(
        "old boards", -120_000, quantity=Triangular(0.3, 1.0, 1.2), kind="salvage", phase="10"
    ),
)
CISTERN = Event("old cistern", 0.25, Triangular(2e5, 4e5, 9e5), phase="20")


def job(iterations=2_000, seed=7, correlation=DEFAULT_CORRELATION, events=(CISTERN,), lines=LINES):
    return JobRanges(lines, events, correlation, seed, iterations)


def alike(count, iterations=1_000, seed=7, correlation=DEFAULT_CORRELATION):
    """Return a job of so many lines that are all the same triangle."""
    lines = tuple(
        CostRange(f"line {number}", Triangular(9e5, 1e6, 13e5), "labor", str(number % 3))
        for number in range(count)
    )
    return JobRanges(lines, (), correlation, seed, iterations)
