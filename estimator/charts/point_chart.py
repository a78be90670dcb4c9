"""Measured points as a chart: one panel a point, its readings by day, and its limits."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import fill
from typing import TYPE_CHECKING, Any

from estimator.charts.drawing import Form, drawn, house_style, new_stack
from estimator.charts.palette import ACCENT, SERIES
from estimator.errors import how_many
from estimator.tracking.measured_points import PointCourse

if TYPE_CHECKING:
    from datetime import date
    from decimal import Decimal

MOST_PANELS = 24
_TITLE_LETTERS, _MOST_MARKS = 90, 8


def point_chart(courses: Sequence[PointCourse], name: str, as_of: date, form: Form) -> bytes:
    """Return the chart as the bytes of a file; the same readings give the same bytes.

    Parameters
    ----------
    courses : sequence of PointCourse
        At least one; of more than `MOST_PANELS` those are drawn first that a sentence is about.
    name : str
        Of the project.
    as_of : date
        The last day that counts.
    form : str
        `svg` or `png`.
    """
    shown = sorted(courses, key=lambda one: not one.sentence)[:MOST_PANELS]
    shown.sort(key=courses.index)
    left_out = len(courses) - len(shown)
    more = f"; {how_many(left_out, 'more point')} not drawn" if left_out else ""
    with house_style():
        figure, panels = new_stack(f"{name}: measured points", f"as of {as_of}{more}", len(shown))
        for axes, course in zip(panels, shown, strict=True):
            _draw(axes, course)
        return drawn(figure, form)


def _draw(axes: Any, course: PointCourse) -> None:
    point = course.point
    words = course.sentence or point.name
    axes.set_title(fill(words, _TITLE_LETTERS), loc="left", fontsize=9)
    axes.set_ylabel(point.unit)
    days = [one.happened for one in course.readings]
    axes.plot(days, [float(one.value) for one in course.readings], "o-", color=f"#{SERIES[1]}")
    for limit, bound in ((point.most, "at most"), (point.least, "at least")):
        if limit is not None:
            _draw_limit(axes, limit, f"{bound} {limit:f} {point.unit}")
    if days:
        axes.set_xticks(*_marks(days))
    else:
        axes.set_xticks([])
        axes.text(0.5, 0.5, "no reading yet", transform=axes.transAxes, ha="center")
    axes.margins(y=0.2)


def _marks(days: Sequence[date]) -> tuple[list[date], list[str]]:
    """Return at most so many days of readings, from the first to the last, and their words."""
    step = -(-len(days) // _MOST_MARKS)
    shown = [*days[:-1:step], days[-1]] if len(days) > 1 else list(days)
    year = "" if days[0].year == days[-1].year else ", %Y"
    return shown, [one.strftime(f"%b {one.day}{year}") for one in shown]


def _draw_limit(axes: Any, limit: Decimal, words: str) -> None:
    axes.axhline(float(limit), color=f"#{ACCENT}", linewidth=1.2, linestyle=(0, (5, 3)))
    axes.annotate(
        words, (1.0, float(limit)), xycoords=("axes fraction", "data"), xytext=(-2, 2),
        textcoords="offset points", ha="right", fontsize=8, color=f"#{ACCENT}",
    )  # fmt: skip
