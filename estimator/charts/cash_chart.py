"""The course of the cash as a chart: paid, loan, and what the owner has paid, day by day."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from estimator.charts.drawing import Form, drawn, house_style, new_axes
from estimator.charts.palette import ACCENT, SERIES
from estimator.funding.cash_sentences import peak_sentence
from estimator.money import cents_money

if TYPE_CHECKING:
    from estimator.funding.cash_course import CashCourse

_MOST_MARKS = 8
_CURVES = (
    ("paid for costs", "paid_cents", "-"),
    ("loan balance", "balance_cents", (0, (5, 2))),
    ("the owner has paid", "owner_cents", "-"),
)


def cash_chart(course: CashCourse, name: str, at: str, form: Form) -> bytes:
    """Return the chart as the bytes of a file; the same course gives the same bytes.

    Parameters
    ----------
    course : CashCourse
        See `cash_course`.
    name, at : str
        Of the project; which cost at completion: `P50` or `P80`.
    form : str
        `svg` or `png`.
    """
    with house_style():
        title = f"{name}: the cash from {course.plan.as_of} on, at {at}"
        figure, axes = new_axes(title, peak_sentence(course))
        days = [one.day.toordinal() for one in course.days]
        for place, (words, figure_name, style) in enumerate(_CURVES):
            dollars = [getattr(one, figure_name) / 100 for one in course.days]
            axes.plot(
                days, dollars, drawstyle="steps-post", color=f"#{SERIES[place]}",
                linestyle=style, linewidth=1.8, label=words,
            )  # fmt: skip
        _draw_limit(axes, course)
        axes.set_ylabel("$")
        axes.yaxis.set_major_formatter(lambda value, _: f"{value:,.0f}")
        axes.set_xticks(*_marks(course))
        axes.legend(frameon=False, loc="upper center", bbox_to_anchor=(0.5, -0.1), ncols=2)
        return drawn(figure, form)


def _draw_limit(axes: Any, course: CashCourse) -> None:
    """Draw what the owner has to pay with, from the beginning of the job."""
    plan = course.plan
    has = plan.equity.required_cents + plan.own_cash_cents
    words = "equity and own cash" if plan.own_cash_cents else "equity"
    axes.axhline(
        has / 100, color=f"#{ACCENT}", linewidth=1.2, linestyle=(0, (1, 2)),
        label=f"{words}, {cents_money(has)}",
    )  # fmt: skip


def _marks(course: CashCourse) -> tuple[list[int], list[str]]:
    """Return at most so many firsts of a month, and their words."""
    firsts = [one.day for one in course.days if one.day.day == 1]
    step = max(-(-len(firsts) // _MOST_MARKS), 1)
    shown = firsts[::step]
    return [day.toordinal() for day in shown], [day.strftime("%b %Y") for day in shown]
