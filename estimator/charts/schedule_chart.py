"""The dates of a job as a bar chart: phases and items, waits, crews at work, rented machines.

It reads in black and white: what is critical is dark and says so in words, waits are hatched, what
runs along is white, and what is rented on days that nobody stated has a broken edge.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from textwrap import wrap
from typing import TYPE_CHECKING, Any

from estimator.charts.drawing import Form, drawn, house_style
from estimator.charts.palette import ACCENT, BAND, GRAY, INK, RULE
from estimator.production.working_calendar import is_working_day
from estimator.scheduling.hands_at_work import CrewLoad
from estimator.scheduling.job_bars import BarRow, JobBars
from estimator.scheduling.rent_by_dates import RentSpan, ordered_quantities
from estimator.scope.calendar_reader import MONTHS

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

MOST_ROWS = 250
# The figure and what stands around the bars.
_WIDTH_IN, _MARGIN_IN, _BOTTOM_IN = 11.0, 0.15, 0.95
_LEFT_IN, _RIGHT_IN, _RIGHT_WITH_YEAR_IN = 3.3, 2.15, 3.05
_TOP_IN, _TITLE_IN, _NOTE_IN = 0.85, 0.22, 0.65
_LONGEST_TITLE = 100
_LINE_IN, _GAP_IN, _BAR_IN = 0.125, 0.05, 0.11
_LONGEST_LABEL = 52
_FIRST_WIDE_LETTER = "\u2e80"
_MOST_DAYS_MARKED, _MOST_DAYS_BY_WEEK, _MOST_MONTHS_MARKED = 14, 100, 14
_ONE_DAY = timedelta(days=1)
_LONG_BREAK_DAYS = 5

_Look = dict[str, Any]
_CRITICAL: _Look = {"facecolor": f"#{ACCENT}", "edgecolor": f"#{INK}"}
_FLOATING: _Look = {"facecolor": f"#{RULE}", "edgecolor": f"#{INK}"}
_ALONG: _Look = {"facecolor": "white", "edgecolor": f"#{INK}"}
_WAIT: _Look = {"facecolor": "white", "edgecolor": f"#{GRAY}", "hatch": "////"}
_RENT: _Look = {"facecolor": f"#{GRAY}", "edgecolor": f"#{GRAY}"}
_SOME_DAYS: _Look = {"facecolor": "white", "edgecolor": f"#{GRAY}", "linestyle": (0, (3, 2))}
_BREAK: _Look = {"facecolor": f"#{BAND}", "edgecolor": "none"}
_KEY: dict[str, _Look] = {
    "critical: the finish date depends on it": _CRITICAL,
    "has float": _FLOATING,
    "runs along other work": _ALONG,
    "stated wait": _WAIT,
    "rented, on the days of its work": _RENT,
    "rented, on days in between that nobody stated": _SOME_DAYS,
}


@dataclass(frozen=True)
class _Bar:
    """A bar from the morning of a day to the evening of another, as high as a share of a row."""

    first: date
    last: date
    look: _Look
    share: float = 1.0


@dataclass(frozen=True)
class _Row:
    """A row: its words on the left and on the right, and its bars."""

    label: str
    words: str
    bars: tuple[_Bar, ...]
    is_bold: bool = False

    @property
    def lines(self) -> list[str]:
        is_wide = max(self.label, default="") >= _FIRST_WIDE_LETTER
        width = _LONGEST_LABEL // 2 if is_wide else _LONGEST_LABEL
        return wrap(self.label, width, subsequent_indent="    ") or [""]

    @property
    def height(self) -> float:
        return len(self.lines) * _LINE_IN + _GAP_IN


def schedule_chart(bars: JobBars, form: Form) -> bytes:
    """Return the bar chart of a job as the bytes of a file; the same dates give the same bytes.

    Parameters
    ----------
    bars : JobBars
        From `bars_of`. Of more than 250 rows, the phases are drawn, 250 at the most.
    form : str
        `svg` or `png`.
    """
    with house_style():
        return drawn(_figure(bars), form)


def _figure(bars: JobBars) -> Figure:
    from matplotlib.figure import Figure

    rows = [*_rows(bars)]
    height = sum(row.height for row in rows)
    title = wrap(f"{bars.project}: bar chart", _LONGEST_TITLE)
    top = _TOP_IN + len(title) * _TITLE_IN
    whole = top + height + _BOTTOM_IN
    left, right = _LEFT_IN, _RIGHT_IN if bars.is_one_year else _RIGHT_WITH_YEAR_IN
    figure = Figure(figsize=(_WIDTH_IN, whole))
    width = (_WIDTH_IN - left - right) / _WIDTH_IN
    axes = figure.add_axes((left / _WIDTH_IN, _BOTTOM_IN / whole, width, height / whole))
    place: dict[str, Any] = {"x": _MARGIN_IN / _WIDTH_IN, "va": "top"}
    figure.text(
        y=1.0 - _MARGIN_IN / whole, s="\n".join(title), fontsize=12, fontweight="bold", **place
    )
    figure.text(y=1.0 - (top - _NOTE_IN) / whole, s=_note(bars), color=f"#{GRAY}", **place)
    axes.set_ylim(height, 0.0)
    _set_days(axes, bars)
    _draw(axes, rows)
    _add_key(figure, whole)
    return figure


def _note(bars: JobBars) -> str:
    schedule = bars.schedule
    note = f"{schedule.start} to {schedule.finish}, {schedule.days:.1f} working days"
    if len(bars.rows) > MOST_ROWS:
        note += f"; phases only: there are {len(schedule.items):,} items"
    if len(schedule.phases) > MOST_ROWS:
        note += f", and the first {MOST_ROWS} of {len(schedule.phases):,} phases"
    if not schedule.is_shortest:
        note += "; the best order found"
    return f"{note}. {bars.assumed}" if bars.assumed else note


def _rows(bars: JobBars) -> Iterator[_Row]:
    rows = bars.rows
    if len(rows) > MOST_ROWS:
        rows = tuple(row for row in rows if row.is_phase)[:MOST_ROWS]
    for row in rows:
        yield _work_row(row, bars)
    if bars.crews:
        yield _Row("At work, most on any day", "", (), is_bold=True)
        yield from map(_load_row, bars.crews)
    if bars.rents:
        yield _Row("Rented machines", "", (), is_bold=True)
        yield from map(_rent_row, bars.rents_by_machine)


def _work_row(row: BarRow, bars: JobBars) -> _Row:
    work = row.work
    look = _CRITICAL if work.is_critical else _FLOATING
    waits = tuple(_Bar(one.first, one.last, _WAIT) for one in row.waits)
    bar = _Bar(
        work.start, work.finish, _ALONG if work.along else look, 1.0 if row.is_phase else 0.7
    )
    dates = " to ".join(_day(one, bars) for one in (work.start, work.finish))
    indent = "" if row.is_phase else "  "
    own = (bar,) if work.days else ()
    label = f"{indent}{work.code} {work.name}"
    return _Row(label, f"{dates}  {row.words}", (*waits, *own), row.is_phase)


def _day(day: date, bars: JobBars) -> str:
    return f"{day:%m-%d}" if bars.is_one_year else f"{day}"


def _load_row(load: CrewLoad) -> _Row:
    """Return how many are at work as bars that are as high as their share of all."""
    whole = max(load.there or 0, load.most)
    bars = tuple(
        _Bar(first, last, _RENT, float(number / whole)) for first, last, number in _runs(load)
    )
    return _Row(f"  {load.name}", load.words, bars)


def _runs(load: CrewLoad) -> Iterator[tuple[date, date, Any]]:
    """Yield the days of a crew as runs of the same number, one day after the other."""
    run: list[date] = []
    for day, number in load.by_day.items():
        if run and (day != run[-1] + _ONE_DAY or load.by_day[run[0]] != number):
            yield run[0], run[-1], load.by_day[run[0]]
            run = []
        run.append(day)
    if run:
        yield run[0], run[-1], load.by_day[run[0]]


def _rent_row(spans: Sequence[RentSpan]) -> _Row:
    bars = (_Bar(one.first, one.last, _RENT if one.is_dated else _SOME_DAYS, 0.7) for one in spans)
    return _Row(f"  {spans[0].name}", ordered_quantities(spans), tuple(bars))


def _set_days(axes: Axes, bars: JobBars) -> None:
    """Set the days from left to right: a line a month, or a week where the job is short."""
    schedule = bars.schedule
    first, last = schedule.start.toordinal(), schedule.finish.toordinal() + 1
    axes.set_xlim(first, last)
    days = [date.fromordinal(number) for number in range(first, last)]
    marks = _marks(days)
    axes.set_xticks([one.toordinal() for one in marks], [_mark(one, marks) for one in marks])
    axes.tick_params(axis="x", top=True, labeltop=True, bottom=True, labelbottom=True, labelsize=8)
    for label in (*axes.get_xticklabels(), *axes.xaxis.get_majorticklabels()):
        label.set_horizontalalignment("left")
    axes.grid(visible=True, axis="x", color=f"#{RULE}", linewidth=0.6)
    axes.set_axisbelow(True)
    for begun, done in _breaks(days, bars):
        axes.axvspan(begun.toordinal(), done.toordinal() + 1, **_BREAK, zorder=0)


def _marks(days: Sequence[date]) -> list[date]:
    """Return the days that are marked: the first, and of each week or month the first."""
    if len(days) <= _MOST_DAYS_MARKED:
        return list(days)
    if len(days) <= _MOST_DAYS_BY_WEEK:
        firsts = [day for day in days if day.weekday() == 0]
    else:
        months = [day for day in days if day.day == 1]
        firsts = months[:: 1 + len(months) // _MOST_MONTHS_MARKED]
    room = len(days) // _MOST_MONTHS_MARKED
    return [days[0], *(day for day in firsts if (day - days[0]).days > room)]


def _mark(day: date, marks: Sequence[date]) -> str:
    """Return what stands at a mark; the year where it changes."""
    place = marks.index(day)
    month = MONTHS[day.month - 1]
    words = month if day.day == 1 else f"{month} {day.day}"
    is_new_year = place == 0 or day.year != marks[place - 1].year
    return f"{words}\n{day:%Y}" if is_new_year else words


def _breaks(days: Sequence[date], bars: JobBars) -> Iterator[tuple[date, date]]:
    """Yield the runs of days that are not worked and are longer than a weekend."""
    run: list[date] = []
    for day in days:
        if is_working_day(bars.schedule.calendar, day):
            run = []
            continue
        run.append(day)
        if len(run) >= _LONG_BREAK_DAYS:
            yield (run[0] if len(run) == _LONG_BREAK_DAYS else day), day


def _draw(axes: Axes, rows: Sequence[_Row]) -> None:
    from matplotlib.patches import Rectangle

    top, middles = 0.0, []
    for row in rows:
        middle = top + row.height / 2.0
        middles.append(middle)
        for bar in row.bars:
            height = _BAR_IN * bar.share
            corner = (bar.first.toordinal(), middle + _BAR_IN / 2.0 - height)
            days = (bar.last - bar.first).days + 1
            axes.add_patch(Rectangle(corner, days, height, linewidth=0.6, zorder=2, **bar.look))
        top += row.height
    axes.set_yticks(middles, ["\n".join(row.lines) for row in rows], fontsize=8)
    left = (_MARGIN_IN - _LEFT_IN) / (axes.get_position().width * _WIDTH_IN)
    right = axes.secondary_yaxis("right")
    right.set_yticks(middles, [row.words for row in rows], fontsize=8)
    for side in (axes, right):
        side.tick_params(axis="y", length=0)
    for row, label in zip(rows, axes.get_yticklabels(), strict=True):
        label.set(color=f"#{INK}", fontweight="bold" if row.is_bold else "normal")
        label.set(horizontalalignment="left", x=left)


def _add_key(figure: Figure, whole: float) -> None:
    from matplotlib.patches import Patch

    patches = [Patch(linewidth=0.6, **look) for look in _KEY.values()]
    figure.legend(
        patches, list(_KEY), frameon=False, ncols=3, fontsize=8, loc="lower center",
        bbox_to_anchor=(0.5, 0.05 / whole),
    )  # fmt: skip
