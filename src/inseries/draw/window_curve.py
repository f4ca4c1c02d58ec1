"""The window: simulated chance per age at switch, with all it must never appear without.

The curve stands above; beneath it, on the same axis of age, what was seen in this baby and the
ages of published series of other babies; then the published cost of waiting. Line, hatch and words
tell the two tiers apart, colour only helps. Thin named lines are the growth laws by themselves.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.base.errors import OutputError
from inseries.draw.axes import Axis, age_ticks, apart
from inseries.draw.grips import along, axis_grip, told_grip
from inseries.draw.lettering import text_width, wrapped
from inseries.draw.svg import INK, QUIET, RULE, Sheet, path, through
from inseries.draw.window_beneath import ages_of, cost, marks_in_lanes, marks_in_one_row, published
from inseries.draw.window_frame import COMPACT, LINE, SMALL, WIDE, Frame
from inseries.draw.window_laws import law_lines

if TYPE_CHECKING:
    from inseries.draw.views import Tier, WindowView

NAME_ROOM = 56.0  # chosen: least distance between the two direct labels
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
    compact : for a page that itself carries the title and the cost of waiting: larger letters,
        less height

    Returns
    -------
    str, one SVG file, meant for 170 mm on paper, 122 mm when compact; no letter is smaller than
    6.5 points at that width

    Raises
    ------
    OutputError, if the cost of waiting is missing, lengths differ or a number is not finite
    """
    check_window(view)
    frame = COMPACT if compact else WIDE
    sheet = Sheet(view.figure_id, frame.width)
    top = frame.margin + 26 if compact else _heading(sheet, frame, view)
    last = max(view.horizon_day, view.days[-1], 1.0)
    ages = Axis(low=0, high=last, start=frame.left, end=frame.right)
    chances = Axis(low=0, high=1, start=top + frame.plot, end=top)
    _curves(sheet, frame, view, ages, chances)
    _grips(sheet, view, ages, chances)
    y = _limiting(sheet, frame, view, top + frame.plot + 62)
    y = _beneath(sheet, frame, view, ages, y)
    sheet.underlay("rect", x=0, y=0, width=frame.width, height=y, fill="#ffffff")
    return sheet.finish(y, view.title, spoken(view))


def _grips(sheet: Sheet, view: WindowView, ages: Axis, chances: Axis) -> None:
    """The axis of age and, for each day, what each tier says."""
    first, last = view.days[0], view.days[-1]
    field = (chances.end, chances.start)
    axis_grip(sheet, "age", along(ages, first, last), field, unit="d", value=first)
    for tier in view.tiers:
        rows = zip(view.days, tier.chance, tier.low, tier.high, strict=True)
        told = [(day, chances.at(c), with_interval(c, low, high)) for day, c, low, high in rows]
        told_grip(sheet, "age", tier.name, told, colour=LOOKS[tier.name].colour)


def with_interval(chance: float, low: float, high: float) -> str:
    """A chance in words with its interval, no finer than five points."""
    ends = [ROUND_TO_PCT * round(100 * each / ROUND_TO_PCT) for each in (low, high)]
    said = in_fives(chance)
    return said if ends[0] == ends[1] else f"{said} ({ends[0]} to {ends[1]} %)"


def _limiting(sheet: Sheet, frame: Frame, view: WindowView, top: float) -> float:
    """By what a switch would fail on which days; gives where the line ends."""
    if not view.limiting:
        return top
    sheet.text(frame.left, top, runs_of(view), size=SMALL, fill=QUIET)
    return top + 10


def runs_of(view: WindowView) -> str:
    """The reason to fail by runs of days, such as ``to day 20 output, then pressure``."""
    ends = [
        place
        for place, reason in enumerate(view.limiting)
        if place + 1 == len(view.limiting) or view.limiting[place + 1] != reason
    ]
    if len(ends) == 1:
        return f"where a switch fails, on every day mostly by {view.limiting[0]}"
    told = [f"to day {view.days[place]:.0f} {view.limiting[place]}" for place in ends[:-1]]
    return f"where a switch fails, mostly by: {', '.join(told)}, then {view.limiting[-1]}"


def _beneath(sheet: Sheet, frame: Frame, view: WindowView, ages: Axis, top: float) -> float:
    """All below the curve; gives where the picture ends."""
    if frame is COMPACT:
        y = marks_in_one_row(sheet, frame, view, ages, top)
        return published(sheet, frame, view, ages, y + 8)
    y = marks_in_lanes(sheet, frame, view, ages, top)
    y = published(sheet, frame, view, ages, y + 8)
    return cost(sheet, frame, view, y + 30)


def _curves(sheet: Sheet, frame: Frame, view: WindowView, ages: Axis, chances: Axis) -> None:
    """The field of the curve: what it is, its grid, bands, lines and names."""
    y = chances.end - 18
    sheet.text(frame.margin, y, frame.what, size=15, face="Bold")
    at = frame.margin + text_width(frame.what, 15, "Bold") + 8
    sheet.text(at, y, frame.how, size=15, fill=QUIET)
    _grid(sheet, view, ages, chances)
    for tier in reversed(view.tiers):
        _band(sheet, view, tier, ages, chances)
    for tier in view.tiers:
        _line(sheet, view, tier, ages, chances)
    law_lines(sheet, view, ages, chances)
    _names(sheet, frame, view, ages, chances)


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
    lengths |= {len(law.chance) for law in view.laws}
    lengths |= {len(view.limiting)} - {0}
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
    laws = " ".join(
        f"Under the {law.name} alone, survivable: {in_fives(law.chance[0])} at first, "
        f"{in_fives(law.chance[-1])} at last."
        for law in view.laws
    )
    published = " ".join(f"{span.label}, {ages_of(span)}." for span in view.published)
    waiting = " ".join(view.cost_lines)
    why = f"{runs_of(view).capitalize()}." if view.limiting else ""
    return (
        f"{view.sentence} Simulated chance, {tiers} {laws} {why} Published: {published} {waiting}"
    )


def _heading(sheet: Sheet, frame: Frame, view: WindowView) -> float:
    """Title and sentence; gives where the curve's field begins."""
    lines = wrapped(view.sentence, 16, frame.width - 2 * frame.margin)
    sheet.text(frame.margin, 40, view.title, size=22, face="Bold")
    for row, line in enumerate(lines):
        sheet.text(frame.margin, 66 + 21 * row, line, size=16, fill=QUIET)
    return 62.0 + 21 * len(lines) + 46


def _grid(sheet: Sheet, view: WindowView, ages: Axis, chances: Axis) -> None:
    bottom = chances.start
    for pct in range(0, 101, ROUND_TO_PCT):
        y = chances.at(pct / 100)
        major = pct % 20 == 0
        if major:
            sheet.add("line", x1=ages.start, y1=y, x2=ages.end, y2=y, stroke=RULE, stroke_width=0.8)
            sheet.text(ages.start - 12, y + 5, f"{pct} %", size=SMALL, fill=QUIET, anchor="end")
        reach = 8 if major else 4
        sheet.add(
            "line", x1=ages.start - reach, y1=y, x2=ages.start, y2=y, stroke=QUIET, stroke_width=0.8
        )
    sheet.add(
        "line", x1=ages.start, y1=bottom, x2=ages.end, y2=bottom, stroke=INK, stroke_width=1.4
    )
    for day in age_ticks(ages.high):
        x = ages.at(day)
        sheet.add("line", x1=x, y1=bottom, x2=x, y2=bottom + 6, stroke=INK, stroke_width=1.2)
        sheet.text(x, bottom + 21, f"{day}", size=SMALL, anchor="middle")
    x = ages.at(view.horizon_day)
    sheet.add("line", x1=x, y1=chances.end, x2=x, y2=bottom, stroke=INK, stroke_dasharray="1 4")
    words = f"age at switch (days); computed up to day {view.horizon_day:.0f}"
    sheet.text(ages.start, bottom + 42, words, size=15, face="Bold")


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


def _names(sheet: Sheet, frame: Frame, view: WindowView, ages: Axis, chances: Axis) -> None:
    """The name of each tier at the end of its line."""
    tiers = sorted(view.tiers, key=lambda tier: -tier.chance[-1])
    wanted = [chances.at(tier.chance[-1]) for tier in tiers]
    room = [NAME_ROOM + LINE * len(_meaning(frame, tier)) for tier in tiers]
    lowest = chances.start - 6 - frame.lowest_name
    places = apart(wanted, room[0] if room else 0.0, chances.end + 8, lowest)
    for tier, y_line, y in zip(tiers, wanted, places, strict=True):
        x, colour = ages.at(view.days[-1]), LOOKS[tier.name].colour
        bend = path("M", x + 5, y_line, "L", ages.end + 14, y, "L", ages.end + 22, y)
        sheet.add("path", d=bend, fill="none", stroke=colour, stroke_width=1)
        at = ages.end + 28
        sheet.text(at, y + 6, tier.name, size=17, face="Bold", fill=colour)
        words = f"{in_fives(tier.chance[-1])} on day {view.days[-1]:.0f}"
        sheet.text(at, y + 6 + LINE, words, size=SMALL)
        for row, line in enumerate(_meaning(frame, tier)):
            sheet.text(at, y + 6 + LINE * (2 + row), line, size=SMALL, fill=QUIET)


def _meaning(frame: Frame, tier: Tier) -> tuple[str, ...]:
    room = frame.width - frame.margin - frame.right - 28
    return wrapped(tier.meaning, SMALL, room)[:3] if tier.meaning else ()
