"""The files that show the dates of a job, by their endings."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from estimator.pricing.estimate import Estimate
    from estimator.scheduling.job_dates import JobSchedule

SVG, PNG, ICS = ".svg", ".png", ".ics"


def schedule_file(estimate: Estimate, schedule: JobSchedule, ending: str) -> bytes:
    """Return a file that shows the dates of a job; the same dates give the same bytes.

    Parameters
    ----------
    estimate : Estimate
        That was scheduled.
    schedule : JobSchedule
        From `job_schedule`.
    ending : str
        `.svg` or `.png` for the bar chart, `.ics` for a calendar file.
    """
    if ending == ICS:
        from estimator.scheduling.icalendar_file import calendar_file

        return calendar_file(estimate, schedule)
    from estimator.charts.schedule_chart import schedule_chart
    from estimator.scheduling.job_bars import bars_of

    return schedule_chart(bars_of(estimate, schedule), "svg" if ending == SVG else "png")
