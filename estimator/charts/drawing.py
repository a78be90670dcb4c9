"""A drawing under way: axes in the look of the house, and the file it becomes."""

from __future__ import annotations

import warnings
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING, Any, Literal

from estimator.charts.palette import GRAY, INK, RULE
from estimator.errors import FileNotWritten, fault, quoted
from estimator.own_mark import marked_png, marked_svg

if TYPE_CHECKING:
    from collections.abc import Iterator

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

Form = Literal["svg", "png"]

WIDTH_IN, HEIGHT_IN = 8.0, 5.0
# Letters of a bold title and of a note that the width of the figure holds.
_TITLE_LETTERS, _NOTE_LETTERS = 66, 96
DOTS_PER_INCH = 144

# Shapes of SVG are named by a salted hash; a fixed salt gives the same bytes each time.
_STYLE = {
    "svg.hashsalt": "groundsill",
    "font.family": "DejaVu Sans",
    "font.size": 9.0,
    "text.parse_math": False,
    "axes.edgecolor": f"#{RULE}",
    "axes.labelcolor": f"#{GRAY}",
    "text.color": f"#{INK}",
    "xtick.color": f"#{GRAY}",
    "ytick.color": f"#{GRAY}",
}


@contextmanager
def house_style() -> Iterator[None]:
    """Draw within the look of the house, whatever a user has set up for other charts.

    A letter that the font lacks is drawn as an empty box.
    """
    import matplotlib as mpl

    style: Any = {**mpl.rcParamsDefault, **_STYLE}
    with mpl.rc_context(style), warnings.catch_warnings():
        warnings.filterwarnings("ignore", "Glyph .* missing from", UserWarning)
        yield


def new_axes(title: str, note: str) -> tuple[Figure, Axes]:
    """Return an empty figure and its axes, with a title and a note under it.

    Titles and notes are the user's words; they are drawn as they stand, never as formulas, and
    wrap where the figure ends.
    """
    from matplotlib.figure import Figure

    figure = Figure(figsize=(WIDTH_IN, HEIGHT_IN), layout="constrained")
    axes = figure.add_subplot()
    note = fill(note, _NOTE_LETTERS)
    room = "\n" * (note.count("\n") + 1)
    title = fill(title, _TITLE_LETTERS)
    axes.set_title(f"{title}{room}", loc="left", fontsize=12, fontweight="bold")
    axes.text(0.0, 1.02, note, transform=axes.transAxes, color=f"#{GRAY}")
    _set_look(axes)
    return figure, axes


def new_pair(title: str, note: str) -> tuple[Figure, Axes, Axes]:
    """Return an empty figure with two axes side by side, under one title and note."""
    from matplotlib.figure import Figure

    figure = Figure(figsize=(WIDTH_IN * 1.5, HEIGHT_IN), layout="constrained")
    heading = fill(f"{title}  ({note})", int(_TITLE_LETTERS * 1.5))
    figure.suptitle(heading, x=0.01, ha="left", fontsize=12, fontweight="bold")
    left, right = figure.subplots(1, 2)
    for axes in (left, right):
        _set_look(axes)
    return figure, left, right


def new_stack(title: str, note: str, count: int) -> tuple[Figure, list[Axes]]:
    """Return an empty figure with axes one above the other, under one title and note."""
    from matplotlib.figure import Figure

    height = HEIGHT_IN * (0.2 + 0.4 * count)
    figure = Figure(figsize=(WIDTH_IN, height), layout="constrained")
    heading = fill(f"{title}  ({note})", _TITLE_LETTERS)
    figure.suptitle(heading, x=0.01, ha="left", fontsize=12, fontweight="bold")
    panels = [figure.add_subplot(count, 1, place + 1) for place in range(count)]
    for axes in panels:
        _set_look(axes)
    return figure, panels


def _set_look(axes: Axes) -> None:
    axes.grid(visible=True, color=f"#{RULE}", linewidth=0.5)
    axes.set_axisbelow(True)
    for side in ("top", "right"):
        axes.spines[side].set_visible(False)


def drawn(figure: Figure, form: Form) -> bytes:
    """Return a figure as the bytes of a file, without the day it was drawn on."""
    out = BytesIO()
    metadata = {"Date": None} if form == "svg" else {"Software": None}
    figure.savefig(out, format=form, dpi=DOTS_PER_INCH, metadata=metadata)
    return marked_svg(out.getvalue()) if form == "svg" else marked_png(out.getvalue())


def form_of(path: Path) -> Form:
    """Return the form that a file's ending asks for.

    Raises
    ------
    FileNotWritten
        If it is neither .svg nor .png.
    """
    ending = path.suffix.lower()
    if ending == ".svg":
        return "svg"
    if ending == ".png":
        return "png"
    raise fault(
        FileNotWritten, f"{quoted(path.name)} is not a chart", "end its name in .svg or .png"
    )
