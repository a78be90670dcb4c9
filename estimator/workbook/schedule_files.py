"""The files that show the dates of a job, by their endings."""

from __future__ import annotations

from estimator.charts.schedule_chart import schedule_chart
from estimator.pricing.estimate import Estimate
from estimator.scheduling.job_bars import bars_of
from estimator.scheduling.job_dates import JobSchedule


def schedule_file(estimate: Estimate, schedule: JobSchedule, ending: str) -> bytes:
    """Return a file that shows the dates of a job; the same dates give the same bytes.

    Parameters
    ----------
    estimate : Estimate
        That was scheduled.
    schedule : JobSchedule
        From `job_schedule`.
    ending : str
        `.svg` or `.png` for the bar chart.
    """
    bars = bars_of(estimate, schedule)
    return schedule_chart(bars, "svg" if ending == ".svg" else "png")
