"""The time line of one case: what was seen and done, and what is ahead as far as it is known."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.case.words import EVENT_WORDS
from inseries.desk.figures import Figure
from inseries.draw.life_line import LifeMark, LifeSpan, LifeView, life_svg, spoken

if TYPE_CHECKING:
    from inseries.case import Case
    from inseries.desk.answer import Answer


def life(record: Case, window: Answer | None, outlook: Answer | None = None) -> Figure:
    """The time line.

    Parameters
    ----------
    record : the case
    window, outlook : answers that are at hand, or None

    Returns
    -------
    Figure
    """
    today = LifeMark(day=record.age_days, label="last entry", kind="today")
    readings = (LifeMark(day=r.age_days, label="", kind="reading") for r in record.readings)
    events = (
        LifeMark(day=e.age_days, label=EVENT_WORDS.get(e.kind, e.kind.value), kind="event")
        for e in record.events
    )
    spans = (*_window(window), *_later(outlook))
    view = LifeView(marks=(*readings, *events, today), spans=spans)
    return Figure(name="life", svg=life_svg(view), alt=spoken(view))


def _window(answer: Answer | None) -> tuple[LifeSpan, ...]:
    """The survivable chance as strength of fill, day by day."""
    result = answer.result if answer is not None else None
    days: tuple[float, ...] = getattr(result, "days", ())
    tiers = getattr(result, "tiers", {})
    if not days or "survivable" not in tiers:
        return ()
    chance = tiers["survivable"].chance
    label = "window of the left ventricle: darker is likelier"
    return tuple(
        LifeSpan(
            first_day=day,
            last_day=days[min(n + 1, len(days) - 1)],
            label=label if n == 0 else "",
            kind="window",
            share=float(chance[n]),
        )
        for n, day in enumerate(days[:-1])
    )


def _later(answer: Answer | None) -> tuple[LifeSpan, ...]:
    years: tuple[float, ...] = getattr(answer.result, "ages_y", ()) if answer is not None else ()
    if not years:
        return ()
    first, last = 365.25 * max(min(years), 1.0), 365.25 * max(years)
    return (LifeSpan(first_day=first, last_day=last, label="outlook", kind="later", share=0.5),)
