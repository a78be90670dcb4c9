"""The files that show the dates of a job, by their endings."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import date

    from estimator.pricing.estimate import Estimate
    from estimator.scheduling.job_dates import JobSchedule

SVG, PNG, ICS, PDF, XLSX = ".svg", ".png", ".ics", ".pdf", ".xlsx"


def schedule_file(
    estimate: Estimate, schedule: JobSchedule, ending: str, first: date | None = None
) -> bytes:
    """Return a file that shows the dates of a job; the same dates give the same bytes.

    Parameters
    ----------
    estimate : Estimate
        That was scheduled.
    schedule : JobSchedule
        From `job_schedule`.
    ending : str
        `.svg` or `.png` for the bar chart, `.xlsx` for it in cells, `.ics` for a calendar file,
        `.pdf` for two weeks.
    first : date or None
        First of the two weeks; None for the first day of the job.
    """
    if ending == PDF:
        from estimator.printed.two_weeks_page import two_weeks_pdf
        from estimator.scheduling.two_weeks import look_ahead

        return two_weeks_pdf(look_ahead(estimate, schedule, first), estimate.digest)
    if ending == ICS:
        from estimator.scheduling.icalendar_file import calendar_file

        return calendar_file(estimate, schedule)
    from estimator.scheduling.job_bars import bars_of

    bars = bars_of(estimate, schedule)
    if ending == XLSX:
        from estimator.workbook.schedule_workbook import schedule_bytes

        return schedule_bytes(bars, estimate.on, estimate.digest)
    from estimator.charts.schedule_chart import schedule_chart

    return schedule_chart(bars, "svg" if ending == SVG else "png")
