"""Beneath the window's curve: what was seen in this baby, published ages, the cost of waiting."""

from __future__ import annotations

from typing import TYPE_CHECKING

from inseries.draw.axes import Axis, lanes
from inseries.draw.lettering import shortened, text_width, wrapped
from inseries.draw.svg import INK, PALE, QUIET, RULE, Sheet, path
from inseries.draw.window_frame import LINE, SMALL, Frame

if TYPE_CHECKING:
    from inseries.draw.views import Mark, PublishedSpan, WindowView

CLOSE = 9.0  # chosen: marks nearer than this share one place, drawing units


def ages_of(span: PublishedSpan) -> str:
    """The ages of a published series in words, also those beyond the axis."""
    if span.high_day is None:
        return f"from day {span.low_day:.0f}"
    if span.low_day == span.high_day:
        return f"day {span.low_day:.0f}"
    return f"day {span.low_day:.0f} to {span.high_day:.0f}"


def marks_in_lanes(sheet: Sheet, frame: Frame, view: WindowView, ages: Axis, top: float) -> float:
    """Readings and events of this baby, each under its age; gives where the part ends."""
    if not view.marks:
        return top
    y = top + 24
    sheet.text(frame.margin, y, "this baby", size=15, face="Bold")
    key = "dot: reading, diamond: event"
    at = frame.margin + text_width("this baby", 15, "Bold") + 8
    sheet.text(at, y, key, size=SMALL, fill=QUIET)
    groups = _groups(view.marks, ages)
    texts = [shortened(", ".join(m.label for m in group), SMALL, 420) for group in groups]
    spans = [_mark_span(frame, ages.at(g[0].day), t) for g, t in zip(groups, texts, strict=True)]
    rows = lanes(spans, 14)
    for group, text, row, span in zip(groups, texts, rows, spans, strict=True):
        _mark(sheet, group, text, (ages.at(group[0].day), y + 26 + 22 * row), left=span[0])
    return y + 26 + 22 * max(rows) + 14


def _groups(marks: tuple[Mark, ...], ages: Axis) -> list[list[Mark]]:
    """Marks in order of age; those too close to tell apart share one place."""
    groups: list[list[Mark]] = []
    for mark in sorted(marks, key=lambda mark: mark.day):
        if groups and ages.at(mark.day) - ages.at(groups[-1][0].day) < CLOSE:
            groups[-1].append(mark)
        else:
            groups.append([mark])
    return groups


def _mark_span(frame: Frame, x: float, text: str) -> tuple[float, float]:
    wide = text_width(text, SMALL) + 26
    left = x - 8 if x - 8 + wide <= frame.width - frame.margin else x + 8 - wide
    return left, left + wide


def _mark(
    sheet: Sheet, group: list[Mark], text: str, place: tuple[float, float], *, left: float
) -> None:
    """A dot for readings, a diamond for events, both for both, with the words beside."""
    x, y = place
    _symbol(sheet, group, x, y)
    beside = left > x - 9
    at = x + 13 if beside else x - 13
    sheet.text(at, y, text, size=SMALL, anchor="start" if beside else "end")


def _symbol(sheet: Sheet, group: list[Mark], x: float, y: float) -> None:
    kinds = {mark.kind for mark in group}
    if "event" in kinds:
        shape = path("M", x, y - 12.5, "l", 7.5, 7.5, "l", -7.5, 7.5, "l", -7.5, -7.5, "Z")
        sheet.add("path", d=shape, fill="#ffffff", stroke=INK, stroke_width=1.6)
    if "reading" in kinds:
        sheet.add("circle", cx=x, cy=y - 5, r=2.8 if "event" in kinds else 4.6, fill=INK)


def marks_in_one_row(sheet: Sheet, frame: Frame, view: WindowView, ages: Axis, top: float) -> float:
    """The same in one row of signs, with the words in lines beneath; gives where the part ends."""
    if not view.marks:
        return top
    y = top + 12
    sheet.add("line", x1=ages.start, y1=y - 5, x2=ages.end, y2=y - 5, stroke=RULE, stroke_width=1)
    for group in _groups(view.marks, ages):
        _symbol(sheet, group, ages.at(group[0].day), y)
    sheet.text(ages.end + 28, y, "this baby", size=15, face="Bold")
    for row, words in enumerate(("dot: reading", "diamond: event"), start=1):
        sheet.text(ages.end + 28, y + LINE * row, words, size=SMALL, fill=QUIET)
    lines = wrapped(_told(view.marks), SMALL, ages.end - ages.start)
    for row, words in enumerate(lines, start=1):
        sheet.text(ages.start, y + LINE * row, words, size=SMALL)
    return y + LINE * max(2, len(lines)) + 6


def _told(marks: tuple[Mark, ...]) -> str:
    """All marks in words, day by day."""
    days: dict[str, list[str]] = {}
    for mark in sorted(marks, key=lambda mark: mark.day):
        days.setdefault(f"day {mark.day:.0f}", []).append(mark.label)
    return "; ".join(f"{day}: {', '.join(labels)}" for day, labels in days.items())


def published(sheet: Sheet, frame: Frame, view: WindowView, ages: Axis, top: float) -> float:
    """The ages of published series as hatched bars in a field of their own."""
    if not view.published:
        return top
    texts = [_span_lines(frame, span) for span in view.published]
    height = 38 + frame.bars_foot + sum(LINE * len(lines) + frame.bar_row for lines in texts)
    sheet.add("rect", x=0, y=top, width=frame.width, height=height, fill=PALE)
    words = "published, other babies"
    sheet.text(frame.margin, top + 26, words, size=15, face="Bold")
    at = frame.margin + text_width(words, 15, "Bold") + 8
    rest = "each series with its own denominator; not this baby, not the simulation"
    sheet.text(at, top + 26, rest, size=SMALL, fill=QUIET)
    hatch = f'<path d="M 0 0 V 5" fill="none" stroke="{QUIET}" stroke-width="2.4"/>'
    paint = sheet.define(
        "pattern", "hatch-published", hatch, width=4, height=5, patternUnits="userSpaceOnUse"
    )
    y = top + 38
    for span, lines in zip(view.published, texts, strict=True):
        for row, line in enumerate(lines):
            face = "Bold" if row == 0 else "Regular"
            sheet.text(frame.left, y + 15 + LINE * row, line, size=SMALL, face=face)
        y += LINE * len(lines)
        _span_bar(sheet, frame, span, ages, y=y + frame.bar_gap, paint=paint)
        y += frame.bar_row
    return top + height


def _span_lines(frame: Frame, span: PublishedSpan) -> tuple[str, ...]:
    room = frame.width - frame.margin - frame.left
    first = wrapped(f"{span.label}, {ages_of(span)}", SMALL, room, "Bold")
    return (first[0], *first[1:], *wrapped(span.source_text, SMALL, room))


def _span_bar(
    sheet: Sheet, frame: Frame, span: PublishedSpan, ages: Axis, *, y: float, paint: str
) -> None:
    """The bar; an open arrow where the ages run on beyond the axis."""
    beyond = span.high_day is None or span.high_day > ages.high
    last = ages.high if span.high_day is None or beyond else span.high_day
    left, right, high = ages.at(span.low_day), ages.at(last), frame.bar
    looks = {"fill": paint, "stroke": QUIET, "stroke_width": 1.0}
    if right - left >= 3:
        sheet.add("rect", x=left, y=y, width=right - left, height=high, **looks)
    elif span.low_day <= ages.high:
        sheet.add("circle", cx=(left + right) / 2, cy=y + high / 2, r=high / 2, fill=QUIET)
    if beyond:
        reach = high / 2 + 2
        tip = path("M", right + 5, y - 2, "l", 8, reach, "l", -8, reach)
        sheet.add("path", d=tip, fill="none", stroke=QUIET, stroke_width=2)


def cost(sheet: Sheet, frame: Frame, view: WindowView, top: float) -> float:
    """The published cost of waiting, in words."""
    words = "what waiting costs"
    sheet.text(frame.margin, top, words, size=15, face="Bold")
    at = frame.margin + text_width(words, 15, "Bold") + 8
    rest = "published, confounded, and not only the ventricle's doing"
    sheet.text(at, top, rest, size=SMALL, fill=QUIET)
    y = top + 24
    for line in view.cost_lines:
        sheet.add("circle", cx=frame.left - 12, cy=y - 5, r=2.4, fill=INK)
        for row in wrapped(line, 15, frame.width - frame.margin - frame.left):
            sheet.text(frame.left, y, row, size=15)
            y += LINE + 2
        y += 3
    return y + 4
