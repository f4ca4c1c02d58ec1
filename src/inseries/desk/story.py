"""The story of one case, one picture at a time, for a room full of people.

It is drawn from this case's own answers; a step whose answer is not at hand says where to ask.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, TypeVar

from inseries.base.ages import age_words
from inseries.desk.figures import Figure, figures, renamed
from inseries.desk.outlook_records import OutlookFindings
from inseries.desk.repair_records import RepairFindings
from inseries.desk.story_ways import band_steps, routes_steps
from inseries.desk.switch_later import later_steps
from inseries.desk.switch_septostomy import septostomy
from inseries.desk.switch_story import SwitchStep, switch_steps

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.case import Case
    from inseries.desk.answer import Answer

Found = TypeVar("Found")


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One picture of the story.

    Parameters
    ----------
    title : what is seen
    asks : a question to put before the answer is told
    says : the answer, from this case
    basis : whether that is recorded, computed, or published of other children
    notes : for the speaker
    figure : the picture, or None where it has not been computed
    verb : the page that computes it
    moves : whether it moves on from the picture before
    settled : whether no picture will come
    """

    title: str
    asks: str
    says: str
    basis: str
    notes: tuple[str, ...]
    figure: Figure | None
    verb: str
    moves: bool = False
    settled: bool = False


COMPUTED = "Computed from this case's numbers."
SCALED = (
    "Computed from this case's sizes, drawn to scale; planning only, and nothing says that an "
    "operation is possible."
)
PUBLISHED = "Published of other babies; nothing here is computed."
AHEAD = (
    "Rings: computed from this case's sizes, middle of all draws, but for what is called published."
)
BESIDE = "Chance: computed from this case's numbers. Cost of waiting: published, other babies."


def story(record: Case, made: Mapping[str, Answer | None]) -> tuple[Step, ...]:
    """The steps of a story, from two loops to one ring and what may come after.

    Parameters
    ----------
    record : the case
    made : answers at hand, by verb

    Returns
    -------
    tuple of Step
    """
    told = [
        _loops(record, made),
        _mixing(record, made),
        _torn(record, made),
        _window(made),
        *_switch(record, made),
        _ring(made),
        *_later(made),
        *_ways(made),
    ]
    return tuple(_own_ids(step, place) for place, step in enumerate(told, start=1))


def _result(answer: Answer | None, kind: type[Found]) -> Found | None:
    made = answer.result if answer is not None else None
    return made if isinstance(made, kind) else None


def _switch(record: Case, made: Mapping[str, Answer | None]) -> tuple[Step, ...]:
    found = switch_steps(record, _result(made.get("repair"), RepairFindings))
    return tuple(
        _parts(each, "repair", SCALED, moves=place > 0) for place, each in enumerate(found)
    )


def _later(made: Mapping[str, Answer | None]) -> tuple[Step, ...]:
    found = later_steps(_result(made.get("outlook"), OutlookFindings))
    return tuple(_parts(each, "outlook", AHEAD) for each in found)


def _ways(made: Mapping[str, Answer | None]) -> tuple[Step, ...]:
    routes, band = made.get("routes"), made.get("band")
    ways, years = routes_steps(routes)
    return (
        _parts(_with(ways, routes), "routes", COMPUTED),
        _parts(years, "routes", PUBLISHED),
        *(_parts(_with(each, band), "band", COMPUTED) for each in band_steps(band)),
    )


def _with(each: SwitchStep, answer: Answer | None) -> SwitchStep:
    return replace(each, notes=(*each.notes, *_cautions(answer)))


def _parts(each: SwitchStep, verb: str, basis: str, *, moves: bool = False) -> Step:
    return Step(
        title=each.title,
        asks=each.asks,
        says=each.says,
        basis=basis,
        notes=each.notes,
        figure=each.figure,
        verb=verb,
        moves=moves,
        settled=each.settled,
    )


def _own_ids(step: Step, place: int) -> Step:
    if step.figure is None:
        return step
    return replace(step, figure=renamed(step.figure, f"step{place}"))


def _picture(answer: Answer | None, name: str) -> Figure | None:
    if answer is None:
        return None
    return next((f for f in figures(answer.result) if f.name == name), None)


def _lines(answer: Answer | None) -> tuple[str, ...]:
    return answer.result.shown().sentences if answer is not None and answer.result else ()


def _cautions(answer: Answer | None) -> tuple[str, ...]:
    return tuple(c.text for c in answer.cautions) if answer is not None else ()


def _loops(record: Case, made: Mapping[str, Answer | None]) -> Step:
    answer = made.get("now")
    return Step(
        title=f"Two loops, {age_words(record.age_days)}",
        asks="Blood that comes back from the body: where does it go next?",
        says="Each loop feeds itself. What comes back from the body goes to the body again.",
        basis=COMPUTED,
        notes=_lines(answer)[:3],
        figure=_picture(answer, "picture"),
        verb="now",
    )


def _mixing(record: Case, made: Mapping[str, Answer | None]) -> Step:
    answer = made.get("now")
    return Step(
        title="Only where they touch does oxygen cross",
        asks="Which opening carries this baby?",
        says=str(getattr(getattr(answer, "result", None), "why", "")),
        basis=COMPUTED,
        notes=tuple(
            f"{item.change}: {' '.join(item.harms)}"
            for item in getattr(getattr(answer, "result", None), "what_if", ())
        ),
        figure=_picture(answer, "picture"),
        verb="now",
    )


def _torn(record: Case, made: Mapping[str, Answer | None]) -> Step:
    answer = made.get("now")
    told = septostomy(record, getattr(answer, "result", None))
    return Step(
        title="Opening the septum",
        asks="What does a tear in the atrial septum change within the hour?",
        says=told.says,
        basis=told.basis,
        notes=told.notes,
        figure=told.figure,
        verb="now",
        settled=told.settled,
    )


def _window(made: Mapping[str, Answer | None]) -> Step:
    answer = made.get("window")
    return Step(
        title="How late would still be possible?",
        asks="For how long can this left ventricle still take over the body?",
        says=_with_its_cost(answer),
        basis=BESIDE,
        notes=(*_lines(answer), *_cautions(answer)),
        figure=_picture(answer, "picture"),
        verb="window",
    )


def _with_its_cost(answer: Answer | None) -> str:
    """The window in a sentence, an emergency before it, the published cost of waiting after it."""
    if answer is None:
        return ""
    pressing = getattr(getattr(answer.result, "urgency", None), "level", "")
    first = "This is an emergency now; that comes first. " if pressing == "emergency" else ""
    cost = next((row.text for row in getattr(answer.result, "cost_of_waiting", ())), "")
    # today's chances are said; the later ones are in the picture and in the notes
    today = str(getattr(answer.result, "what", "")).split(". ")[0]
    return f"{first}{today}. Published, other babies: {cost}"


def _ring(made: Mapping[str, Answer | None]) -> Step:
    answer = made.get("window")
    return Step(
        title="One ring",
        asks="What does the switch change?",
        says="The arteries are crossed: the left ventricle now works for the body.",
        basis=COMPUTED,
        notes=_cautions(answer)[:1],
        figure=_picture(answer, "picture_after"),
        verb="window",
    )
