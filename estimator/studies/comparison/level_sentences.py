"""How fast a fill rises by each method, and where it stands, in sentences."""

from __future__ import annotations

from estimator.scope.methods.rising_fill import rising_words, whole_day
from estimator.studies.comparison.changing_course import ChangedCourse
from estimator.studies.comparison.comparison import Comparison


def rising_sentences(comparison: Comparison) -> tuple[str, ...]:
    """Return for each method how fast its fill rises; none where no level is stated."""
    return tuple(
        f"{method.name[0].upper()}{method.name[1:]}: it {rising_words(fill)}."
        for method, fill in zip(comparison.item.methods, comparison.rises, strict=True)
        if fill is not None
    )


def standing_sentences(course: ChangedCourse) -> tuple[str, ...]:
    """Return at which level the work under way stands and when it reaches others; or nothing.

    The days count from the first day of the work, those that are recorded and those to come.
    """
    fill, now = course.rise, course.now
    if fill is None:
        return ()
    whole = now.pace.placed + now.remaining
    done = now.pace.placed / whole

    def reached(name: str, share: float) -> str:
        if share <= done:
            return f"{name} is reached already"
        day = whole_day(now.pace.days + (share - done) * whole / now.pace.per_day)
        return f"{name} is reached on day {day}"

    parts = [reached(one.text, fill.share_below(one)) for one in fill.level.marks]
    parts.append(reached(f"its top, {fill.level.top.text},", 1.0))
    stands = f"By what is placed the fill stands at {fill.level_ft(done):,.2f} ft"
    return (f"{stands}; at this pace {', '.join(parts)} of the work.",)
