"""The team brief as plain text, and the sense its parts must keep together."""

from __future__ import annotations

from typing import TYPE_CHECKING
from xml.etree import ElementTree

from inseries.base.errors import OutputError
from inseries.brief.headings import HEADINGS, LEVELS, STANDING
from inseries.brief.sense import PAGE_BREAK, clinical_sense
from inseries.brief.wording import Violation

if TYPE_CHECKING:
    from collections.abc import Iterator

    from inseries.brief.view import FurtherPage, Outside, PanelRow, Picture, TeamBrief, WindowPart


def brief_sense(view: TeamBrief) -> list[Violation]:
    """What the brief gets wrong, in its words and in what stands beside what; empty if nothing.

    Parameters
    ----------
    view : TeamBrief

    Returns
    -------
    list of Violation
    """
    return clinical_sense(brief_text(view)) + list(_company(view))


def brief_text(view: TeamBrief) -> str:
    """Every word of the brief in reading order, pictures included, pages parted by a form feed.

    Parameters
    ----------
    view : TeamBrief

    Returns
    -------
    str
    """
    pages = (_first_page(view), _second_page(view), *map(_further_page, view.further))
    return PAGE_BREAK.join("\n".join(line for line in page if line) for page in pages)


def _first_page(view: TeamBrief) -> Iterator[str]:
    yield LEVELS[view.urgency.level]
    yield from (view.urgency.hours, view.urgency.headline, *view.urgency.reasons)
    yield from (view.age, view.baby)
    for part in view.anatomy:
        yield f"{part.name}: {part.text} {part.certainty}"
    yield HEADINGS["loops"]
    yield f"{HEADINGS['upper']}: {view.loops.upper_saturation}"
    yield f"{HEADINGS['lower']}: {view.loops.lower_saturation}"
    yield from view.loops.sentences
    yield from _picture_words(view.loops.picture)
    yield from (_panel_line(row) for row in view.panel)
    for row in view.what_if:
        yield from (row.change, row.gain, row.harm)
    yield STANDING


def _second_page(view: TeamBrief) -> Iterator[str]:
    yield view.case_id  # on both pages' heads; here, so that an underscore is no engine word
    yield view.suitability.sentence
    for check in view.suitability.checks:
        yield f"{check.name}: {check.standing}: {check.why}"
    yield view.window_refused
    if view.window is not None:
        yield from _window_lines(view.window)
    for row in view.next_measurements:
        yield from (row.what, row.why)
    yield from (HEADINGS["unknown"], *view.unknown)
    yield from (HEADINGS["cautions"], *view.cautions)
    yield from view.sources
    yield from (view.run, STANDING)


def _further_page(page: FurtherPage) -> Iterator[str]:
    yield page.title
    yield from page.sentences
    yield from _picture_words(page.picture)
    for table in page.tables:
        yield table.title
        yield from (": ".join(row) for row in table.rows)
    yield from page.cautions


def _window_lines(window: WindowPart) -> Iterator[str]:
    yield HEADINGS["window"]
    yield from window.sentences
    yield from _picture_words(window.picture)
    yield from (f"{driver.name}: {driver.effect}" for driver in window.drivers)
    for move in window.moves:
        yield from (move.change, move.gain, move.harm)
    if window.cost_of_waiting:
        yield HEADINGS["cost"]
    yield from map(_outside_line, window.cost_of_waiting)
    yield from (f"{limit.name}: {limit.text}" for limit in window.other_limits)
    yield HEADINGS["series"]
    yield from map(_outside_line, (*window.rule, *window.published))


def _panel_line(row: PanelRow) -> str:
    threshold = f" Threshold: {row.threshold} {row.population}" if row.threshold else ""
    return f"{row.what}: {row.value}, {row.method}, {row.z} {row.z_note}.{threshold}"


def _outside_line(row: Outside) -> str:
    return f"{row.text} {row.population} {row.source}"


def _picture_words(picture: Picture) -> Iterator[str]:
    yield from (picture.alt, picture.caption)
    try:
        drawing = ElementTree.fromstring(picture.svg)
    except ElementTree.ParseError as error:
        raise OutputError(
            "A picture of the brief is not whole", code="picture_broken", where="brief"
        ) from error
    yield from (words.strip() for words in drawing.itertext())


def _company(view: TeamBrief) -> Iterator[Violation]:
    for wrong, rule, why in (*_first_rules(view), *_second_rules(view)):
        if wrong:
            yield Violation(rule=rule, found="", why=why)


def _first_rules(view: TeamBrief) -> Iterator[tuple[bool, str, str]]:
    pictures = (
        view.loops.picture,
        *((view.window.picture,) if view.window else ()),
        *(page.picture for page in view.further),
    )
    mute = not all(picture.alt.strip() for picture in pictures)
    yield mute, "picture_words", "Every picture has words for those who cannot see it"
    yield not view.urgency.reasons, "urgency", "The urgency gives its reasons"
    for row in view.panel:
        name = row.what
        lone = bool(row.threshold) and not row.population
        yield lone, "threshold_without_population", f"The threshold of {name} names its population"
        yield not row.z_note, "z", f"{name} names the reference of its Z, or why there is none"
        yield not row.method, "method", f"{name} names its method"
    for change in view.what_if:
        one_sided = not (change.gain and change.harm)
        yield one_sided, "harm_beside_gain", f"{change.change} gives gain and harm"


def _second_rules(view: TeamBrief) -> Iterator[tuple[bool, str, str]]:
    overstated = view.suitability.standing == "shown" and (
        not view.suitability.checks
        or any(check.standing != "shown" for check in view.suitability.checks)
    )
    yield overstated, "suitability", "A switch is shown to suit only when every check is shown"
    both = (view.window is None) != bool(view.window_refused)
    yield both, "window", "There is a window, or the reason why there is none, never both"
    if view.window is not None:
        yield not view.window.cost_of_waiting, "cost_missing", "The cost of waiting stands here"
        yield not view.window.other_limits, "limits_missing", "The other limits stand here"
        yield not view.window.published, "published_missing", "Published series stand here"
        for move in view.window.moves:
            one_sided = not (move.gain and move.harm)
            yield one_sided, "harm_beside_gain", f"{move.change} gives gain and harm"
    yield not view.unknown, "unknown", "The brief says what it does not know"
    yield not view.next_measurements, "next", "The brief names the next measurement worth making"
