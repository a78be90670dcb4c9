"""How sure an estimate is, as a chart: the S-curve of the total, and bars of what drives it."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import fill
from typing import TYPE_CHECKING, NamedTuple

from estimator.charts.drawing import Form, drawn, house_style, new_pair
from estimator.charts.palette import ACCENT, GRAY, SERIES
from estimator.money import dollars, money_text
from estimator.studies.risk.job_risk import JobRisk

if TYPE_CHECKING:
    from matplotlib.axes import Axes

MOST_BARS = 10
CURVE_POINTS = 201
_LONGEST_LINE = 34
# [%] of the curve's height that a label takes; share of its width that a letter takes.
_LABEL_HEIGHT = 4.5
_LETTER_WIDTH = 0.0145


class _Mark(NamedTuple):
    """A point of the curve with a name: its total [$] and the chance of staying within it [%]."""

    total: float
    chance: float
    name: str

    @property
    def words(self) -> str:
        return f"{self.name} {money_text(dollars(round(self.total * 100)))}"


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
    labels = [
        _Mark(cents / 100, totals.probability_within(cents) * 100, name)
        for name, cents in sorted(marks.items(), key=lambda one: one[1])
    ]
    label_heights = heights([one.chance for one in labels])
    for label, height in zip(labels, label_heights, strict=True):
        _draw_mark(axes, label, height)
    _make_room(axes, labels[0])
    axes.set_xlabel("total without percentage contingency, $")
    axes.set_ylabel("chance of staying within, %")
    axes.set_ylim(0.0, max(101.0, label_heights[-1] + _LABEL_HEIGHT))
    axes.set_yticks(range(0, 101, 20))
    axes.locator_params(axis="x", nbins=6)
    axes.xaxis.set_major_formatter(lambda value, _: f"{value:,.0f}")


def heights(chances: Sequence[float]) -> list[float]:
    """Return how high the labels of points stand [%], from the lowest on: none over another."""
    placed: list[float] = []
    for chance in chances:
        lowest = placed[-1] + _LABEL_HEIGHT if placed else 0.0
        placed.append(max(chance + 1.0, lowest))
    return placed


def _draw_mark(axes: Axes, mark: _Mark, height: float) -> None:
    """Draw a point with a line down from it, and its label to the left, where no curve is."""
    axes.plot(
        [mark.total, mark.total], [0.0, mark.chance],
        color=f"#{GRAY}", linewidth=0.7, linestyle=(0, (2, 3)),
    )  # fmt: skip
    axes.plot([mark.total], [mark.chance], "o", color=f"#{SERIES[1]}", markersize=4)
    axes.annotate(
        mark.words, (mark.total, height), xytext=(-6, 0), textcoords="offset points", ha="right",
        fontsize=8, bbox={"facecolor": "white", "edgecolor": "none", "pad": 0.5},
    )  # fmt: skip


def _make_room(axes: Axes, first: _Mark) -> None:
    """Begin the axis of totals far enough left of the first label."""
    left, right = axes.get_xlim()
    share = _LETTER_WIDTH * len(first.words)
    axes.set_xlim(min(left, (first.total - share * right) / (1.0 - share)), right)


def _draw_bars(axes: Axes, risk: JobRisk) -> None:
    shown = risk.drivers[:MOST_BARS]
    places = range(len(shown))
    axes.barh(places, [one.share * 100 for one in shown], color=f"#{ACCENT}", height=0.6)
    names = [fill(one.name, _LONGEST_LINE) for one in shown]
    axes.set_yticks(list(places), names, fontsize=8)
    axes.invert_yaxis()
    axes.set_xlabel("share of the spread, %")
