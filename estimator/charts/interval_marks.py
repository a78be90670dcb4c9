"""Marks of what is cheapest where, on a chart over one value: a strip, limits and their labels.

They stand in a zone of their own at the top of the chart, above all curves. Labels that would touch
go one below the other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from estimator.charts.palette import GRAY, INK, PAPER, SERIES
from estimator.studies.comparison.break_even import CheapestIntervals, Interval
from estimator.studies.comparison.sentences import value_text

if TYPE_CHECKING:
    from matplotlib.axes import Axes

STRIP, ROW = 0.05, 0.05
_GAP_DOTS = 8.0
_PAD = 0.012


@dataclass(frozen=True)
class _Label:
    """Words at a value, their row from the top, and where they are centered in dots."""

    x: float
    words: str
    color: str


def color_of(place: int) -> str:
    """Return the color of the method at a place."""
    return f"#{SERIES[place % len(SERIES)]}"


def mark_intervals(axes: Axes, cheapest: CheapestIntervals, bottom: float, top: float) -> None:
    """Mark which method is cheapest where, above curves that reach from `bottom` to `top` [$].

    Parameters
    ----------
    axes : Axes
        Over the value that is varied; its vertical limits are set here.
    cheapest : CheapestIntervals
        That the chart's sentences tell.
    bottom, top : float
        Least and greatest cost that is drawn.
    """
    axes.set_xlim(float(cheapest.intervals[0].first), float(cheapest.intervals[-1].last))
    rows = _placed(axes, _labels(cheapest))
    zone = STRIP + ROW * len(rows) + 2 * _PAD
    axes.set_ylim(bottom, bottom + (top - bottom) / (1.0 - zone))
    axes.set_yticks([tick for tick in axes.get_yticks() if bottom <= tick <= top])
    for one in cheapest.intervals:
        _draw_strip(axes, one)
    for before, after in zip(cheapest.intervals, cheapest.intervals[1:], strict=False):
        _draw_line(axes, (float(before.last) + float(after.first)) / 2.0, 1.0 - STRIP)
    if cheapest.as_written is not None:
        _draw_line(axes, cheapest.varied.base, 1.0 - STRIP, style=(0, (2, 3)))
    for number, row in enumerate(rows):
        for label, dots in row:
            x = axes.transAxes.inverted().transform((dots, 0.0))[0]
            y = 1.0 - STRIP - _PAD - ROW * number
            axes.text(
                x, y, label.words, transform=axes.transAxes, ha="center", va="top",
                color=label.color, fontsize=8, bbox=_ON_WHITE,
            )  # fmt: skip


_ON_WHITE = {"facecolor": "white", "edgecolor": "none", "pad": 1.0}


def _labels(cheapest: CheapestIntervals) -> list[_Label]:
    """Return the limits that the sentences name, and the value as written, from left to right."""
    varied = cheapest.varied
    labels = [
        _Label(float(one.last), value_text(varied, one.last), f"#{INK}")
        for one in cheapest.intervals[:-1]
    ]
    if cheapest.as_written is not None:
        words = f"as written {value_text(varied, varied.base)}"
        labels.append(_Label(varied.base, words, f"#{GRAY}"))
    return sorted(labels, key=lambda one: one.x)


def _placed(axes: Axes, labels: Sequence[_Label]) -> list[list[tuple[_Label, float]]]:
    """Return labels in as many rows as keep them apart, each with its center in dots."""
    figure = axes.get_figure(root=True)
    assert figure is not None
    figure.draw_without_rendering()
    left, right = axes.transAxes.transform([(0.0, 0.0), (1.0, 0.0)])[:, 0]
    rows: list[list[tuple[_Label, float]]] = []
    ends: list[float] = []
    for label in labels:
        half = _width(axes, label.words) / 2.0 + _GAP_DOTS / 2.0
        center = axes.transData.transform((label.x, 0.0))[0]
        center = min(max(center, left + half), right - half)
        row = next((n for n, end in enumerate(ends) if end <= center - half), len(rows))
        if row == len(rows):
            rows.append([])
            ends.append(0.0)
        rows[row].append((label, center))
        ends[row] = center + half
    return rows


def _width(axes: Axes, words: str, size: float = 8.0) -> float:
    """Return how wide words are drawn [dots]."""
    text = axes.text(0.0, 0.0, words, fontsize=size)
    width = float(text.get_window_extent().width)
    text.remove()
    return width


def _draw_strip(axes: Axes, one: Interval) -> None:
    """Draw who is cheapest: a band of its color, hatched with the next where several are."""
    first, second = (*one.methods, *one.methods)[:2]
    low, high = float(one.first), float(one.last)
    axes.axvspan(
        low, high, 1.0 - STRIP, 1.0, facecolor=color_of(first), linewidth=0.0,
        edgecolor=color_of(second), hatch="////" if len(one.methods) > 1 else None,
    )  # fmt: skip
    if one.is_by_turns:
        axes.axvspan(low, high, 0.0, 1.0 - STRIP, facecolor=f"#{GRAY}", alpha=0.12, linewidth=0.0)
    numbers = " or ".join(str(place + 1) for place in one.methods)
    ends = axes.transData.transform([(low, 0.0), (high, 0.0)])[:, 0]
    if _width(axes, numbers) + _GAP_DOTS < ends[1] - ends[0]:
        axes.text(
            (low + high) / 2.0, 1.0 - STRIP / 2.0, numbers, transform=axes.get_xaxis_transform(),
            ha="center", va="center", fontsize=8, color=f"#{INK}",
            bbox={"facecolor": f"#{PAPER}", "edgecolor": "none", "pad": 1.0},
        )  # fmt: skip


def _draw_line(axes: Axes, x: float, top: float, style: object = "-") -> None:
    axes.axvline(x, 0.0, top, color=f"#{GRAY}", linewidth=0.8, linestyle=style, zorder=1)
