"""Two weeks of a job on one printed page: by day who works where, what comes, cautions."""

from __future__ import annotations

from estimator.charts.palette import GRAY
from estimator.printed.page_pen import Foot, PagePen, PrintColumn, PrintRow
from estimator.scheduling.two_weeks import AheadDay, LookAhead

_COLUMNS = (
    PrintColumn("Day", 0.14), PrintColumn("Work", 0.41),
    PrintColumn("Deliveries, pickups, inspections", 0.45),
)  # fmt: skip
_NOTE = (
    "Taken from the schedule. A caution belongs to the work named before it; who decides is "
    "named after it, and local codes come first."
)
_CAUTION_SIZE_PT = 6.2
_SCALES = (1.0, 0.9, 0.8, 0.7)


def two_weeks_pdf(ahead: LookAhead, digest: str) -> bytes:
    """Return two weeks as the bytes of a PDF on letter paper; the same days give the same bytes.

    Parameters
    ----------
    ahead : LookAhead
        From `look_ahead`. It is set smaller, down to seven tenths, until a page holds it; what no
        page holds goes on on the next, in the usual size.
    digest : str
        Of the estimate, for the foot.
    """
    pens = (_set(ahead, digest, scale) for scale in _SCALES)
    fitting = next((pen for pen in pens if pen.pages == 1), None)
    return (fitting or _set(ahead, digest, 1.0)).content()


def _set(ahead: LookAhead, digest: str, scale: float) -> PagePen:
    span = f"{ahead.first} to {ahead.last}"
    foot = Foot(ahead.project, f"Estimate {digest[:12]}")
    pen = PagePen(f"Two weeks, {span}", foot, scale)
    pen.sheet(f"{ahead.project}: two weeks, {span}", is_wide=False)
    pen.paragraph(f"{_NOTE} {ahead.assumed}".rstrip(), 7, GRAY)
    if ahead.is_idle:
        pen.paragraph("No work falls on these days.")
    if ahead.filled_days:
        pen.table(_COLUMNS, map(_row, ahead.filled_days), pad_pt=1.2)
    for title, lines in (
        ("On any of these days", tuple(one.words for one in ahead.beside)),
        ("Weather", ahead.weather),
        ("Cautions", ahead.caution_words),
    ):
        if lines:
            pen.section(title)
            for words in lines:
                pen.paragraph(words, _CAUTION_SIZE_PT)
    return pen


def _row(day: AheadDay) -> PrintRow:
    work = "\n".join(one.words for one in day.work)
    return PrintRow((day.heading, work, "\n".join(day.beside_work)))
