"""How sure an estimate is, as a chart: the S-curve of the total, and bars of what drives it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from estimator.charts.drawing import Form, drawn, house_style, new_pair
from estimator.charts.palette import ACCENT, GRAY, SERIES
from estimator.money import dollars, money_text
from estimator.studies.risk.job_risk import JobRisk

if TYPE_CHECKING:
    from matplotlib.axes import Axes

MOST_BARS = 10
CURVE_POINTS = 201
_LONGEST_NAME = 34


def risk_chart(risk: JobRisk, form: Form) -> bytes:
    """Return the chart as the bytes of a file; the same risk gives the same bytes.

    Parameters
    ----------
    risk : JobRisk
        What is drawn.
    form : str
        `svg` or `png`.
    """
    scope = risk.estimate.scope
    note = f"rates of {risk.estimate.on}, seed {risk.totals.job.seed}"
    with house_style():
        figure, curve, bars = new_pair(f"{scope.project}: cost range", note)
        _draw_curve(curve, risk)
        _draw_bars(bars, risk)
        return drawn(figure, form)


def _draw_curve(axes: Axes, risk: JobRisk) -> None:
    totals = risk.totals
    points = totals.curve(CURVE_POINTS)
    axes.plot(
        [cents / 100 for cents, _ in points],
        [share * 100 for _, share in points],
        color=f"#{ACCENT}",
        linewidth=2.0,
    )
    marks = {"estimate": totals.estimate_cents}
    for share in dict.fromkeys((0.5, 0.8, risk.confidence)):
        marks[f"P{share * 100:g}"] = totals.percentile_cents(share)
    for place, (name, cents) in enumerate(marks.items()):
        chance = totals.probability_within(cents) * 100
        axes.axvline(cents / 100, color=f"#{GRAY}", linewidth=0.7, linestyle=(0, (2, 3)))
        axes.plot([cents / 100], [chance], "o", color=f"#{SERIES[1]}", markersize=4)
        axes.annotate(
            f"{name} {money_text(dollars(cents))}",
            (cents / 100, chance),
            xytext=(6, -12) if place else (-6, 10),
            textcoords="offset points",
            ha="left" if place else "right",
            fontsize=8,
        )
    axes.set_xlabel("total without percentage contingency, $")
    axes.set_ylabel("chance of staying within, %")
    axes.set_ylim(0.0, 101.0)
    axes.xaxis.set_major_formatter(lambda value, _: f"{value:,.0f}")


def _draw_bars(axes: Axes, risk: JobRisk) -> None:
    shown = risk.drivers[:MOST_BARS]
    places = range(len(shown))
    axes.barh(places, [one.share * 100 for one in shown], color=f"#{ACCENT}", height=0.6)
    axes.set_yticks(list(places), [_short(one.name) for one in shown], fontsize=8)
    axes.invert_yaxis()
    axes.set_xlabel("share of the spread, %")


def _short(name: str) -> str:
    return name if len(name) <= _LONGEST_NAME else f"{name[: _LONGEST_NAME - 3]}..."
