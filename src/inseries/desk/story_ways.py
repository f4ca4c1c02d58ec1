"""The last steps of a story: the other ways, what was published of each, and the band."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from inseries.desk.band_result import BandResult
from inseries.desk.figures import Figure
from inseries.desk.routes_told import RoutesResult
from inseries.desk.switch_story import SwitchStep
from inseries.draw.band_course import band_svg
from inseries.draw.band_course import spoken as spoken_band
from inseries.draw.routes_room import published_room_svg, routes_room_svg
from inseries.draw.routes_view import spoken

if TYPE_CHECKING:
    from inseries.desk.answer import Answer

# The pressure of the ventricle and what it builds of it; every other course is on the page itself.
KEPT = ("LV over RV pressure", "LV mass over the band's hour")
WAYS = ("The other ways", "And if the window has gone?")
YEARS = ("What each way has led to", "How do others live, years after each operation?")
BAND = ("Training the ventricle", "How tight, and for how long?")
EACH_ITS_OWN = (
    "Other babies and other eras, each series with children of its own: they are not compared with "
    "one another, nor with what is computed for this baby."
)


def routes_steps(answer: Answer | None) -> tuple[SwitchStep, ...]:
    """Five ways beside one another, then published years.

    Parameters
    ----------
    answer : of ``routes``, None where it has not been asked
    """
    result = answer.result if answer is not None else None
    if not isinstance(result, RoutesResult):
        return _bare(WAYS), _bare(YEARS)
    view = result.picture
    ways = Figure(name="ways", svg=routes_room_svg(view), alt=spoken(view))
    years = Figure(name="years", svg=published_room_svg(view), alt=spoken(view))
    harms = tuple(f"{each.name}: {' '.join(each.harms)}" for each in result.routes if each.harms)
    return (
        replace(
            _bare(WAYS),
            says=f"{result.what} None is recommended.",
            notes=(result.why, result.how_sure, *harms),
            figure=ways,
        ),
        replace(_bare(YEARS), says=EACH_ITS_OWN, figure=years),
    )


def band_steps(answer: Answer | None) -> tuple[SwitchStep, ...]:
    """The band with two of its courses and readiness.

    Parameters
    ----------
    answer : of ``band``, None where it has not been asked
    """
    result = answer.result if answer is not None else None
    if not isinstance(result, BandResult):
        return (_bare(BAND),)
    view = result.picture
    few = replace(view, lines=tuple(line for line in view.lines if line.name in KEPT))
    return (
        replace(
            _bare(BAND),
            says=result.sentences[0],
            notes=(*result.sentences[1:], *result.harms),
            figure=Figure(name="band", svg=band_svg(few), alt=spoken_band(few)),
        ),
    )


def _bare(words: tuple[str, str]) -> SwitchStep:
    return SwitchStep(title=words[0], asks=words[1], says="", notes=(), figure=None)
