"""The switch told step by step from a repair's answer: picture, question, answer, notes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from inseries.base.errors import InseriesError
from inseries.desk.figures import Figure
from inseries.desk.now import refuse_after_switch
from inseries.desk.repair_plan import plan_of
from inseries.desk.switch_picture import TITLES
from inseries.desk.switch_words import QUESTIONS, notes, says
from inseries.draw.switch_steps import spoken_step, switch_step_svg

if TYPE_CHECKING:
    from inseries.case import Case
    from inseries.desk.repair_records import RepairFindings

VERB = "repair"


@dataclass(frozen=True, slots=True, kw_only=True)
class SwitchStep:
    """One step of the switch.

    Parameters
    ----------
    title, asks, says : what is seen, a question before, the answer from this case
    notes : for the speaker
    figure : the picture, None where it has not been computed
    settled : whether no picture will come
    """

    title: str
    asks: str
    says: str
    notes: tuple[str, ...]
    figure: Figure | None
    settled: bool = False


def switch_steps(record: Case, result: RepairFindings | None) -> tuple[SwitchStep, ...]:
    """The steps of a switch; one that says where to ask where none can be planned.

    Parameters
    ----------
    record : the case
    result : what ``repair`` answered, None where it has not been asked
    """
    refused = _refused(record)
    if refused:
        return (_unplanned(refused),)
    return tuple(_step(place, result) for place in range(len(TITLES)))


def _step(place: int, result: RepairFindings | None) -> SwitchStep:
    return SwitchStep(
        title=TITLES[place],
        asks=QUESTIONS[place],
        says="" if result is None else says(place, result),
        notes=() if result is None else notes(place, result),
        figure=None if result is None else _figure(place, result),
    )


def _figure(place: int, result: RepairFindings) -> Figure:
    view = result.picture_steps
    return Figure(name="switch", svg=switch_step_svg(view, place), alt=spoken_step(view, place))


def _refused(record: Case) -> str:
    """Why no repair can be planned, and what helps; empty where one can."""
    try:
        refuse_after_switch(record, VERB)
        plan_of(record)
    except InseriesError as error:
        return f"{error.what[:1].upper()}{error.what[1:]}. {error.remedy}"
    return ""


def _unplanned(refused: str) -> SwitchStep:
    return SwitchStep(
        title="The switch, step by step",
        asks="What has to be known before a switch can be drawn?",
        says=f"For this baby it cannot be drawn. {refused}",
        notes=("The page repair says what it needs; nothing is drawn that is not known.",),
        figure=None,
        settled=True,
    )
