"""The story of one case, one picture at a time, for a room full of people.

It is drawn from this case's own answers; a step whose answer is not at hand says where to ask.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from inseries.base.ages import age_words
from inseries.case import EventKind
from inseries.desk.figures import Figure, figures, renamed

if TYPE_CHECKING:
    from collections.abc import Mapping

    from inseries.case import Case
    from inseries.desk.answer import Answer


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One picture of the story.

    Parameters
    ----------
    title : what is seen
    asks : a question to put before the answer is told
    says : the answer, from this case
    notes : for the speaker
    figure : the picture, or None where it has not been computed
    verb : the page that computes it
    """

    title: str
    asks: str
    says: str
    notes: tuple[str, ...]
    figure: Figure | None
    verb: str


def story(record: Case, made: Mapping[str, Answer | None]) -> tuple[Step, ...]:
    """The steps of a story.

    Parameters
    ----------
    record : the case
    made : answers at hand, by verb

    Returns
    -------
    tuple of Step; each verb that has a page and no step of its own closes the story
    """
    told = [_loops(record, made), _mixing(record, made), _window(made), _ring(made)]
    rest = [_other(verb, answer) for verb, answer in made.items() if verb in OTHERS]
    steps = (*told, *(step for verb in OTHERS for step in rest if step.verb == verb))
    return tuple(_own_ids(step, place) for place, step in enumerate(steps, start=1))


OTHERS = {
    "repair": ("How the pieces fit", "Which way does each coronary button go?"),
    "outlook": ("What may come later", "What grows with the child, and what does not?"),
    "routes": ("The other ways", "And if the window has gone?"),
    "band": ("Training the ventricle", "How tight, and for how long?"),
}


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
        notes=_lines(answer)[:3],
        figure=_picture(answer, "picture"),
        verb="now",
    )


def _mixing(record: Case, made: Mapping[str, Answer | None]) -> Step:
    answer = made.get("now")
    done = record.event(EventKind.SEPTOSTOMY)
    past = f"A septostomy was done at {age_words(done.age_days)}. " if done else ""
    what = str(getattr(answer.result, "why", "")) if answer is not None else ""
    return Step(
        title="Only where they touch does oxygen cross",
        asks="Which opening carries this baby?",
        says=f"{past}{what}".strip(),
        notes=tuple(
            f"{item.change}: {' '.join(item.harms)}"
            for item in getattr(getattr(answer, "result", None), "what_if", ())
        ),
        figure=_picture(answer, "picture"),
        verb="now",
    )


def _window(made: Mapping[str, Answer | None]) -> Step:
    answer = made.get("window")
    return Step(
        title="How late would still be possible?",
        asks="For how long can this left ventricle still take over the body?",
        says=_with_its_cost(answer),
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
    return f"{first}{getattr(answer.result, 'what', '')} Published, other babies: {cost}"


def _ring(made: Mapping[str, Answer | None]) -> Step:
    answer = made.get("window")
    return Step(
        title="One ring",
        asks="What does the switch change?",
        says="The arteries are crossed: the left ventricle now works for the body.",
        notes=_cautions(answer)[:1],
        figure=_picture(answer, "picture_after"),
        verb="window",
    )


def _other(verb: str, answer: Answer | None) -> Step:
    title, asks = OTHERS[verb]
    lines = _lines(answer)
    drawn = figures(answer.result) if answer is not None else ()
    return Step(
        title=title,
        asks=asks,
        says=lines[1] if len(lines) > 1 else "",
        notes=(*lines[:1], *lines[2:], *_cautions(answer)),
        figure=drawn[0] if drawn else None,
        verb=verb,
    )
