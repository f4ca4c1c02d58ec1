"""The window: simulated chance per age at switch, with all it must never appear without.

The curve stands above; beneath it, on the same axis of age, what was seen in this baby and the
ages of published series of other babies; then the published cost of waiting. Line, hatch and words
tell the two tiers apart, colour only helps.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.base.errors import OutputError
from inseries.draw.axes import Axis, age_ticks, apart, lanes
from inseries.draw.lettering import shortened, text_width, wrapped
from inseries.draw.svg import INK, PALE, QUIET, RULE, Sheet, path, through

if TYPE_CHECKING:
    from inseries.draw.views import Mark, PublishedSpan, Tier, WindowView

WIDTH = 1024.0  # chosen: drawing units; 170 mm on paper, 1024 px on a screen
MARGIN = 24.0  # chosen: free edge
LEFT = 84.0  # chosen: start of the age axis
NAMES_ROOM = 232.0  # chosen: room for the direct labels, right of the age axis
PLOT, SPAN_GAP = 290.0, 30.0  # chosen: height of the curve's field, of a published bar's row
# chosen: compact, for 120 mm of paper: narrower, so that letters are larger
COMPACT_WIDTH, COMPACT_PLOT, COMPACT_SPAN_GAP = 760.0, 232.0, 19.0
LINE = 19.0  # chosen: line height of small text
SMALL = 14.0  # chosen: small text, 6.6 pt at 170 mm
NAME_ROOM = 56.0  # chosen: least distance between the two direct labels
CLOSE = 9.0  # chosen: marks nearer than this share one place, drawing units
ROUND_TO_PCT = 5  # chosen: no chance is written finer than this


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """How one tier is drawn: colour, dashes and hatch, so that grey print keeps it."""

    colour: str
    dashes: str
    hatch: str


LOOKS = {
    "survivable": Look(colour="#22365c", dashes="none", hatch="M 0 8 L 8 0"),
    "comfortable": Look(colour="#a8511f", dashes="9 6", hatch="M 2 2 h 1.6 M 6 6 h 1.6"),
}


def window_svg(view: WindowView, *, compact: bool = False) -> str:
    """The window as SVG.

    Parameters
    ----------
    view : WindowView, with at least two days, equally long tiers and the cost of waiting
    compact : for a page that itself carries the title and the cost of waiting; 120 mm on paper

    Returns
    -------
    str, one SVG file, 1024 drawing units wide, meant for 170 mm on paper

    Raises
    ------
    OutputError, if the cost of waiting is missing, lengths differ or a number is not finite
    """
    check_window(view)
    sheet = Sheet(view.figure_id, COMPACT_WIDTH if compact else WIDTH)
    plot = COMPACT_PLOT if compact else PLOT
    top = 46.0 if compact else _heading(sheet, view)
    ages = Axis(
        low=0, high=max(view.horizon_day, view.days[-1], 1.0), start=LEFT, end=_right(sheet)
    )
    chances = Axis(low=0, high=1, start=top + plot, end=top)
    _curves(sheet, view, ages, chances)
    y = _seen(sheet, view, ages, top + plot + 62)
    y = _published(sheet, view, ages, y + 8, COMPACT_SPAN_GAP if compact else SPAN_GAP)
    y = y if compact else _cost(sheet, view, y + 30)
    sheet.underlay("rect", x=0, y=0, width=sheet.width, height=y, fill="#ffffff")
    return sheet.finish(y, view.title, spoken(view))


def _right(sheet: Sheet) -> float:
    """End of the age axis."""
    return sheet.width - NAMES_ROOM


def _curves(sheet: Sheet, view: WindowView, ages: Axis, chances: Axis) -> None:
    """The field of the curve: what it is, its grid, bands, lines and names."""
    what = "Simulated chance, in steps of 5 %, that the left ventricle carries the body"
    y = chances.end - 18
    sheet.text(MARGIN, y, what, size=15, face="Bold")
    at = MARGIN + text_width(what, 15, "Bold") + 8
    sheet.text(at, y, "with 90 % interval", size=15, fill=QUIET)
    _grid(sheet, view, ages, chances)
    for tier in reversed(view.tiers):
        _band(sheet, view, tier, ages, chances)
    for tier in view.tiers:
        _line(sheet, view, tier, ages, chances)
    _names(sheet, view, ages, chances)


def check_window(view: WindowView) -> None:
    """Refuses a window that says less than it must."""
    if not view.cost_lines:
        raise OutputError(
            "the window is never shown without the published cost of waiting",
            code="cost_of_waiting_missing",
            where="draw window",
            remedy="give the view its cost lines",
        )
    lengths = {len(view.days)} | {
        len(row) for tier in view.tiers for row in (tier.chance, tier.low, tier.high)
    }
    if len(lengths) != 1 or len(view.days) < 2:
        raise OutputError(
            "the window needs two days or more, and one chance for each",
            code="lengths_differ",
            where="draw window",
            value=sorted(lengths),
            remedy="give every tier as many values as there are days",
        )


def in_fives(chance: float) -> str:
    """A chance in words, no finer than five points."""
    if chance < ROUND_TO_PCT / 200:
        return f"below {ROUND_TO_PCT} %"
    if chance > 1 - ROUND_TO_PCT / 200:
        return f"above {100 - ROUND_TO_PCT} %"
    return f"about {ROUND_TO_PCT * round(100 * chance / ROUND_TO_PCT)} %"


def spoken(view: WindowView) -> str:
    """The picture in words, for readers who do not see it."""
    tiers = " ".join(
        f"{tier.name}: {in_fives(tier.chance[0])} on day {view.days[0]:.0f}, "
        f"{in_fives(tier.chance[-1])} on day {view.days[-1]:.0f}."
        for tier in view.tiers
    )
    published = " ".join(f"{span.label}, {ages_of(span)}." for span in view.published)
    waiting = " ".join(view.cost_lines)
    return f"{view.sentence} Simulated chance, {tiers} Published: {published} {waiting}"


def ages_of(span: PublishedSpan) -> str:
    """The ages of a published series in words."""
    if span.low_day == span.high_day:
        return f"day {span.low_day:.0f}"
    return f"day {span.low_day:.0f} to {span.high_day:.0f}"


def _heading(sheet: Sheet, view: WindowView) -> float:
    """Title and sentence; gives where the curve's field begins."""
    lines = wrapped(view.sentence, 16, sheet.width - 2 * MARGIN)
    sheet.text(MARGIN, 40, view.title, size=22, face="Bold")
    for row, line in enumerate(lines):
        sheet.text(MARGIN, 66 + 21 * row, line, size=16, fill=QUIET)
    return 62.0 + 21 * len(lines) + 46


def _grid(sheet: Sheet, view: WindowView, ages: Axis, chances: Axis) -> None:
    bottom = chances.start
    for pct in range(0, 101, ROUND_TO_PCT):
        y = chances.at(pct / 100)
        major = pct % 20 == 0
        if major:
            sheet.add("line", x1=LEFT, y1=y, x2=ages.end, y2=y, stroke=RULE, stroke_width=0.8)
            sheet.text(LEFT - 14, y + 5, f"{pct} %", size=SMALL, fill=QUIET, anchor="end")
        reach = 8 if major else 4
        sheet.add("line", x1=LEFT - reach, y1=y, x2=LEFT, y2=y, stroke=QUIET, stroke_width=0.8)
    sheet.add("line", x1=LEFT, y1=bottom, x2=ages.end, y2=bottom, stroke=INK, stroke_width=1.4)
    for day in age_ticks(ages.high):
        x = ages.at(day)
        sheet.add("line", x1=x, y1=bottom, x2=x, y2=bottom + 6, stroke=INK, stroke_width=1.2)
        sheet.text(x, bottom + 21, f"{day}", size=SMALL, anchor="middle")
    x = ages.at(view.horizon_day)
    sheet.add("line", x1=x, y1=chances.end, x2=x, y2=bottom, stroke=INK, stroke_dasharray="1 4")
    words = f"age at switch (days); computed up to day {view.horizon_day:.0f}"
    sheet.text(LEFT, bottom + 42, words, size=15, face="Bold")


def _band(sheet: Sheet, view: WindowView, tier: Tier, ages: Axis, chances: Axis) -> None:
    look = LOOKS[tier.name]
    upper = [(ages.at(d), chances.at(c)) for d, c in zip(view.days, tier.high, strict=True)]
    lower = [(ages.at(d), chances.at(c)) for d, c in zip(view.days, tier.low, strict=True)]
    outline = through([*upper, *reversed(lower)]) + " Z"
    inner = f'<path d="{look.hatch}" fill="none" stroke="{look.colour}" stroke-width="1.1"/>'
    paint = sheet.define(
        "pattern", f"hatch-{tier.name}", inner, width=8, height=8, patternUnits="userSpaceOnUse"
    )
    sheet.add("path", d=outline, fill=look.colour, fill_opacity=0.1)
    sheet.add("path", d=outline, fill=paint, fill_opacity=0.55)


def _line(sheet: Sheet, view: WindowView, tier: Tier, ages: Axis, chances: Axis) -> None:
    look = LOOKS[tier.name]
    points = [(ages.at(d), chances.at(c)) for d, c in zip(view.days, tier.chance, strict=True)]
    for colour, width in (("#ffffff", 6.5), (look.colour, 3.2)):
        sheet.add(
            "path",
            id=sheet.id(f"line-{tier.name}" + ("-halo" if width > 4 else "")),
            d=through(points),
            fill="none",
            stroke=colour,
            stroke_width=width,
            stroke_dasharray=look.dashes if width < 4 else "none",
            stroke_linejoin="round",
        )


def _names(sheet: Sheet, view: WindowView, ages: Axis, chances: Axis) -> None:
    """The name of each tier at the end of its line."""
    tiers = sorted(view.tiers, key=lambda tier: -tier.chance[-1])
    wanted = [chances.at(tier.chance[-1]) for tier in tiers]
    room = [NAME_ROOM + LINE * len(_meaning(sheet, tier)) for tier in tiers]
    places = apart(wanted, room[0] if room else 0.0, chances.end + 8, chances.start - 6)
    for tier, y_line, y in zip(tiers, wanted, places, strict=True):
        x, colour = ages.at(view.days[-1]), LOOKS[tier.name].colour
        bend = path("M", x + 5, y_line, "L", ages.end + 14, y, "L", ages.end + 22, y)
        sheet.add("path", d=bend, fill="none", stroke=colour, stroke_width=1)
        at = ages.end + 28
        sheet.text(at, y + 6, tier.name, size=17, face="Bold", fill=colour)
        words = f"{in_fives(tier.chance[-1])} on day {view.days[-1]:.0f}"
        sheet.text(at, y + 6 + LINE, words, size=SMALL)
        for row, line in enumerate(_meaning(sheet, tier)):
            sheet.text(at, y + 6 + LINE * (2 + row), line, size=SMALL, fill=QUIET)


def _meaning(sheet: Sheet, tier: Tier) -> tuple[str, ...]:
    room = sheet.width - MARGIN - _right(sheet) - 28
    return wrapped(tier.meaning, SMALL, room)[:3] if tier.meaning else ()


def _seen(sheet: Sheet, view: WindowView, ages: Axis, top: float) -> float:
    """Readings and events of this baby, each under its age; gives where the part ends."""
    if not view.marks:
        return top
    y = top + 24
    sheet.text(MARGIN, y, "this baby", size=15, face="Bold")
    key = "dot: reading, diamond: event"
    at = MARGIN + text_width("this baby", 15, "Bold") + 8
    sheet.text(at, y, key, size=SMALL, fill=QUIET)
    groups = _groups(view.marks, ages)
    texts = [shortened(", ".join(m.label for m in group), SMALL, 420) for group in groups]
    spans = [_mark_span(sheet, ages.at(g[0].day), t) for g, t in zip(groups, texts, strict=True)]
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


def _mark_span(sheet: Sheet, x: float, text: str) -> tuple[float, float]:
    wide = text_width(text, SMALL) + 26
    left = x - 8 if x - 8 + wide <= sheet.width - MARGIN else x + 8 - wide
    return left, left + wide


def _mark(
    sheet: Sheet, group: list[Mark], text: str, place: tuple[float, float], *, left: float
) -> None:
    """A dot for readings, a diamond for events, both for both, with the words beside."""
    (x, y), kinds = place, {mark.kind for mark in group}
    if "event" in kinds:
        shape = path("M", x, y - 12.5, "l", 7.5, 7.5, "l", -7.5, 7.5, "l", -7.5, -7.5, "Z")
        sheet.add("path", d=shape, fill="#ffffff", stroke=INK, stroke_width=1.6)
    if "reading" in kinds:
        sheet.add("circle", cx=x, cy=y - 5, r=2.8 if "event" in kinds else 4.6, fill=INK)
    beside = left > x - 9
    at = x + 13 if beside else x - 13
    sheet.text(at, y, text, size=SMALL, anchor="start" if beside else "end")


def _published(sheet: Sheet, view: WindowView, ages: Axis, top: float, gap: float) -> float:
    """The ages of published series as hatched bars in a field of their own."""
    if not view.published:
        return top
    texts = [_span_lines(sheet, span) for span in view.published]
    height = 42 + sum(LINE * len(lines) + gap for lines in texts)
    sheet.add("rect", x=0, y=top, width=sheet.width, height=height, fill=PALE)
    words = "published, other babies"
    sheet.text(MARGIN, top + 26, words, size=15, face="Bold")
    at = MARGIN + text_width(words, 15, "Bold") + 8
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
            sheet.text(LEFT, y + 15 + LINE * row, line, size=SMALL, face=face)
        y += LINE * len(lines)
        _span_bar(sheet, span, ages, y + 3, paint)
        y += gap
    return top + height


def _span_lines(sheet: Sheet, span: PublishedSpan) -> tuple[str, ...]:
    room = sheet.width - MARGIN - LEFT
    first = wrapped(f"{span.label}, {ages_of(span)}", SMALL, room, "Bold")
    return (first[0], *first[1:], *wrapped(span.source_text, SMALL, room))


def _span_bar(sheet: Sheet, span: PublishedSpan, ages: Axis, y: float, paint: str) -> None:
    """The bar; an open arrow where the ages run on beyond the axis."""
    left, right = ages.at(span.low_day), ages.at(span.high_day)
    looks = {"fill": paint, "stroke": QUIET, "stroke_width": 1.0}
    if right - left >= 3:
        sheet.add("rect", x=left, y=y + 3, width=right - left, height=8, **looks)
    elif span.low_day <= ages.high:
        sheet.add("circle", cx=(left + right) / 2, cy=y + 7, r=4, fill=QUIET)
    if span.high_day > ages.high:
        tip = path("M", right + 5, y + 1, "l", 8, 6, "l", -8, 6)
        sheet.add("path", d=tip, fill="none", stroke=QUIET, stroke_width=2)


def _cost(sheet: Sheet, view: WindowView, top: float) -> float:
    """The published cost of waiting, in words."""
    words = "what waiting costs"
    sheet.text(MARGIN, top, words, size=15, face="Bold")
    at = MARGIN + text_width(words, 15, "Bold") + 8
    rest = "published, confounded, and not only the ventricle's doing"
    sheet.text(at, top, rest, size=SMALL, fill=QUIET)
    y = top + 24
    for line in view.cost_lines:
        sheet.add("circle", cx=LEFT - 12, cy=y - 5, r=2.4, fill=INK)
        for row in wrapped(line, 15, sheet.width - MARGIN - LEFT):
            sheet.text(LEFT, y, row, size=15)
            y += LINE + 2
        y += 3
    return y + 4
