"""The choice between methods as a chart: costs over one value, or a map of the best over two."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import fill
from typing import TYPE_CHECKING

import numpy as np

from estimator.charts.drawing import Form, drawn, house_style, new_axes
from estimator.charts.interval_marks import color_of, mark_intervals
from estimator.errors import MethodsFaulty, fault
from estimator.studies.comparison.break_even import CheapestIntervals
from estimator.studies.comparison.comparison import Comparison
from estimator.studies.comparison.curves import CostMap, Curves, Values
from estimator.studies.comparison.findings import Findings
from estimator.studies.comparison.map_key import map_key
from estimator.studies.comparison.varied import Varied

if TYPE_CHECKING:
    from matplotlib.artist import Artist
    from matplotlib.axes import Axes
    from matplotlib.axis import Axis

_DASHES = ("-", "--", "-.", ":")
# A method so much dearer than the rest is cut off, or all others would lie on one line.
_FAR = 1.8
_LONGEST_LINE = 44


def method_chart(comparison: Comparison, findings: Findings, form: Form) -> bytes:
    """Return the chart of a comparison, as the bytes of a file.

    Parameters
    ----------
    comparison : Comparison
        Whose methods are drawn.
    findings : Findings
        With curves or a map.
    form : str
        `svg` or `png`.

    Raises
    ------
    MethodsFaulty
        If nothing was varied that could be drawn.
    """
    title = f"{comparison.item.code} {comparison.item.name}"
    note = f"{comparison.project}, rates of {comparison.on}, a day worth ${comparison.day_worth:,}"
    with house_style():
        figure, axes = new_axes(title, note)
        if findings.cost_map is not None:
            _draw_map(axes, comparison, findings.cost_map)
        elif findings.curves is not None:
            _draw_curves(axes, comparison, findings.curves, findings.cheapest[0])
        else:
            raise fault(MethodsFaulty, "nothing is varied that could be drawn", "name an input")
        return drawn(figure, form)


def _draw_curves(
    axes: Axes, comparison: Comparison, curves: Curves, cheapest: CheapestIntervals
) -> None:
    costs = curves.cents / 100
    top, bottom = _top(costs), min(0.0, costs.min())
    lines, names = [], []
    for place, cost in enumerate(costs):
        style = _DASHES[place % len(_DASHES)]
        shown = np.where(cost <= top, cost, np.nan)
        lines += axes.plot(
            curves.values, shown, color=color_of(place), linestyle=style, linewidth=1.8
        )
        beyond = " (above the chart)" if cost.min() > top else ""
        if not beyond and cost.max() > top:
            beyond = " (goes on above the chart)"
        names.append(f"{place + 1} {comparison.prepared[place].method.name}{beyond}")
    axes.set_ylabel("total with time, $")
    axes.set_xlabel(_axis_words(curves.varied))
    _show_shares(axes.xaxis, curves.varied)
    axes.yaxis.set_major_formatter(lambda value, _: f"{value:,.0f}")
    _legend(axes, lines, names)
    mark_intervals(axes, cheapest, bottom, top)


def _top(costs: Values) -> float:
    """Return where the chart ends [$]: above all costs, or far above the dearest of the best."""
    far = float(_FAR * costs.min(axis=0).max())
    return min(float(1.05 * costs.max()), far) if far > 0.0 else 1.0


def _legend(axes: Axes, handles: Sequence[Artist], names: Sequence[str]) -> None:
    lines = [fill(name, _LONGEST_LINE) for name in names]
    axes.legend(
        handles, lines, frameon=False, loc="upper center", bbox_to_anchor=(0.5, -0.12), ncols=2
    )


def _draw_map(axes: Axes, comparison: Comparison, cost_map: CostMap) -> None:
    from matplotlib.colors import ListedColormap
    from matplotlib.patches import Patch

    key = map_key(comparison, cost_map)
    count = len(key)
    colors = ListedColormap([color_of(place) for place in range(count)])
    axes.pcolormesh(
        cost_map.across_values, cost_map.up_values, cost_map.cheapest,
        cmap=colors, vmin=-0.5, vmax=count - 0.5, shading="nearest", alpha=0.85, rasterized=True,
    )  # fmt: skip
    if _is_inside(cost_map):
        axes.plot(
            [cost_map.across.base], [cost_map.up.base], "o", color="white", markeredgecolor="black"
        )
    axes.set_xlabel(_axis_words(cost_map.across))
    axes.set_ylabel(_axis_words(cost_map.up))
    _show_shares(axes.xaxis, cost_map.across)
    _show_shares(axes.yaxis, cost_map.up)
    shown = np.unique(cost_map.cheapest).tolist()
    patches = [Patch(color=color_of(place)) for place in shown]
    _legend(axes, patches, [" ".join(key[place]) for place in shown])


def _is_inside(cost_map: CostMap) -> bool:
    across, up = cost_map.across_values, cost_map.up_values
    is_across = across[0] <= cost_map.across.base <= across[-1]
    return bool(is_across and up[0] <= cost_map.up.base <= up[-1])


def _axis_words(varied: Varied) -> str:
    unit = "%" if varied.unit.name == "fraction" else varied.unit.name
    return f"{varied.name}, {unit}"


def _show_shares(axis: Axis, varied: Varied) -> None:
    """Show fractions as percentages."""
    if varied.unit.name == "fraction":
        axis.set_major_formatter(lambda value, _: f"{value * 100:g}")
